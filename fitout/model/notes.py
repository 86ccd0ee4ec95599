"""The tape notes of a survey, as the builder writes them.

Entries of the bay (widths, heights, depths) are notes themselves: each says directly what
one number is. The notes here say more: the same again, diagonals, offsets, angles. What
they say together is adjusted in `fitout.survey`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fitout.model.spec import Coordinate, Length, Measured, MeasuredAngle, PositiveLength, entry

TapeClass = Literal["I", "II", "III"]
Surface = Literal["hard", "soft"]


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteSpec:
    """One thing measured: between two points, across, up, forward, off a string, an angle."""

    name: str | None = entry(
        "what you call it; made from what it measures unless said", default=None
    )
    between: tuple[str, str] | None = entry(
        "a distance between two named points, straight",
        default=None,
        example="[left sill corner, right front corner]",
    )
    across: tuple[Coordinate, Length] | None = entry(
        "a width between the walls: [forward of the sill, height]",
        default=None,
        example="[300, 240]",
    )
    up: Coordinate | None = entry(
        "the height from floor to roof, so far forward of the sill", default=None
    )
    forward: Length | None = entry(
        "the depth from the sill's line to the seat back or front wall, at this height",
        default=None,
    )
    string: tuple[str, str] | None = entry(
        "a string or straightedge between two named points; `offset_to` says to what", default=None
    )
    offset_to: str | None = entry("the named point measured square off the string", default=None)
    angle: Literal["seat_back", "floor"] | None = entry(
        "a digital level held to the seat back or laid fore and aft on the floor", default=None
    )
    reads: Measured | None = entry("what the tape read, touching the surface", default=None)
    pressed: Measured | None = entry(
        "what it read with a soft lining pressed down at both ends", default=None
    )
    again: tuple[Measured, ...] = entry("further readings of the same", default=())
    degrees: MeasuredAngle | None = entry(
        "what the level read, leaning rearward positive", default=None
    )
    tape: TapeClass | None = entry("the tape's accuracy class, if another than usual", default=None)
    hooked: bool | None = entry(
        "whether the tape's hook was used, if other than usual", default=None
    )
    surface: Surface | None = entry("hard panel or soft lining, if other than usual", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class SurveySpec:
    """How the bay was measured, and what was measured besides its entries."""

    tape: TapeClass = entry("the tape's accuracy class (printed on it)", default="II")
    hooked: bool = entry("whether its hook was held to an edge", default=True)
    surface: Surface = entry(
        "what the tape usually touched: hard panel or soft lining", default="hard"
    )
    lining: PositiveLength | None = entry(
        "about how far a soft lining gives when pressed", default=None
    )
    notes: tuple[NoteSpec, ...] = entry("what was measured besides", default=())
