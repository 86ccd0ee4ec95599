"""Usual bays of three kinds of body: what there is to measure before anything was measured.

The numbers are guesses of the right size; only where to measure is meant by them: the last
section stands where a seat back leaves room for the tape at every height.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from fitout.model.design import (
    ArchSpec,
    BaySpec,
    OpeningSpec,
    SeatBackSpec,
    SectionSpec,
)
from fitout.model.spec import Measured
from fitout.model.tailgate import TailgateSpec


def _about(value: float) -> Measured:
    return Measured(value, about=True)


def _section(at: float, widths: Mapping[float, float], roof: float) -> SectionSpec:
    return SectionSpec(at=_about(at), widths=_all_about(widths), roof=_about(roof))


def _all_about(lengths: Mapping[float, float]) -> dict[float, Measured]:
    return {height: _about(length) for height, length in lengths.items()}


def _arches(start: float, end: float, between: float, height: float) -> ArchSpec:
    return ArchSpec(
        between=_about(between), start=_about(start), end=_about(end), height=_about(height)
    )


WAGON = BaySpec(
    sections=(
        _section(0.0, {0.0: 1380.0, 240.0: 1400.0, 700.0: 1320.0}, 950.0),
        _section(480.0, {0.0: 1390.0, 240.0: 1420.0, 700.0: 1340.0}, 970.0),
        _section(940.0, {0.0: 1400.0, 240.0: 1430.0, 700.0: 1340.0}, 975.0),
    ),
    wheel_arches=_arches(320.0, 840.0, 1040.0, 260.0),
    seat_back=SeatBackSpec(foot=_about(1150.0), leans=_about(17.0), top=_about(610.0)),
    tailgate=TailgateSpec(inner_face=_all_about({0.0: 0.0, 450.0: 30.0, 900.0: 160.0})),
    opening=OpeningSpec(
        lip=_about(28.0),
        height=_about(870.0),
        widths=_all_about({0.0: 1160.0, 400.0: 1200.0, 870.0: 1060.0}),
    ),
)

HATCH = BaySpec(
    sections=(
        _section(0.0, {0.0: 980.0, 200.0: 1000.0, 450.0: 980.0}, 700.0),
        _section(170.0, {0.0: 985.0, 200.0: 1010.0, 450.0: 990.0}, 740.0),
        _section(500.0, {0.0: 1000.0, 200.0: 1030.0, 450.0: 1000.0}, 750.0),
    ),
    wheel_arches=_arches(210.0, 640.0, 920.0, 240.0),
    seat_back=SeatBackSpec(foot=_about(720.0), leans=_about(20.0), top=_about(560.0)),
    tailgate=TailgateSpec(inner_face=_all_about({0.0: 0.0, 300.0: 40.0, 640.0: 330.0})),
    opening=OpeningSpec(
        lip=_about(70.0),
        height=_about(630.0),
        widths=_all_about({70.0: 900.0, 300.0: 930.0, 630.0: 790.0}),
    ),
)

TUB = BaySpec(
    sections=(
        _section(0.0, {0.0: 1470.0, 250.0: 1500.0, 500.0: 1490.0, 900.0: 1310.0}, 1010.0),
        _section(750.0, {0.0: 1480.0, 250.0: 1510.0, 500.0: 1490.0, 900.0: 1320.0}, 1030.0),
        _section(1500.0, {0.0: 1480.0, 250.0: 1500.0, 500.0: 1490.0, 900.0: 1310.0}, 1040.0),
    ),
    wheel_arches=_arches(480.0, 1040.0, 1110.0, 230.0),
    front_wall=_about(1510.0),
    tailgate=TailgateSpec(inner_face=_all_about({0.0: 0.0, 500.0: 10.0, 1000.0: 210.0})),
    opening=OpeningSpec(
        lip=_about(0.0),
        height=_about(880.0),
        widths=_all_about({0.0: 1370.0, 500.0: 1380.0, 880.0: 1190.0}),
    ),
)

BODIES: Mapping[str, BaySpec] = MappingProxyType({"wagon": WAGON, "hatch": HATCH, "tub": TUB})
"""A usual bay for each kind of body."""
