"""Faults of a design file: all found are reported at once, each with its place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

Path = tuple[str | int, ...]
"""Keys and list positions from the top of the design file, e.g. ("bay", "sections", 1)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing wrong in a design: where (key path), what was found, what was expected.

    `hint` is a further sentence (the nearest valid name, the cure). A caution does not stop
    the design from being read. `file` is the file it stands in where that is not the design
    itself, `source_line` the line there.
    """

    path: Path
    found: str
    expected: str
    hint: str = ""
    caution: bool = False
    line: int | None = None
    column: int | None = None
    file: str = ""
    source_line: str = ""


class DesignError(Exception):
    """The design can't be used as written; carries every fault found."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__(f"{len(self.faults)} fault(s) in the design")
