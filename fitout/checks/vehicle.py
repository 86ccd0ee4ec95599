"""The vehicle under the fit-out: axles, gross mass, roof and door, height, left and right.

Three states, each by moments: as weighed, with the fit-out empty, and laden. Laden counts what
the fit-out carries when full, whatever the vehicle carries besides, a full tank, and who usually
sits where.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from dataclasses import dataclass

from fitout.checks.ledger import LedgerLine
from fitout.checks.mass_lines import empty_lines, held_lines
from fitout.checks.subject import Subject
from fitout.checks.vehicle_cures import cures
from fitout.checks.vehicle_lines import carried_lines, fuel_line, seat_line
from fitout.checks.vehicle_state import (
    Limit,
    Settling,
    VehicleState,
    track_of,
    vehicle_state,
)
from fitout.checks.verdict import COMMON_PRACTICE, at_most, fact, remark
from fitout.model.finding import Finding, Severity
from fitout.model.vehicle import VehicleSpec

COVERAGE = 2.0
"""A margin below so many standard uncertainties is not sure: about 95 % (JCGM 100, 6.3.3)."""

SIDE_SHARE = 0.025
"""Each side may bear half the mass, more or less by this share of it (common practice)."""

STATICS = "statics by moments"
NO_APPROVAL = (
    "Weigh the vehicle laden. This is no approval under any regulation: its maker's limits, local "
    "rules and licensed practice decide."
)
OUTSIDE = {"roof": "roof load", "door": "door load", "behind_bumper": "behind bumper load"}
"""What is carried outside, by its limit's entry, and the finding's code."""

STATES = ("as weighed", "with the fit-out empty", "laden")


@dataclass(frozen=True, slots=True)
class States:
    """The vehicle as weighed, with the fit-out empty, and laden; `lines` are what makes it so."""

    vehicle: VehicleSpec
    lines: tuple[LedgerLine, ...]
    weighed: VehicleState
    empty: VehicleState
    laden: VehicleState

    def each(self) -> tuple[tuple[str, VehicleState], ...]:
        """The three by their names."""
        return tuple(zip(STATES, (self.weighed, self.empty, self.laden), strict=True))


def vehicle_lines(vehicle: VehicleSpec) -> tuple[LedgerLine, ...]:
    """Who and what is in and on the vehicle when laden, the fit-out apart."""
    people = [seat_line(seat, seat.person) for seat in vehicle.seats if seat.person]
    tank = vehicle.fuel
    fuel = [] if tank is None else [fuel_line(vehicle, tank.holds)]
    return (*carried_lines(vehicle), *fuel, *people)


def laden_lines(subject: Subject) -> tuple[LedgerLine, ...]:
    """The whole ledger: the fit-out, what it holds, and what else is in the vehicle."""
    besides = () if subject.vehicle is None else vehicle_lines(subject.vehicle)
    return (*empty_lines(subject), *held_lines(subject), *besides)


def states(subject: Subject) -> States | None:
    """The vehicle before and after; None where no vehicle was entered."""
    vehicle = subject.vehicle
    if vehicle is None:
        return None
    lines = laden_lines(subject)
    return States(
        vehicle,
        lines,
        vehicle_state(vehicle, ()),
        vehicle_state(vehicle, empty_lines(subject)),
        vehicle_state(vehicle, lines),
    )


def check_vehicle(subject: Subject) -> Iterator[Finding]:
    """Every limit of the vehicle's maker, how low it sits, and what could not be checked."""
    told = states(subject)
    if told is None:
        sentence = (
            "Axle loads, payload and gross vehicle mass were not checked: enter `vehicle:` with "
            "its rear axle, wheelbase, kerb masses as weighed and its maker's limits. Its maker's "
            "limits and local law decide."
        )
        yield remark("vehicle data", subject.fitout.name, Severity.UNCHECKED, sentence)
        return
    for key in ("front", "rear"):
        yield from _axle(told, key)
    yield from _gross(told)
    for key in OUTSIDE:
        yield from _outside(told, key)
    yield from _heights(told)
    yield from _sides(told)
    yield from _rollover(told)
    yield from _wanting(told)


def _judged(told: States, limit: Limit, code: str, sentence: str) -> Iterator[Finding]:
    """A limit against what there is; a caution where the margin is not sure."""
    if limit.limit_kg is None:
        return
    margin, u_kg = limit.limit_kg - limit.value_kg, limit.u_kg
    if margin < 0.0:
        ways = cures(told.vehicle, told.lines)
        advice = " or ".join(cure.words for cure in ways)
        if advice:
            sentence += f" To pass, {advice}."
        else:
            sentence += " Nothing that can be left out or moved is enough: build it lighter."
    source = f"{STATICS}; limit: {told.vehicle.limits.source}; uncertainty: JCGM 100"
    finding = at_most(
        code,
        limit.name,
        limit.value_kg,
        limit.limit_kg,
        "kg",
        f"{sentence} {NO_APPROVAL}",
        source,
    )
    if finding.severity is Severity.PASS and margin < COVERAGE * u_kg:
        finding = dataclasses.replace(finding, severity=Severity.CAUTION)
    yield dataclasses.replace(finding, u=round(u_kg, 4))


def _left(limit: Limit) -> str:
    """How much is allowed and left, in words."""
    margin = limit.margin_kg or 0.0
    left = f"{margin:.0f} kg are left" if margin >= 0.0 else f"that is {-margin:.0f} kg too much"
    unsure = ""
    if 0.0 <= margin < COVERAGE * limit.u_kg:
        unsure = ", which is not sure"
    return (
        f"{limit.limit_kg:.0f} kg are allowed, {left}{unsure} (standard uncertainty "
        f"{limit.u_kg:.0f} kg)"
    )


def _axle(told: States, key: str) -> Iterator[Finding]:
    """An axle before and after, with the moments behind it."""
    limit = told.laden.limit(key)
    if limit.limit_kg is None:
        return
    was, empty = told.weighed.limit(key).value_kg, told.empty.limit(key).value_kg
    load = told.laden.total_kg - told.weighed.total_kg
    front = told.laden.axles.front_kg - told.weighed.axles.front_kg
    base = told.vehicle.wheelbase
    ahead = front * base / load if load else 0.0
    place = f"{abs(ahead):.0f} mm {'ahead of' if ahead >= 0.0 else 'behind'} the rear axle"
    share = f"{load:.0f} x {ahead:.0f} / {base:.0f} = {front:+.0f} kg"
    if key == "rear":
        share = f"{load:.0f} x ({base:.0f} - {ahead:.0f}) / {base:.0f} = {load - front:+.0f} kg"
    sentence = (
        f"{limit.name[0].upper()}{limit.name[1:]} bears {was:.0f} kg as weighed, {empty:.0f} kg "
        f"with the fit-out empty and {limit.value_kg:.0f} kg laden; {_left(limit)}. By moments: "
        f"all that comes in, {load:.0f} kg, lies on average {place}, which here makes {share}."
    )
    yield from _judged(told, limit, "axle load", sentence)


def _gross(told: States) -> Iterator[Finding]:
    """Gross mass and what is left of the payload."""
    limit = told.laden.limit("gross")
    assert limit.limit_kg is not None
    payload = limit.limit_kg - told.weighed.total_kg
    sentence = (
        f"The vehicle weighs {told.weighed.total_kg:.0f} kg as weighed, {told.empty.total_kg:.0f} "
        f"kg with the fit-out empty and {limit.value_kg:.0f} kg laden, people and fuel included "
        f"as entered; {_left(limit)}. Of a payload of {payload:.0f} kg the fit-out takes "
        f"{told.empty.total_kg - told.weighed.total_kg:.0f} kg."
    )
    yield from _judged(told, limit, "gross mass", sentence)


def _outside(told: States, key: str) -> Iterator[Finding]:
    """What is on the roof, on a door or behind the bumper against its limit."""
    limit = told.laden.limit(key)
    if limit.limit_kg is None or not limit.value_kg:
        return
    sentence = (
        f"{limit.name[0].upper()}{limit.name[1:]} carries {limit.value_kg:.0f} kg; "
        f"{_left(limit)}; what its rack or carrier itself may bear counts as well."
    )
    yield from _judged(told, limit, OUTSIDE[key], sentence)


def _heights(told: States) -> Iterator[Finding]:
    """How far each axle comes down, the pitch, and the pressure that would level it."""
    ends = [
        (name, now, before)
        for name, now, before in (
            ("front", told.laden.front, told.empty.front),
            ("rear", told.laden.rear, told.empty.rear),
        )
        if now is not None and before is not None
    ]
    source = "Hooke's law, rates as entered; tyres and the springs' own progression left out"
    for name, now, before in ends:
        sentence = (
            f"The {name} comes to sit {_down(before.down)} with the fit-out empty and "
            f"{_down(now.down)} laden: the axle's further load over its rate."
        )
        if now.air_bar is not None:
            sentence += f" {_levelling(now)}"
        yield fact("ride height", f"the {name} axle", now.down, "mm", sentence, source)
    pitch = told.laden.pitch_deg
    if pitch is not None:
        way = "tail down" if pitch >= 0.0 else "nose down"
        sentence = (
            f"Laden, the vehicle pitches {abs(pitch):.1f}° {way} from how it stood when weighed; "
            "headlamps aim higher by as much if the tail goes down: set them."
        )
        yield fact("pitch", told.laden.limit("gross").name, pitch, "deg", sentence, source)


def _down(down: float) -> str:
    if abs(down) < 0.5:
        return "as high as when weighed"
    return f"{abs(down):.0f} mm {'lower' if down > 0.0 else 'higher'} than as weighed"


def _levelling(now: Settling) -> str:
    """The air springs' pressure now and the one that would level the axle."""
    held = f"Its air springs are at {now.air_bar:.2g} bar; "
    if now.level_bar is None:
        return f"{held}no pressure of their table brings it level."
    return f"{held}{now.level_bar:.2g} bar would bring it level."


def _sides(told: States) -> Iterator[Finding]:
    """How the mass is shared by left and right wheels."""
    share, before = told.laden.left_share, told.weighed.left_share
    track = track_of(told.vehicle)
    if share is None or before is None or track is None:
        return
    off = share - 0.5
    side = "left" if off >= 0.0 else "right"
    heavier = 2.0 * abs(off) * told.laden.total_kg
    sentence = (
        f"Laden, the {side} wheels bear {50.0 + 100.0 * abs(off):.1f} % of the mass, "
        f"{heavier:.0f} kg more than the others ({100.0 * before:.1f} % left as weighed"
        f"{'' if told.vehicle.kerb.left else ', taken as even'}); "
        f"by moments, half and the sum of mass x offset over mass x track of {track:.0f} mm."
    )
    most = 50.0 + 100.0 * SIDE_SHARE
    finding = at_most(
        "left and right",
        told.laden.limit("gross").name,
        50.0 + 100.0 * abs(off),
        most,
        "%",
        sentence,
        f"{STATICS}; limit: {COMMON_PRACTICE}",
    )
    if finding.severity is Severity.FAIL:
        lighter = "right" if side == "left" else "left"
        sentence += f" Above {most:g} % move something heavy to the {lighter}."
        finding = dataclasses.replace(finding, severity=Severity.CAUTION, sentence=sentence)
    yield finding


def _rollover(told: States) -> Iterator[Finding]:
    """Half the track over the height of the centre of gravity, before and after."""
    before, now = told.weighed.rollover_g, told.laden.rollover_g
    if before is None or now is None:
        return
    sentence = (
        f"The centre of gravity comes to lie {told.laden.height:.0f} mm above the ground, from "
        f"{told.weighed.height:.0f} mm as weighed: half the track over that height goes from "
        f"{before:.2f} to {now:.2f} g. Springs and tyres let a vehicle tip earlier; this compares "
        "one load with another and is no limit."
    )
    source = "static stability factor t/2h: equilibrium of moments about the outer wheels"
    yield fact("roll-over threshold", told.laden.limit("gross").name, now, "g", sentence, source)


def _wanting(told: States) -> Iterator[Finding]:
    """What was not checked because an entry is missing."""
    vehicle, laden = told.vehicle, told.laden
    wanting = [
        f"{limit.name} (`limits: {limit.key}`)"
        for limit in laden.limits
        if limit.limit_kg is None and (limit.value_kg or limit.key in ("front", "rear"))
    ]
    springs = vehicle.springs
    if springs is None or springs.front is None or springs.rear is None:
        wanting.append("how low it sits (`springs`)")
    if laden.left_share is None:
        wanting.append("left and right (`track`)")
    if laden.rollover_g is None:
        wanting.append("the centre's height (`track`, `floor_height`, `kerb: height`)")
    if not vehicle.seats:
        wanting.append("people (`seats`)")
    if vehicle.fuel is None:
        wanting.append("fuel (`fuel`)")
    if wanting:
        sentence = (
            f"Not checked of the vehicle, for want of entries under `vehicle:`: "
            f"{', '.join(wanting)}."
        )
        yield remark("vehicle data", laden.limit("gross").name, Severity.UNCHECKED, sentence)
