"""The vehicle under a load: what its axles bear, how low it sits, how far from its limits.

For the fit-out alone, laden, or any day of a trip: `vehicle_state` takes the lines of a ledger
and adds them to the vehicle as weighed. Those for people, fuel and what the vehicle carries
besides come from `vehicle_lines`. Everything here is pure.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from fitout.checks.ledger import LedgerLine, combined_u
from fitout.checks.vehicle_lines import reading_u, weighed_with
from fitout.mechanics.axles import (
    AxleLoads,
    Mass,
    axle_loads,
    left_share,
    pitch_deg,
    rollover_threshold_g,
)
from fitout.mechanics.springs import AirState, air_at, levelling_pressure, settles_on_air
from fitout.model.vehicle import KerbSpec, SpringSpec, TrackSpec, VehicleSpec

NO_AIR = AirState(0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """One limit of the vehicle's maker against what there is, kg; None where it is not known.

    `key` is its entry under `limits`; `u_kg` the standard uncertainty of `value_kg`.
    """

    key: str
    name: str
    value_kg: float
    u_kg: float
    limit_kg: float | None

    @property
    def margin_kg(self) -> float | None:
        """What is left, below 0 if too much."""
        return None if self.limit_kg is None else self.limit_kg - self.value_kg


@dataclass(frozen=True, slots=True, kw_only=True)
class Settling:
    """How far an axle sits lower than as weighed, mm, and what would bring it back.

    `level_bar` is the air springs' pressure that would, None without such or where none does.
    """

    down: float
    air_bar: float | None = None
    level_bar: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class VehicleState:
    """A vehicle under a load.

    `centre` is that of vehicle and load in bay coordinates; its height only where the vehicle's
    own is known (`height`, above the ground, mm). `left_share` and `rollover_g` (t/2h) are None
    where track or height are not known, the settling where the springs are not.
    """

    axles: AxleLoads
    limits: tuple[Limit, ...]
    u_kg: float
    ahead: float
    left_share: float | None = None
    height: float | None = None
    rollover_g: float | None = None
    front: Settling | None = None
    rear: Settling | None = None
    pitch_deg: float | None = None

    @property
    def total_kg(self) -> float:
        """Vehicle and load."""
        return self.axles.total_kg

    @property
    def exceeded(self) -> tuple[Limit, ...]:
        """The limits that are exceeded, worst first."""
        over = [x for x in self.limits if x.margin_kg is not None and x.margin_kg < 0.0]
        return tuple(sorted(over, key=lambda limit: limit.margin_kg or 0.0))

    def limit(self, key: str) -> Limit:
        """A limit by its entry: gross, front, rear, roof, door, behind_bumper."""
        return next(limit for limit in self.limits if limit.key == key)


@dataclass(frozen=True, slots=True)
class Kerb:
    """The vehicle as weighed: what each axle bears, and the readings' standard uncertainty."""

    axles: AxleLoads
    u_front_kg: float
    u_rear_kg: float
    u_kg: float


def kerb_of(spec: KerbSpec) -> Kerb:
    """Front and rear from any two of mass, front and rear; each axle's own reading first.

    Raises:
        ValueError: when fewer than two were entered.
    """
    front, rear, whole = spec.front, spec.rear, spec.mass
    if front is not None and rear is not None:
        u_f, u_r = reading_u(front), reading_u(rear)
        return Kerb(AxleLoads(front.value, rear.value), u_f, u_r, math.hypot(u_f, u_r))
    if whole is not None and front is not None:
        axles = AxleLoads(front.value, whole.value - front.value)
        return Kerb(
            axles,
            reading_u(front),
            math.hypot(reading_u(whole), reading_u(front)),
            reading_u(whole),
        )
    if whole is not None and rear is not None:
        axles = AxleLoads(whole.value - rear.value, rear.value)
        return Kerb(
            axles, math.hypot(reading_u(whole), reading_u(rear)), reading_u(rear), reading_u(whole)
        )
    raise ValueError("kerb: two of mass, front and rear must be given")


def vehicle_state(vehicle: VehicleSpec, loads: Iterable[LedgerLine]) -> VehicleState:
    """The vehicle as weighed with these loads added: axles, limits, heights.

    `loads` are in bay coordinates; a line below 0 kg takes off what was there when it was
    weighed (fuel burnt). Nothing is added that is not among them: neither what the vehicle
    `carries` (`carried_lines`) nor people (`seat_line`) nor fuel (`fuel_line`). What was weighed
    with the vehicle counts towards the limits of roof, door and bumper all the same.

    Raises:
        ValueError: when the vehicle was weighed on neither axle.
    """
    lines = list(loads)
    kerb = kerb_of(vehicle.kerb)
    masses = [_mass(vehicle, line) for line in lines]
    added = axle_loads(masses, vehicle.wheelbase)
    axles = kerb.axles.plus(added)
    front, rear = (_settling(vehicle, added, end) for end in ("front", "rear"))
    pitch = None
    if front is not None and rear is not None:
        pitch = pitch_deg(front.down, rear.down, vehicle.wheelbase)
    track = track_of(vehicle)
    height = _height(vehicle, kerb, lines)
    return VehicleState(
        axles=axles,
        limits=_limits(vehicle, kerb, axles, lines),
        u_kg=math.hypot(kerb.u_kg, combined_u(lines)),
        ahead=axles.front_kg * vehicle.wheelbase / axles.total_kg,
        left_share=None if track is None else _left(vehicle, kerb, masses, track),
        height=height,
        rollover_g=None if not (track and height) else rollover_threshold_g(track, height),
        front=front,
        rear=rear,
        pitch_deg=pitch,
    )


def _mass(vehicle: VehicleSpec, line: LedgerLine) -> Mass:
    x, y, z = line.centre
    return Mass(line.mass_kg, x - vehicle.rear_axle, y, z)


def track_of(vehicle: VehicleSpec) -> float | None:
    """The track, the mean of both axles', mm; None where it is not known."""
    if isinstance(vehicle.track, TrackSpec):
        return (vehicle.track.front + vehicle.track.rear) / 2.0
    return vehicle.track


def _left(vehicle: VehicleSpec, kerb: Kerb, masses: list[Mass], track: float) -> float:
    whole = kerb.axles.total_kg
    left = 0.0 if vehicle.kerb.left is None else (vehicle.kerb.left.value / whole - 0.5) * track
    return left_share([Mass(whole, 0.0, left), *masses], track)


def _height(vehicle: VehicleSpec, kerb: Kerb, lines: list[LedgerLine]) -> float | None:
    """Height of the common centre above the ground, springs as weighed; None if not known."""
    own, floor = vehicle.kerb.height, vehicle.floor_height
    if own is None or floor is None:
        return None
    mass = kerb.axles.total_kg + sum(line.mass_kg for line in lines)
    moment = kerb.axles.total_kg * own
    moment += sum(line.mass_kg * (floor + line.centre[2]) for line in lines)
    return moment / mass


def _limits(
    vehicle: VehicleSpec, kerb: Kerb, axles: AxleLoads, lines: list[LedgerLine]
) -> tuple[Limit, ...]:
    """Every limit, whether it is known or not."""
    allowed, base = vehicle.limits, vehicle.wheelbase
    ahead = (-vehicle.rear_axle / base, 1.0 / base)
    u_front = math.hypot(kerb.u_front_kg, combined_u(lines, ahead))
    u_rear = math.hypot(kerb.u_rear_kg, combined_u(lines, (1.0 - ahead[0], -ahead[1])))
    u_gross = math.hypot(kerb.u_kg, combined_u(lines))
    carried = [
        Limit(key=key, name=name, value_kg=sum(x.mass_kg for x in there), u_kg=combined_u(there),
              limit_kg=limit)
        for key, name, where, limit in (
            ("roof", "the roof", "roof", allowed.roof),
            ("door", "the door", "door", allowed.door),
            ("behind_bumper", "the bumper's carrier", "behind bumper", allowed.behind_bumper),
        )
        for there in [[x for x in (*lines, *weighed_with(vehicle)) if x.where == where]]
    ]  # fmt: skip
    return (
        Limit(key="front", name="the front axle", value_kg=axles.front_kg, u_kg=u_front,
              limit_kg=allowed.front),
        Limit(key="rear", name="the rear axle", value_kg=axles.rear_kg, u_kg=u_rear,
              limit_kg=allowed.rear),
        Limit(key="gross", name="the vehicle", value_kg=axles.total_kg, u_kg=u_gross,
              limit_kg=allowed.gross),
        *carried,
    )  # fmt: skip


def _settling(vehicle: VehicleSpec, added: AxleLoads, end: str) -> Settling | None:
    spring: SpringSpec | None = getattr(vehicle.springs, end, None)
    if spring is None:
        return None
    more_kg = added.front_kg if end == "front" else added.rear_kg
    wheels = 2.0 if spring.per == "wheel" else 1.0
    bags = spring.airbags
    if bags is None:
        return Settling(down=settles_on_air(more_kg, wheels * spring.rate, NO_AIR, NO_AIR))
    table = [
        AirState(row.pressure, wheels * row.carries, wheels * (row.rate or 0.0))
        for row in bags.rows
    ]
    before = air_at(table, bags.as_weighed)
    now = before if bags.set_to is None else air_at(table, bags.set_to)
    return Settling(
        down=settles_on_air(more_kg, wheels * spring.rate, before, now),
        air_bar=now.pressure_bar,
        level_bar=levelling_pressure(table, before, more_kg),
    )
