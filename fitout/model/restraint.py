"""What holds the fit-out to the vehicle, as entered: anchor points, bolts, floor, which cases."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from fitout.model.spec import (
    Coordinate,
    Length,
    Mass,
    PositiveLength,
    Quantity,
    Unit,
    entry,
)

PositiveForce = Annotated[float, Quantity(Unit.FORCE, above=0.0)]
PositiveStress = Annotated[float, Quantity(Unit.STRESS, above=0.0)]
BoltGrade = Literal["4.8", "8.8", "10.9", "A2-70", "A4-70", "A2-80", "A4-80"]
HeldBy = Literal["nut", "captive nut", "rivet nut"]
CaseSet = Literal["road transport guide", "by mass class"]

SHEET_MPA = 270.0
"""Least tensile strength of the mildest drawing steels that bodies are pressed from, DC01 to
DC04: EN 10130 (from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoltSpec:
    """A bolt to the vehicle and what it is screwed into."""

    grade: BoltGrade | None = entry(
        "the property class marked on its head", default=None, otherwise="8.8", example="10.9"
    )
    washer: PositiveLength | None = entry(
        "diameter of the washer under its head, or the side of a square one; of a countersunk "
        "bolt, the side of a steel plate let in under it",
        default=None,
        example="40",
        otherwise="the large washer of its thread",
    )
    into: HeldBy | None = entry(
        "what it is screwed into", default=None, example="captive nut", otherwise="nut"
    )
    tested: PositiveForce | None = entry(
        "what such a captive or rivet nut in such a floor was tested to hold before it gave way",
        default=None,
        example="4.2 kN",
        otherwise="not known",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorSpec:
    """The vehicle's floor where a bolt goes through."""

    sheet: PositiveLength | None = entry(
        "thickness of the steel sheet", default=None, example="0.8", otherwise="not known"
    )
    strength: PositiveStress = entry("tensile strength of the steel", default=SHEET_MPA)
    plate: PositiveLength | None = entry(
        "side of a steel plate under the floor, beneath the nut",
        default=None,
        example="60",
        otherwise="a washer as large as the one under the head",
    )
    plate_thickness: PositiveLength = entry("how thick that plate is", default=3.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class AnchorSpec:
    """A point of the vehicle's floor that a bolt may use.

    Modules that are bolted down use the points beneath them; `check` says where one is missing.
    """

    name: str = entry("what you call it", example="front left eye")
    at: tuple[Coordinate, Coordinate] = entry(
        "[forward of the sill, left of the centre line]; right is negative", example="[980, 410]"
    )
    height: Length = entry("above the floor", default=0.0)
    thread: str = entry("its thread", default="M8")
    below: str = entry(
        "what lies beneath: clear, or fuel tank, brake line, wiring, ...; leave out if unknown",
        default="unknown",
    )
    rating: Mass | None = entry(
        "what the vehicle maker allows on it", default=None, example="400 kg", otherwise="not known"
    )
    bolt: BoltSpec | None = entry(
        "its bolt",
        default=None,
        example="{grade: 10.9, washer: 40}",
        otherwise="as under `restraint: bolt:`",
    )
    floor: FloorSpec | None = entry(
        "the floor there",
        default=None,
        example="{sheet: 0.8, plate: 60}",
        otherwise="as under `restraint: floor:`",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class RestraintSpec:
    """What the fit-out must hold against, and how it is held unless an anchor says otherwise."""

    set: CaseSet = entry(
        "the everyday cases: braking, starting, cornering", default="road transport guide"
    )
    crash: bool = entry(
        "whether to reckon a crash too: 20 g forward, 10 g rearward, sideways and up; our own "
        "prudent proposal, no approval",
        default=True,
    )
    loose: Mass = entry(
        "the heaviest single thing that may fly against the barrier in a crash", default=60.0
    )
    bolt: BoltSpec = entry(
        "bolts at all points", default=BoltSpec(), example="{washer: 40}", otherwise="class 8.8"
    )
    floor: FloorSpec = entry(
        "the vehicle's floor at all points",
        default=FloorSpec(),
        example="{sheet: 0.8, plate: 60}",
        otherwise="not known",
    )
