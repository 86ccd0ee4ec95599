"""What brings a vehicle back within its limits: less of something, or something further along.

Each cure was tried: the state with it exceeds nothing that the load exceeded before.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from fitout.checks.ledger import LedgerLine
from fitout.checks.vehicle_state import Limit, vehicle_state
from fitout.model.vehicle import VehicleSpec

STEP = 10.0
"""Something is moved by whole steps of this, mm."""

OUTSIDE: Mapping[str, str] = MappingProxyType(
    {"roof": "roof", "door": "door", "behind_bumper": "behind bumper"}
)
"""Where that is carried which a limit counts."""

NOT_GOODS = ("person", "fuel", "carried")
"""Kinds of line that say nothing about where goods can go."""


@dataclass(frozen=True, slots=True)
class Cure:
    """What to do, in words, and the load once it is done."""

    words: str
    lines: tuple[LedgerLine, ...]


def cures(vehicle: VehicleSpec, loads: Iterable[LedgerLine]) -> tuple[Cure, ...]:
    """What would bring a load within every limit: first something moved, then something less.

    Only what is loose, or a liquid, is touched; of one thing alone where that is enough. Empty
    if nothing is exceeded or nothing helps.
    """
    lines = tuple(loads)
    over = vehicle_state(vehicle, lines).exceeded
    if not over:
        return ()
    tried = [*_moved(vehicle, lines, over[0]), *_less(vehicle, lines, over)]
    return tuple(cure for cure in tried if not vehicle_state(vehicle, cure.lines).exceeded)


def _relief(vehicle: VehicleSpec, line: LedgerLine, key: str) -> float:
    """By how much a limit is relieved by a kg of a line left at home."""
    share_front = (line.centre[0] - vehicle.rear_axle) / vehicle.wheelbase
    if key in OUTSIDE:
        return 1.0 if line.where == OUTSIDE[key] else 0.0
    return {"front": share_front, "rear": 1.0 - share_front, "gross": 1.0}[key]


def _touchable(lines: tuple[LedgerLine, ...]) -> list[LedgerLine]:
    return [line for line in lines if line.loose and line.mass_kg > 0.0]


def _moved(vehicle: VehicleSpec, lines: tuple[LedgerLine, ...], over: Limit) -> Iterator[Cure]:
    """The least of one thing to be moved as far as the load reaches now, an axle relieved."""
    if over.key not in ("front", "rear") or over.margin_kg is None:
        return
    inside = [x.centre[0] for x in lines if x.where == "inside" and x.kind not in NOT_GOODS]
    forward = over.key == "rear"
    target = max(inside) if forward else min(inside)
    needed = -over.margin_kg * vehicle.wheelbase
    ways = []
    for line in _touchable(lines):
        far = abs(target - line.centre[0]) // STEP * STEP
        if line.where != "inside" or line.kg_per_litre is not None or not far:
            continue
        mass = _up(needed / far)
        if mass <= line.mass_kg:
            ways.append((mass, -far, line.group, line.name, line))
    if ways:
        mass, far, *_, line = min(ways, key=lambda way: way[:4])
        way = "forward" if forward else "rearward"
        shift = -far if forward else far
        words = f"move {mass:g} kg of what is {line.name} of {line.group} {-far:.0f} mm {way}"
        if line.kind == "carried":
            words = f"move {mass:g} kg of {line.name} {-far:.0f} mm {way}"
        yield Cure(words, (*_without(lines, line, mass), _shifted(line, mass, shift)))


def _shifted(line: LedgerLine, mass_kg: float, by: float) -> LedgerLine:
    x, y, z = line.centre
    u_kg = line.u_kg * mass_kg / line.mass_kg
    return dataclasses.replace(line, mass_kg=mass_kg, centre=(x + by, y, z), u_kg=u_kg)


def _without(
    lines: tuple[LedgerLine, ...], line: LedgerLine, mass_kg: float
) -> tuple[LedgerLine, ...]:
    """The lines with so much less of one of them."""
    rest = line.mass_kg - mass_kg
    less = dataclasses.replace(line, mass_kg=rest, u_kg=line.u_kg * rest / line.mass_kg)
    return tuple(less if other is line else other for other in lines)


def _less(
    vehicle: VehicleSpec, lines: tuple[LedgerLine, ...], over: tuple[Limit, ...]
) -> Iterator[Cure]:
    """The least to be left at home: of one thing if that is enough, else of several."""
    ways = []
    for line in _touchable(lines):
        mass = _needed(vehicle, line, over)
        if mass is not None and mass <= line.mass_kg:
            ways.append((mass, line.group, line.name, line))
    if ways:
        mass, *_, line = min(ways, key=lambda way: way[:3])
        yield Cure(_carry_less(line, mass), _without(lines, line, mass))
        liquids = [way for way in ways if way[3].kg_per_litre is not None]
        if liquids and line.kg_per_litre is None:
            mass, *_, line = min(liquids, key=lambda way: way[:3])
            yield Cure(_carry_less(line, mass), _without(lines, line, mass))
        return
    yield from _several(vehicle, lines, over)


def _needed(vehicle: VehicleSpec, line: LedgerLine, over: tuple[Limit, ...]) -> float | None:
    """How much of a line must go for every limit, kg, in whole kg or litres."""
    mass = 0.0
    for limit in over:
        relief = _relief(vehicle, line, limit.key)
        if relief <= 0.0 or limit.margin_kg is None:
            return None
        mass = max(mass, -limit.margin_kg / relief)
    litre = line.kg_per_litre
    return _up(mass) if litre is None else _up(mass / litre) * litre


def _several(
    vehicle: VehicleSpec, lines: tuple[LedgerLine, ...], over: tuple[Limit, ...]
) -> Iterator[Cure]:
    """Whole things left at home, those that relieve most first, until one more is enough."""
    worst, now, words = over[0], lines, list[str]()
    order = sorted(
        _touchable(lines),
        key=lambda x: (-_relief(vehicle, x, worst.key) * x.mass_kg, x.group, x.name),
    )
    for line in order:
        left = vehicle_state(vehicle, now).exceeded
        if not left:
            break
        part = _needed(vehicle, line, left)
        if part is None:
            continue
        mass = min(part, line.mass_kg)
        words.append(_carry_less(line, mass))
        now = _without(now, line, mass)
    if words:
        yield Cure(" and ".join(words), now)


def _carry_less(line: LedgerLine, mass_kg: float) -> str:
    if line.kg_per_litre is not None:
        return f"carry {mass_kg / line.kg_per_litre:.3g} l less in {line.group}"
    if line.kind == "carried":
        return f"carry {mass_kg:.3g} kg less of {line.name}"
    return f"carry {mass_kg:.3g} kg less {line.name} of {line.group}"


def _up(value: float) -> float:
    """Up to the next whole number; what is a rounding error above one counts as it."""
    return float(math.ceil(value - 1e-9))
