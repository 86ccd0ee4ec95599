"""What can't be true of a vehicle: one that weighs more than it may, axles that do not add up."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from fitout.design_file.messages import quoted
from fitout.design_file.parts import Parts
from fitout.model.design import ItemSpec
from fitout.model.fault import Fault, Path
from fitout.model.spec import Measured
from fitout.model.vehicle import (
    AirbagSpec,
    CarriedSpec,
    FuelSpec,
    KerbSpec,
    LimitsSpec,
    SeatSpec,
)

VEHICLE: Path = ("vehicle",)
KERB: Path = ("vehicle", "kerb")
WEIGHING_KG = 20.0
"""Readings of front, rear and whole may differ by this where no ± is given (common practice:
a weighbridge's step)."""


def weighed(parts: Parts) -> Iterator[Fault]:
    """Two of mass, front and rear were weighed, and all there are agree."""
    kerb = parts.record(KerbSpec, *KERB)
    if kerb is None:
        return
    given = {key: getattr(kerb, key) for key in ("mass", "front", "rear")}
    known = [key for key, read in given.items() if read is not None]
    if len(known) < 2:
        found = f"only {known[0]}" if known else "none of them"
        hint = "A public weighbridge gives each axle: drive on with one, then with both."
        yield _fault(KERB, found, "two of mass, front and rear", hint)
    for read in (kerb.mass, kerb.front, kerb.rear, kerb.left):
        if read is not None and read.about:
            yield _fault(KERB, f"about {read.value:g}", "what a scale read", "Weigh it.")
    if len(known) == 3 and kerb.mass and kerb.front and kerb.rear:
        total = kerb.front.value + kerb.rear.value
        slack = sum(_off(read) for read in (kerb.mass, kerb.front, kerb.rear))
        if abs(total - kerb.mass.value) > slack:
            found = f"{kerb.mass.value:g} kg, with axles of {total:g} kg together"
            wanted = f"the axles' sum within {slack:g} kg"
            yield _fault((*KERB, "mass"), found, wanted, "Which of the three is wrong?")
    yield from _parts_of_whole(kerb)


def _off(read: Measured) -> float:
    return WEIGHING_KG / 2.0 if read.tolerance is None else read.tolerance


def _whole(kerb: KerbSpec) -> float | None:
    if kerb.front is not None and kerb.rear is not None:
        return kerb.front.value + kerb.rear.value
    return None if kerb.mass is None else kerb.mass.value


def _parts_of_whole(kerb: KerbSpec) -> Iterator[Fault]:
    """An axle, or one side, weighs less than the whole."""
    whole = _whole(kerb)
    for key in ("front", "rear", "left"):
        read = getattr(kerb, key)
        if whole is not None and read is not None and read.value >= whole:
            yield _fault((*KERB, key), f"{read.value:g} kg", f"less than the whole, {whole:g} kg")


def limits(parts: Parts) -> Iterator[Fault]:
    """What is allowed is more than the vehicle weighs with nothing in it."""
    kerb = parts.record(KerbSpec, *KERB)
    allowed = parts.record(LimitsSpec, "vehicle", "limits")
    if kerb is None or allowed is None:
        return
    own = {"gross": _whole(kerb)}
    own |= {key: read.value for key in ("front", "rear") if (read := getattr(kerb, key))}
    for key, mass in own.items():
        limit = getattr(allowed, key)
        if mass is not None and limit is not None and limit <= mass:
            what = "the vehicle" if key == "gross" else f"the {key} axle"
            found = f"{limit:g} kg, where {what} weighs {mass:g} kg empty"
            hint = "Is one in pounds? Write lb after it."
            path: Path = ("vehicle", "limits", key)
            yield _fault(path, found, f"more than {mass:g} kg", hint)
        if key != "gross" and limit is not None and limit > allowed.gross:
            path = ("vehicle", "limits", key)
            found = f"{limit:g} kg on one axle, {allowed.gross:g} kg in all"
            yield _fault(path, found, f"at most {allowed.gross:g} kg")


def lighter_than_the_vehicle(parts: Parts) -> Iterator[Fault]:
    """No item, and nothing that is carried, weighs more than the vehicle."""
    kerb = parts.record(KerbSpec, *KERB)
    whole = None if kerb is None else _whole(kerb)
    if whole is None:
        return
    things: list[tuple[Path, float]] = [
        (("items", name, "mass"), item.mass)
        for name, item in parts.below("items")
        if isinstance(item, ItemSpec)
    ]
    things += [
        (("vehicle", "carries", index, "mass"), thing.mass.value)
        for index, thing in parts.below("vehicle", "carries")
        if isinstance(thing, CarriedSpec)
    ]
    for path, mass in things:
        if mass >= whole:
            found = f"{mass:g} kg, where the vehicle weighs {whole:g} kg"
            yield _fault(path, found, "less than the vehicle", "Is the unit right?")


def places(parts: Parts) -> Iterator[Fault]:
    """Seats, and what is carried, each have a name of their own."""
    for group, kind in (("seats", SeatSpec), ("carries", CarriedSpec)):
        taken: set[str] = set()
        for index, thing in parts.below("vehicle", group):
            if not isinstance(thing, kind):
                continue
            if thing.name in taken:
                path: Path = ("vehicle", group, index, "name")
                yield _fault(path, f"{quoted(thing.name)} a second time", "each name once")
            taken.add(thing.name)


def fuel(parts: Parts) -> Iterator[Fault]:
    """There was no more fuel in the tank than it holds."""
    tank = parts.record(FuelSpec, "vehicle", "fuel")
    if tank is not None and tank.as_weighed > tank.holds:
        path: Path = ("vehicle", "fuel", "as_weighed")
        yield _fault(path, f"{tank.as_weighed:g} l", f"at most the {tank.holds:g} l it holds")


def airbags(parts: Parts) -> Iterator[Fault]:
    """A table of air springs rises, and takes in the pressures they are used at."""
    for end in ("front", "rear"):
        path: Path = ("vehicle", "springs", end, "airbags")
        bags = parts.record(AirbagSpec, *path)
        if bags is None:
            continue
        rows = bags.rows
        if len(rows) < 2:
            yield _fault((*path, "rows"), f"{len(rows)} row(s)", "two rows or more, rising")
            continue
        for index, (low, high) in enumerate(itertools.pairwise(rows), 1):
            if not (low.pressure < high.pressure and low.carries < high.carries):
                found = f"{high.carries:g} kg at {high.pressure:g} bar after "
                found += f"{low.carries:g} kg at {low.pressure:g} bar"
                wanted = "rows from the lowest pressure up, each bearing more"
                yield _fault((*path, "rows", index), found, wanted)
        least, most = rows[0].pressure, rows[-1].pressure
        for key in ("as_weighed", "set_to"):
            bar = getattr(bags, key)
            if bar is not None and least < most and not least <= bar <= most:
                wanted = f"a pressure of the table, from {least:g} to {most:g} bar"
                yield _fault((*path, key), f"{bar:g} bar", wanted)


RULES = (weighed, limits, lighter_than_the_vehicle, places, fuel, airbags)


def _fault(path: Path, found: str, expected: str, hint: str = "") -> Fault:
    return Fault(path=path, found=found, expected=expected, hint=hint)
