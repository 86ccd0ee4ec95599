"""The rear seat's back: its notches, its head restraints, and how it folds."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from fitout.model.bay import Obstacle, Swing
from fitout.model.design import SeatBackSpec
from fitout.model.placement import Vector
from fitout.survey.meshes import Mesh, column

Y: Vector = (0.0, 1.0, 0.0)


def back_length(seat: SeatBackSpec) -> float:
    """From foot to upper edge along the seat back."""
    return seat.top.value / math.cos(math.radians(seat.leans.value))


def raised(seat: SeatBackSpec | None) -> tuple[float, float]:
    """How far head restraints stand out beyond the seat back, and from the centre line."""
    spec = None if seat is None else seat.head_restraints
    if spec is None:
        return 0.0, 0.0
    outer = max((abs(m) for m in spec.middles), default=math.inf)
    return spec.raised, outer + spec.across / 2.0


def foot_of(seat: SeatBackSpec, lean_deg: float, lining: float) -> float:
    """Where the lined face of the back meets the floor at a lean."""
    return seat.foot.value - lining / math.cos(math.radians(lean_deg))


def restraints(
    seat: SeatBackSpec, notch: str, lean_deg: float, widest: float, lining: float
) -> Iterator[Obstacle]:
    """The head restraints over the back's upper edge."""
    spec = seat.head_restraints
    if spec is None:
        return
    length = back_length(seat)
    foot = foot_of(seat, lean_deg, lining)
    spans = [(m - spec.across / 2.0, m + spec.across / 2.0) for m in spec.middles]
    for number, across in enumerate(spans or [(-widest, widest)], start=1):
        mesh = _leaning(foot, lean_deg, (length, length + spec.raised), spec.thickness, across)
        yield Obstacle(f"head restraint {number} at {notch}", "seat", *mesh)


def seat_swings(
    seat: SeatBackSpec | None, leans: Mapping[str, float], widest: float, lining: float
) -> Iterator[Swing]:
    """From each notch folded forward till it is level, and over all notches that it has."""
    if seat is None:
        return
    steepest = min(leans.values())
    for notch, lean in leans.items():
        travel = lean + 90.0 if seat.folds else lean - steepest
        if travel <= 0.0:
            continue
        foot = foot_of(seat, lean, lining)
        back = _leaning(foot, lean, (0.0, back_length(seat)), seat.thickness, (-widest, widest))
        yield Swing(
            name=f"seat back from {notch}",
            kind="seat",
            leaves=(
                Obstacle(f"seat back from {notch}", "seat", *back),
                *restraints(seat, notch, lean, widest, lining),
            ),
            point=(foot, 0.0, 0.0),
            direction=Y,
            travel=travel,
        )


def _leaning(
    foot: float,
    lean_deg: float,
    along: tuple[float, float],
    thickness: float,
    across: tuple[float, float],
) -> Mesh:
    """A block on the back's plane, between two distances along it from its foot."""
    lean = math.radians(lean_deg)
    (sin, cos), (y0, y1) = (math.sin(lean), math.cos(lean)), across

    def ring(s: float) -> list[Vector]:
        x, z = foot - s * sin, s * cos
        ahead, up = x + thickness * cos, z + thickness * sin
        return [(x, y0, z), (ahead, y0, up), (ahead, y1, up), (x, y1, z)]

    return column([ring(s) for s in along])
