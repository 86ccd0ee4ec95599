"""A trip made ready to be reckoned: every mass in its place, every day with what it does.

What the builder left out is filled in here from the fit-out and the vehicle. `Plan` is what a
cure changes: a little less here, more there, and the trip is gone through once more.
"""

from __future__ import annotations

import dataclasses
import difflib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from fitout.checks.ledger import LedgerLine
from fitout.checks.mass_lines import empty_lines, held_lines
from fitout.checks.subject import Subject
from fitout.checks.vehicle_lines import carried_lines, seat_line
from fitout.mechanics.solar import MID_MONTH, sun_hours
from fitout.model.fault import DesignError, Fault, Path
from fitout.model.trips import EnergySpec, PackedSpec, SolarSpec, StageSpec, Store, TripSpec
from fitout.model.vehicle import VehicleSpec

USUAL_SPEED_KM_H = 60.0
"""What a day's distance is driven at where its hours are not told (common practice)."""

RESERVE_SHARE = 0.1
"""Share of the fuel tank kept back where no reserve is told (common practice)."""

HALVES = ("left", "right")


@dataclass(frozen=True, slots=True)
class Place:
    """Somewhere goods are packed: `module/name`, and its line of the ledger when full."""

    id: str
    full: LedgerLine


@dataclass(frozen=True, slots=True)
class Tank:
    """A water tank: its line when full, what it holds, where it stands, what stays below its tap.

    `bottom` and `height` in mm; `hose` the length of hose bought for it, mm.
    """

    id: str
    full: LedgerLine
    holds_l: float
    dead_l: float
    bottom: float
    height: float
    hose: float


@dataclass(frozen=True, slots=True)
class Packed:
    """What a place holds at the start, kg, and how much of it each day uses."""

    start_kg: float
    each_day_kg: float = 0.0


@dataclass(frozen=True, slots=True)
class Work:
    """What a day does: km driven, hours the engine charges, °C round the fridge, hours of sun."""

    km: float
    driving_h: float
    ambient_c: float
    sun_h: float


@dataclass(frozen=True, slots=True)
class Ground:
    """What every trip of a design starts from: the fit-out as built, its places and tanks."""

    vehicle: VehicleSpec | None
    built: tuple[LedgerLine, ...]
    places: Mapping[str, Place]
    tanks: tuple[Tank, ...]

    @property
    def water_holds_l(self) -> float:
        """What all tanks hold."""
        return sum(tank.holds_l for tank in self.tanks)


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """A trip with nothing left open.

    `heads` is how many people go, None where nothing tells. `fuel_start_l` and `reserve_l` are
    None where the vehicle's tank is not known. `refills` holds the days of each store.
    """

    name: str
    spec: TripSpec
    ground: Ground
    works: tuple[Work, ...]
    heads: int | None
    people: tuple[LedgerLine, ...]
    carried: tuple[LedgerLine, ...]
    packed: Mapping[str, Packed]
    water_start_l: float
    each_person_l: float
    fuel_start_l: float | None
    reserve_l: float | None
    energy: EnergySpec | None
    refills: Mapping[Store, frozenset[int]]

    @property
    def days(self) -> int:
        """How many days it takes."""
        return len(self.works)

    @property
    def water_each_day_l(self) -> float:
        """What a day uses, by all people and besides."""
        return (self.heads or 0) * self.each_person_l + self.spec.water.besides


def ground_of(subject: Subject) -> Ground:
    """What all trips share."""
    held = held_lines(subject)
    places = [Place(f"{x.group}/{_bare(x.name)}", x) for x in held if x.kind == "contents"]
    return Ground(
        vehicle=subject.vehicle,
        built=tuple(merged(empty_lines(subject))),
        places={place.id: place for place in places},
        tanks=tuple(_tank(subject, line) for line in held if line.kind == "water"),
    )


def _bare(name: str) -> str:
    """`in drawer 1` and `on shelf 3` without their first word."""
    return name.partition(" ")[2]


def merged(lines: Sequence[LedgerLine]) -> Iterator[LedgerLine]:
    """Fewer lines with the same sums: those that err together by the same share are one.

    Mass, moments and uncertainty come out the same, since one share makes the uncertain and the
    whole mass lie at the same place.
    """
    groups: dict[tuple[str, str, int], list[LedgerLine]] = {}
    for line in lines:
        if line.shared and line.mass_kg > 0.0 and not line.loose:
            share = round(1e9 * line.u_kg / line.mass_kg)
            groups.setdefault((line.shared, line.where, share), []).append(line)
        else:
            yield line
    for group in groups.values():
        mass = sum(x.mass_kg for x in group)
        x, y, z = (sum(one.mass_kg * one.centre[k] for one in group) / mass for k in range(3))
        yield dataclasses.replace(
            group[0],
            name=group[0].shared,
            group="fit-out",
            mass_kg=mass,
            centre=(x, y, z),
            u_kg=sum(x.u_kg for x in group),
        )


def _tank(subject: Subject, line: LedgerLine) -> Tank:
    item = line.name.rpartition(" of water in ")[2]
    spec, body = subject.setting.items[item], subject.bodies[f"{line.group}/{item}"]
    assert spec.holds is not None
    bottom, height = float(body.lo[2]), spec.size.height
    tap = 0.0 if spec.tap is None else min(spec.tap.height, height)
    module = subject.modules[line.group]
    goods = subject.setting.catalogue.articles
    hose = sum(
        x.quantity * (goods[x.article].length or 0.0)
        for x in module.hardware
        if x.article in goods and goods[x.article].kind == "hose"
    )
    return Tank(
        id=f"{line.group}/{item}",
        full=line,
        holds_l=spec.holds,
        dead_l=spec.holds * tap / height,
        bottom=bottom,
        height=height,
        hose=hose,
    )


def plans_of(trips: Mapping[str, TripSpec], subject: Subject) -> tuple[Plan, ...]:
    """Every trip of a design, ready to be reckoned.

    Raises:
        DesignError: with a fault for everything packed where there is no place, and for tanks
            that are to hold more than they do.
    """
    if not trips:
        return ()
    ground = ground_of(subject)
    faults = [fault for name, spec in trips.items() for fault in _faults(name, spec, ground)]
    if faults:
        raise DesignError(faults)
    return tuple(plan_of(name, spec, ground) for name, spec in trips.items())


def plan_of(name: str, spec: TripSpec, ground: Ground) -> Plan:
    """One trip, everything left out filled in."""
    heads, people = _people(spec, ground.vehicle)
    tank = None if ground.vehicle is None else ground.vehicle.fuel
    start, reserve = spec.fuel.start, spec.fuel.reserve
    if tank is not None:
        start = tank.holds if start is None else start
        reserve = RESERVE_SHARE * tank.holds if reserve is None else reserve
    water = spec.water.start
    return Plan(
        name=name,
        spec=spec,
        ground=ground,
        works=tuple(_works(spec)),
        heads=heads,
        people=people,
        carried=_carried(spec, ground.vehicle),
        packed=_packed(spec, ground),
        water_start_l=ground.water_holds_l if water is None else water,
        each_person_l=spec.water.each_person,
        fuel_start_l=start if tank is not None else None,
        reserve_l=reserve if tank is not None else None,
        energy=spec.energy,
        refills={
            store: frozenset(day for span in spans for day in range(span.first, span.last + 1))
            for store, spans in (spec.refill or {}).items()
        },
    )


def _people(
    spec: TripSpec, vehicle: VehicleSpec | None
) -> tuple[int | None, tuple[LedgerLine, ...]]:
    """How many go, and their lines; those who usually sit there where nobody is named."""
    seats = () if vehicle is None else vehicle.seats
    if spec.people is None:
        masses = {seat.name: seat.person for seat in seats}
    else:
        masses = dict(spec.people)
    if spec.people is None and not seats:
        return None, ()
    heads = sum(1 for mass in masses.values() if mass > 0.0)
    lines = [seat_line(seat, masses[seat.name]) for seat in seats if masses.get(seat.name)]
    return heads, tuple(lines)


def _carried(spec: TripSpec, vehicle: VehicleSpec | None) -> tuple[LedgerLine, ...]:
    """What the vehicle carries besides, on this trip."""
    if vehicle is None:
        return ()
    usual = [x for x in carried_lines(vehicle) if x.name not in spec.stays_home]
    more = dataclasses.replace(vehicle, carries=spec.carries)
    return (*usual, *carried_lines(more))


def _works(spec: TripSpec) -> Iterator[Work]:
    """What each day does; on a day of no stage it stands still."""
    solar = spec.energy.solar if spec.energy is not None else None
    sun = 0.0 if solar is None else _sun(solar)
    last = max((stage.days.last for stage in spec.stages), default=1)
    for day in range(1, (spec.days or last) + 1):
        stage = next((x for x in spec.stages if day in x.days), None)
        yield Work(0.0, 0.0, spec.ambient, sun) if stage is None else _work(stage, spec, sun)


def _work(stage: StageSpec, spec: TripSpec, sun: float) -> Work:
    hours = stage.km / USUAL_SPEED_KM_H if stage.driving is None else stage.driving
    ambient = spec.ambient if stage.ambient is None else stage.ambient
    return Work(
        stage.km, min(24.0, hours), ambient, sun if stage.sun_hours is None else stage.sun_hours
    )


def _sun(solar: SolarSpec) -> float:
    """Hours of sun on the panel, as entered or worked out."""
    if solar.sun_hours is not None:
        return solar.sun_hours
    if solar.latitude is None or solar.month is None:
        return 0.0
    return sun_hours(solar.latitude, MID_MONTH[solar.month], solar.clearness, solar.tilt)


def _packed(spec: TripSpec, ground: Ground) -> dict[str, Packed]:
    """What each place holds: as named, as its share of its module's, else as made to carry."""
    held = {place.id: Packed(place.full.mass_kg) for place in ground.places.values()}
    for key, wish in (spec.packing or {}).items():
        meant = places_meant(key, ground)
        whole = sum(ground.places[id_].full.mass_kg for id_ in meant)
        packed = Packed(wish.start, wish.each_day) if isinstance(wish, PackedSpec) else Packed(wish)
        for id_ in meant:
            share = ground.places[id_].full.mass_kg / whole
            held[id_] = Packed(share * packed.start_kg, share * packed.each_day_kg)
    return held


def places_meant(key: str, ground: Ground) -> list[str]:
    """The places a key of `packing` stands for: one, or all of a module, or of its halves."""
    if key in ground.places:
        return [key]
    modules = (key, *(f"{key} {half}" for half in HALVES))
    return [id_ for id_, place in ground.places.items() if place.full.group in modules]


def _faults(name: str, spec: TripSpec, ground: Ground) -> Iterator[Fault]:
    """What is packed where nothing can be, or twice; more water than the tanks hold."""
    taken: dict[str, str] = {}
    for key in spec.packing or {}:
        path: Path = ("trips", name, "packing", key)
        meant = places_meant(key, ground)
        if not meant:
            near = difflib.get_close_matches(key, list(ground.places), n=3, cutoff=0.5)
            hint = f"Nearest: {', '.join(near)}." if near else "Nothing there is made to carry."
            if not near and ground.places:
                hint = f"There are {', '.join(ground.places)}."
            wanted = "a module that carries something, or a place in one"
            yield Fault(path=path, found=key, expected=wanted, hint=hint)
        twice = [id_ for id_ in meant if id_ in taken]
        if twice:
            found = f"{twice[0]} under {taken[twice[0]]} and {key}"
            yield Fault(path=path, found=found, expected="each place once")
        taken.update(dict.fromkeys(meant, key))
    water, holds = spec.water.start, ground.water_holds_l
    if water is not None and water > holds:
        path = ("trips", name, "water", "start")
        wanted = f"at most the {holds:g} l the tanks hold"
        yield Fault(path=path, found=f"{water:g} l", expected=wanted)
