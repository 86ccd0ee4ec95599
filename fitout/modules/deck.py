"""The deck: one level over drawers, bins and what stands lower, closed by infill pieces.

    seen from above (rear at the bottom)

      +----------+---------------+--------+   barrier, seat back or front wall
      | bin      |  front piece  | bin    |
      | left     +-------+-------+ right  |
      |          |drawers| strip |        |   strip: lifts off over a fridge or box that
      |          |  top  |       |        |   stays below the deck
      +----------+-------+-------+--------+   rear

Modules whose top is the deck bring their own surface. What is left between them, and from
them to the walls, is covered by pieces scribed to the wall and carried on cleats that are
screwed to the neighbours' sides through holes of their own. A piece too large to bear a
knee between its cleats gets bearers; see `deck_bearers`. A piece that nothing can carry is
not made, and the module says so.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar, Literal

from fitout.model.design import ModuleSpec
from fitout.model.module import Berth, Module, Remark
from fitout.model.spec import PositiveLength, entry
from fitout.modules.deck_piece import CLEAT_HEIGHT, Hollow, add_piece
from fitout.modules.joinery import Draft
from fitout.modules.kind import Kind, Needs, Setting
from fitout.modules.neighbours import TOUCH
from fitout.survey.room import front_face, half_width

NOTHING_BELOW = (
    "The deck has no surface: there is no module whose top is the deck. Drawers, a side bin or "
    "a box without a height of their own reach up to it and carry its pieces."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class DeckSpec(ModuleSpec):
    """One level over everything, closed up to the walls."""

    kind: ClassVar[str] = "deck"

    level: PositiveLength | Literal["fit"] = entry(
        "height of its surface; fit: as low as what is under it allows", default="fit"
    )


def needs(spec: DeckSpec, setting: Setting) -> Needs | None:
    """The deck takes no berth: it goes over the others'."""
    del spec, setting
    return None


def build(name: str, spec: DeckSpec, berth: Berth | None, setting: Setting) -> Module:
    """Pieces and cleats for every hollow between the modules whose top is the deck."""
    del spec, berth
    deck = setting.deck
    assert deck is not None
    draft = Draft(name, DeckSpec.kind, setting)
    remarks: list[Remark] = []
    for number, hollow in enumerate(hollows(setting), start=1):
        remarks += add_piece(draft, hollow, number)
    covered = list(_covers(setting))
    if not covered:
        remarks.append(Remark("open deck", NOTHING_BELOW))
    whole = Berth(
        x0=min((c.x0 for c in covered), default=0.0),
        x1=_front(setting, deck),
        y0=-half_width(setting.bay, "right", (0.0, setting.bay.front), (deck, deck)),
        y1=half_width(setting.bay, "left", (0.0, setting.bay.front), (deck, deck)),
        z0=deck - draft.board("deck").thickness - CLEAT_HEIGHT,
        z1=deck,
    )
    return draft.finish(whole, remarks)


def hollows(setting: Setting) -> list[Hollow]:
    """The rectangles of the deck no module covers, the rear ones first."""
    covered = list(_covers(setting))
    if not covered:
        return []
    deck = setting.deck or 0.0
    rear = min(c.x0 for c in covered)
    front = _front(setting, deck)
    stations = sorted({rear, front, *(x for c in covered for x in (c.x0, c.x1) if x < front)})
    found: list[Hollow] = []
    for x0, x1 in itertools.pairwise(stations):
        over = sorted((c.y0, c.y1) for c in covered if c.x0 < x1 - TOUCH and c.x1 > x0 + TOUCH)
        for y0, y1 in _between(over):
            merged = next((h for h in found if (h.y0, h.y1, h.x1) == (y0, y1, x0)), None)
            if merged is not None:
                found.remove(merged)
                found.append(Hollow(merged.x0, x1, y0, y1))
            else:
                found.append(Hollow(x0, x1, y0, y1))
    return found


def _covers(setting: Setting) -> Iterator[Berth]:
    """What the modules whose top is the deck cover; a bin reaches right to its wall."""
    for name, berth in setting.berths.items():
        if abs(berth.z1 - (setting.deck or 0.0)) > TOUCH:
            continue
        y0, y1 = berth.y0, berth.y1
        if setting.specs[name].kind == "side bin":
            y0, y1 = (y0, math.inf) if y0 > 0.0 else (-math.inf, y1)
        yield Berth(x0=berth.x0, x1=berth.x1, y0=y0, y1=y1, z0=berth.z0, z1=berth.z1)


def _front(setting: Setting, deck: float) -> float:
    """How far forward the deck reaches: to the barrier, else to the seat back or wall."""
    barriers = [
        berth.x0 for n, berth in setting.berths.items() if setting.specs[n].kind == "barrier"
    ]
    if barriers:
        return min(barriers)
    thickness = setting.boards["deck"].thickness
    clear = setting.rules.seat if setting.bay.front_kind == "seat_back" else setting.rules.wall
    return front_face(setting.bay, deck - thickness, deck, clear=clear)


def _between(over: list[tuple[float, float]]) -> Iterator[tuple[float | None, float | None]]:
    """The gaps across, from wall to wall, between the covered stretches."""
    edges: list[float | None] = [None]
    for y0, y1 in over:
        last = edges.pop()
        reaches = math.isinf(y0) if last is None else y0 - last <= TOUCH
        if not reaches:
            yield last, y0
        edges.append(y1 if last is None else max(last, y1))
    last = edges.pop()
    if last is None or not math.isinf(last):
        yield last, None


KIND = Kind(kind=DeckSpec.kind, spec=DeckSpec, needs=needs, build=build)
