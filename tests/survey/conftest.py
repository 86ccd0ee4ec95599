"""Bays for the survey's tests, written as a builder's entries."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.model.design import (
    ArchSpec,
    BaySpec,
    OpeningSpec,
    SeatBackSpec,
    SectionSpec,
    Sides,
)
from fitout.model.spec import Measured
from fitout.model.tailgate import TailgateSpec

MakeBay = Callable[..., BaySpec]


def tape(value: float, tolerance: float | None = None) -> Measured:
    return Measured(value, tolerance)


def section(at: float, widths: dict[float, Any], roof: float = 850.0) -> SectionSpec:
    """A section; a pair of numbers is the distance to the left and to the right wall."""
    return SectionSpec(
        at=tape(at),
        widths={
            z: Sides(left=tape(w[0]), right=tape(w[1])) if isinstance(w, tuple) else tape(w)
            for z, w in widths.items()
        },
        roof=tape(roof),
    )


@pytest.fixture
def plain_bay() -> MakeBay:
    """A box 1200 wide, 850 high, a wall ahead at 1000; any entry may be replaced."""

    def make(**entries: Any) -> BaySpec:
        usual: dict[str, Any] = {"sections": (section(0.0, {0.0: 1200.0}),)}
        if "seat_back" not in entries:
            usual["front_wall"] = tape(1000.0)
        return BaySpec(**{**usual, **entries})

    return make


@pytest.fixture
def sections() -> Callable[..., tuple[SectionSpec, ...]]:
    """Sections from (at, widths) or (at, widths, roof)."""
    return lambda *rows: tuple(section(*row) for row in rows)


@pytest.fixture
def arches() -> Callable[..., ArchSpec]:
    """Box-shaped arches from 300 to 800, 1000 apart and 260 high."""

    def make(**entries: Any) -> ArchSpec:
        usual = {"between": tape(1000.0), "start": tape(300.0), "end": tape(800.0)}
        return ArchSpec(**{**usual, "height": tape(260.0), **entries})

    return make


@pytest.fixture
def seat() -> Callable[..., SeatBackSpec]:
    """A seat back whose foot is at 1000, 600 high when it leans 15 degrees."""

    def make(**entries: Any) -> SeatBackSpec:
        usual: dict[str, Any] = {"foot": tape(1000.0), "leans": tape(15.0), "top": tape(600.0)}
        return SeatBackSpec(**{**usual, **entries})

    return make


@pytest.fixture
def tailgate() -> Callable[[dict[float, float]], TailgateSpec]:
    """A tailgate from its inner face: height, distance from the sill."""
    return lambda face: TailgateSpec(inner_face={z: tape(x) for z, x in face.items()})


@pytest.fixture
def opening() -> Callable[..., OpeningSpec]:
    """An opening from lip, upper edge and widths."""

    def make(lip: float, height: float, widths: dict[float, Any]) -> OpeningSpec:
        rows = section(0.0, widths).widths
        return OpeningSpec(lip=tape(lip), height=tape(height), widths=rows)

    return make


@pytest.fixture
def tour_bay(
    sections: Callable[..., Any], arches: Callable[..., Any], opening: Callable[..., Any]
) -> BaySpec:
    """A whole bay: sides that differ, arches, a seat back, tailgate, opening, tolerances."""
    return BaySpec(
        sections=(
            section(0.0, {0.0: (620.0, 610.0), 240.0: (634.0, 620.0), 620.0: (596.0, 590.0)}),
            section(560.0, {0.0: 1260.0, 300.0: 1280.0, 620.0: 1210.0}, 861.0),
            section(1140.0, {0.0: 1264.0, 620.0: (600.0, 614.0)}, 868.0),
        ),
        wheel_arches=ArchSpec(
            between=Sides(left=tape(500.0, 2.0), right=tape(510.0)),
            start=tape(318.0),
            end=tape(842.0),
            height=tape(262.0),
        ),
        seat_back=SeatBackSpec(
            foot=tape(1164.0, 3.0),
            leans=tape(17.0, 0.5),
            notches=(14.0, 17.0, 21.0),
            top=tape(612.0),
        ),
        tailgate=TailgateSpec(inner_face={0.0: tape(0.0), 450.0: tape(30.0), 800.0: tape(165.0)}),
        opening=opening(28.0, 772.0, {0.0: 1104.0, 400.0: (560.0, 578.0), 772.0: 1018.0}),
    )
