"""The tape notes of a survey, as the builder writes them.

Entries of the bay (widths, heights, depths) are notes themselves: each says directly what
one number is. The notes here say more: the same again, diagonals, offsets, angles. What
they say together is adjusted in `fitout.survey`.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from fitout.model.spec import Coordinate, Length, Measured, MeasuredAngle, PositiveLength, entry

TapeClass = Literal["I", "II", "III"]
Surface = Literal["hard", "soft"]


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteSpec:
    """One thing measured: between two points, across, up, forward, off a string, an angle."""

    name: str | None = entry(
        "what you call it",
        default=None,
        example="sill diagonal",
        otherwise="made from what it measures",
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
        "the height from floor to roof, so far forward of the sill", default=None, example="560"
    )
    forward: Length | None = entry(
        "the depth from the sill's line to the seat back or front wall, at this height",
        default=None,
        example="300",
    )
    string: tuple[str, str] | None = entry(
        "a string or straightedge between two named points; `offset_to` says to what",
        default=None,
        example="[left sill corner, left front corner]",
    )
    offset_to: str | None = entry(
        "the named point measured square off the string",
        default=None,
        example="left arch rear foot",
    )
    angle: Literal["seat_back", "floor"] | None = entry(
        "a digital level held to the seat back or laid fore and aft on the floor", default=None
    )
    reads: Measured | None = entry(
        "what the tape read, touching the surface", default=None, example="1438 ± 2"
    )
    pressed: Measured | None = entry(
        "what it read with a soft lining pressed down at both ends",
        default=None,
        example="1446 ± 2",
    )
    again: tuple[Measured, ...] = entry(
        "further readings of the same", default=(), example="[1437, 1439]"
    )
    degrees: MeasuredAngle | None = entry(
        "what the level read, leaning rearward positive", default=None, example="17 deg ± 0.3 deg"
    )
    tape: TapeClass | None = entry(
        "the tape's accuracy class", default=None, otherwise="as for the whole survey"
    )
    hooked: bool | None = entry(
        "whether the tape's hook was used", default=None, otherwise="as for the whole survey"
    )
    surface: Surface | None = entry(
        "hard panel or soft lining", default=None, otherwise="as for the whole survey"
    )
    on: date | None = entry(
        "when it was measured",
        default=None,
        example="2026-11-25",
        otherwise="as for the whole survey, unless it supersedes",
    )
    by: str | None = entry(
        "who measured it",
        default=None,
        example="Ana",
        otherwise="as for the whole survey, unless it supersedes",
    )
    supersedes: bool | str | None = entry(
        "takes the place of what was read before of the same: yes; or the name `fitout survey` "
        "gives that, which then also says what was measured. What it supersedes stays in the file "
        "and is listed, but counts no more",
        default=None,
        example="height of the wheel arches",
        otherwise="it counts beside them",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class SurveySpec:
    """How the bay was measured, and what was measured besides its entries."""

    tape: TapeClass = entry("the tape's accuracy class (printed on it)", default="II")
    hooked: bool = entry("whether its hook was held to an edge", default=True)
    surface: Surface = entry(
        "what the tape usually touched: hard panel or soft lining", default="hard"
    )
    on: date | None = entry(
        "when the bay's entries and notes were measured", default=None, example="2026-11-02"
    )
    by: str | None = entry("who measured them", default=None, example="Ben")
    lining: PositiveLength | None = entry(
        "about how far a soft lining gives when pressed", default=None, example="6"
    )
    notes: tuple[NoteSpec, ...] = entry(
        "what was measured besides",
        default=(),
        example="[{between: [left sill corner, right front corner], reads: 1438 ± 2}]",
    )
