"""What can't be true of a trip: a seat that is not there, days that overlap or never come."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from fitout.design_file.messages import quoted, suggestion
from fitout.design_file.parts import Parts
from fitout.model.fault import Fault, Path
from fitout.model.spec import Days
from fitout.model.trips import MOST_DAYS, PackedSpec, SolarSpec, StageSpec, TripFuelSpec, TripSpec
from fitout.model.vehicle import CarriedSpec, FuelSpec, SeatSpec, VehicleSpec


def _trips(parts: Parts) -> Iterator[tuple[Path, TripSpec]]:
    for name, trip in parts.below("trips"):
        if isinstance(trip, TripSpec):
            yield ("trips", name), trip


def seats(parts: Parts) -> Iterator[Fault]:
    """People sit where the vehicle has a seat."""
    there = tuple(
        seat.name for _, seat in parts.below("vehicle", "seats") if isinstance(seat, SeatSpec)
    )
    if parts.record(VehicleSpec, "vehicle") is None:
        return
    for trip in parts.names("trips"):
        for name, _ in parts.below("trips", trip, "people"):
            if name not in there:
                hint = suggestion(str(name), there, "The vehicle has none yet.")
                path: Path = ("trips", trip, "people", name)
                yield _fault(path, quoted(str(name)), "a seat under `vehicle: seats`", hint)


def stages(parts: Parts) -> Iterator[Fault]:
    """Each day belongs to one stage at most, and to the trip."""
    for path, trip in _trips(parts):
        if trip.days is None and not trip.stages:
            wanted = "days, or stages that say which"
            yield _fault(
                path, "nothing that says how long it takes", wanted, "For example days: 7."
            )
        taken: list[tuple[int, StageSpec]] = []
        for index, stage in enumerate(trip.stages):
            where: Path = (*path, "stages", index, "days")
            for earlier, other in taken:
                first = max(stage.days.first, other.days.first)
                last = min(stage.days.last, other.days.last)
                if first <= last:
                    found = f"{_days(Days(first, last))} again, after stage {earlier + 1}"
                    yield _fault(where, found, "each day in one stage only")
                    break
            taken.append((index, stage))
            yield from _within(where, stage.days, trip)


def refills(parts: Parts) -> Iterator[Fault]:
    """Nothing is filled up on a day that never comes."""
    for path, trip in _trips(parts):
        for store, spans in (trip.refill or {}).items():
            for index, days in enumerate(spans):
                yield from _within((*path, "refill", store, index), days, trip)


def _within(path: Path, days: Days, trip: TripSpec) -> Iterator[Fault]:
    last = trip.days or max((stage.days.last for stage in trip.stages), default=MOST_DAYS)
    last = min(last, MOST_DAYS)
    if days.last > last:
        yield _fault(path, _days(days), f"a day of the trip, 1 to {last}")


def _days(days: Days) -> str:
    return f"day{'s' * (days.last > days.first)} {days}"


def at_home(parts: Parts) -> Iterator[Fault]:
    """What stays at home is something the vehicle carries and was not weighed with."""
    usual = _carried(parts)
    for path, trip in _trips(parts):
        for index, name in enumerate(trip.stays_home):
            where: Path = (*path, "stays_home", index)
            if name not in usual:
                hint = suggestion(name, tuple(usual), "The vehicle carries nothing.")
                yield _fault(where, quoted(name), "something under `vehicle: carries`", hint)
            elif usual[name].weighed_with:
                found = f"{quoted(name)}, which was weighed with the vehicle"
                yield _fault(where, found, "something that was not")


def taken_along(parts: Parts) -> Iterator[Fault]:
    """What is carried on a trip has a name of its own."""
    for path, trip in _trips(parts):
        taken = set(_carried(parts))
        for index, thing in enumerate(trip.carries):
            if thing.name in taken:
                where: Path = (*path, "carries", index, "name")
                yield _fault(where, f"{quoted(thing.name)} a second time", "each name once")
            taken.add(thing.name)


def _carried(parts: Parts) -> Mapping[str, CarriedSpec]:
    vehicle = parts.record(VehicleSpec, "vehicle")
    return {} if vehicle is None else {thing.name: thing for thing in vehicle.carries}


def packing(parts: Parts) -> Iterator[Fault]:
    """Modules packed are modules; no day uses more goods than there are."""
    modules = parts.names("modules")
    for path, trip in _trips(parts):
        for key, wish in (trip.packing or {}).items():
            where: Path = (*path, "packing", key)
            module = key.partition("/")[0]
            if not _stands(module, modules):
                hint = suggestion(module, modules)
                yield _fault(where, quoted(key), "a module, or a place in one", hint)
            if isinstance(wish, PackedSpec) and wish.each_day > wish.start:
                found = f"{wish.each_day:g} kg a day of {wish.start:g} kg"
                yield _fault((*where, "each_day"), found, "at most what is there")


def _stands(module: str, modules: tuple[str, ...]) -> bool:
    """Whether it is a module, or the left or right one of a pair."""
    half = module.rpartition(" ")
    return module in modules or (half[2] in ("left", "right") and half[0] in modules)


def fuel(parts: Parts) -> Iterator[Fault]:
    """No more fuel at the start, or kept back, than the tank holds."""
    tank = parts.record(FuelSpec, "vehicle", "fuel")
    for trip in parts.names("trips"):
        wish = parts.record(TripFuelSpec, "trips", trip, "fuel")
        if tank is None or wish is None:
            continue
        for key in ("start", "reserve"):
            litres = getattr(wish, key)
            if litres is not None and litres > tank.holds:
                path: Path = ("trips", trip, "fuel", key)
                yield _fault(path, f"{litres:g} l", f"at most the {tank.holds:g} l the tank holds")


def sun(parts: Parts) -> Iterator[Fault]:
    """A panel's sun is told, or where and when it is."""
    for trip in parts.names("trips"):
        path: Path = ("trips", trip, "energy", "solar")
        solar = parts.record(SolarSpec, *path)
        if solar is None or solar.sun_hours is not None:
            continue
        if solar.latitude is None or solar.month is None:
            missing = "latitude" if solar.latitude is None else "month"
            hint = "For example latitude: 44 deg, month: June."
            yield _fault(
                path, f"neither sun_hours nor {missing}", "sun_hours, or latitude and month", hint
            )


RULES = (seats, stages, refills, at_home, taken_along, packing, fuel, sun)


def _fault(path: Path, found: str, expected: str, hint: str = "") -> Fault:
    return Fault(path=path, found=found, expected=expected, hint=hint)
