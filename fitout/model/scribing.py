"""What is left on a part's edges to be scribed to the vehicle."""

from __future__ import annotations

from dataclasses import dataclass

from fitout.model.outline import Loop, Point


@dataclass(frozen=True, slots=True)
class Scribe:
    """Edges of a part that follow the vehicle, and what is left on them, mm.

    `edges` are straight edges of the finished outer outline, each from its start to its end;
    `finished` is that outline, before strips are glued to other edges. The part is cut larger
    by `allowance` on those edges alone.
    """

    finished: Loop
    edges: tuple[tuple[Point, Point], ...]
    allowance: float
