"""Water drawn through a hose by its own weight: how fast, and how long for ten litres."""

from __future__ import annotations

from collections.abc import Iterator

from fitout.checks.trip_plan import Plan, Tank
from fitout.checks.verdict import fact, remark
from fitout.mechanics.hose import drawing_time_s, gravity_flow_l_min
from fitout.model.finding import Finding, Severity

INLET, OUTLET = 0.5, 1.0
"""Velocity heads lost where a hose leaves a tank with a sharp edge, and where it ends
(from memory, any text on hydraulics)."""

POURED_L = 10.0
"""What one fetches in a can."""

SOURCE = "Darcy and Weisbach, Colebrook's friction factor; losses of fittings: common practice"


def hose_findings(plan: Plan) -> Iterator[Finding]:
    """For each tank the flow at the start and the time for ten litres, full and at the end."""
    for tank in plan.ground.tanks:
        yield _finding(plan, tank)


def _finding(plan: Plan, tank: Tank) -> Finding:
    hose = plan.spec.water.hose
    where = f"{plan.name}: hose of {tank.id}"
    length = tank.hose if hose.length is None else hose.length
    top = tank.bottom + tank.height * plan.water_start_l / plan.ground.water_holds_l
    low = tank.bottom + tank.height * tank.dead_l / tank.holds_l
    share = plan.water_start_l / plan.ground.water_holds_l
    there = max(0.0, share * tank.holds_l - tank.dead_l)
    litres = min(POURED_L, there)
    if low <= hose.outlet or not litres:
        stays = min(1.0, max(0.0, (hose.outlet - tank.bottom) / tank.height)) * tank.holds_l
        sentence = (
            f"The hose's end at {hose.outlet:.0f} above the floor lies no lower than the tap: "
            f"{max(stays, tank.dead_l):.1f} l of {tank.id} do not run out by themselves. Lower it, "
            "or pump."
        )
        return remark("trip hose", where, Severity.CAUTION, sentence, SOURCE)
    losses = INLET + hose.fittings + OUTLET
    flow = gravity_flow_l_min(top - hose.outlet, length, hose.bore, losses)
    last = low + litres / tank.holds_l * tank.height
    first_s, last_s = (
        drawing_time_s(litres, tank.holds_l / tank.height, head, length, hose.bore, losses)
        for head in (top - hose.outlet, last - hose.outlet)
    )
    sentence = (
        f"The first {litres:g} l of {tank.id} run in {_time(first_s)}, the last in "
        f"{_time(last_s)}: {flow:.1f} l/min at first, under {top - hose.outlet:.0f} mm of water, "
        f"through {length / 1000.0:.2g} m of {hose.bore:g} mm bore, {losses:g} velocity heads lost."
    )
    return fact("trip hose", where, first_s, "s", sentence, SOURCE)


def _time(seconds: float) -> str:
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes} min {rest:02d} s" if minutes else f"{rest} s"
