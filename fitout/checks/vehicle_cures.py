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
    """The least of one thing to be moved as far as goods ride now, an axle relieved."""
    inside = [line for line in _touchable(lines) if line.where == "inside"]
    if over.key not in ("front", "rear") or over.margin_kg is None or not inside:
        return
    sign = 1.0 if over.key == "rear" else -1.0
    target = max(inside, key=lambda line: sign * line.centre[0])
    needed = -over.margin_kg * vehicle.wheelbase
    ways = []
    for line in inside:
        far = abs(target.centre[0] - line.centre[0]) // STEP * STEP
        if line.kg_per_litre is None and far:
            mass = _up(needed / far)
            if mass <= line.mass_kg:
                ways.append((mass, -far, line.group, line.name, line))
    if ways:
        mass, far, *_, line = min(ways, key=lambda way: way[:4])
        way = "forward" if sign > 0.0 else "rearward"
        what = line.name if line.kind == "carried" else f"what is {_place(line)}"
        words = f"move {mass:g} kg of {what} {-far:.0f} mm {way}, to {target.group}"
        yield Cure(words, (*_without(lines, line, mass), _shifted(line, mass, -sign * far)))


def _place(line: LedgerLine) -> str:
    """Where a load lies, in words: "in drawer 1 of drawers", "in fridge"."""
    named = line.name.endswith(f" {line.group}")
    return line.name if named else f"{line.name} of {line.group}"


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
    return f"carry {mass_kg:.3g} kg less {_place(line)}"


def _up(value: float) -> float:
    """Up to the next whole number; what is a rounding error above one counts as it."""
    return float(math.ceil(value - 1e-9))
