"""All checks in running order, and the totals of a fit-out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from fitout.checks.arrangement import check_arrangement, check_remarks, check_sheets
from fitout.checks.as_built import check_as_built
from fitout.checks.closing import check_closing
from fitout.checks.cost import check_cost
from fitout.checks.entries import check_boards, check_left_on
from fitout.checks.fixings import check_fixings
from fitout.checks.gaps import check_gaps
from fitout.checks.going_in import check_going_in
from fitout.checks.hand_room import check_hand_room
from fitout.checks.kept_places import check_kept_places
from fitout.checks.latches import check_latches
from fitout.checks.ledger import together
from fitout.checks.lifting import check_lifting
from fitout.checks.mass import check_mass, contents_of, empty_of, hardware_kg
from fitout.checks.motions import check_motions
from fitout.checks.open_together import check_open_together
from fitout.checks.opening_force import check_opening_force
from fitout.checks.order import check_order, check_removal
from fitout.checks.rattle import check_rattle
from fitout.checks.reach import check_reach
from fitout.checks.restraint import check_restraint
from fitout.checks.restraint_barrier import check_barrier
from fitout.checks.restraint_catches import check_catches
from fitout.checks.restraint_straps import check_straps
from fitout.checks.routing import check_routing
from fitout.checks.stock import check_stock
from fitout.checks.strength import check_strength
from fitout.checks.subject import Subject
from fitout.checks.survey import check_survey
from fitout.checks.tank import check_tank
from fitout.checks.tipping import check_tipping
from fitout.checks.tool_access import check_tool_access
from fitout.checks.trips import check_trips
from fitout.checks.vehicle import check_vehicle
from fitout.checks.zones import check_voids, check_zones
from fitout.model.finding import WORST_FIRST, Finding, Severity
from fitout.model.module import Part

Check = Callable[[Subject], Iterator[Finding]]

CHECKS: tuple[Check, ...] = (
    check_survey,
    check_arrangement,
    check_as_built,
    check_gaps,
    check_tank,
    check_motions,
    check_open_together,
    check_latches,
    check_closing,
    check_zones,
    check_voids,
    check_hand_room,
    check_reach,
    check_kept_places,
    check_opening_force,
    check_strength,
    check_tipping,
    check_fixings,
    check_order,
    check_removal,
    check_tool_access,
    check_sheets,
    check_stock,
    check_routing,
    check_boards,
    check_left_on,
    check_going_in,
    check_lifting,
    check_mass,
    check_vehicle,
    check_trips,
    check_cost,
    check_rattle,
    check_remarks,
    check_restraint,
    check_barrier,
    check_catches,
    check_straps,
)

ORDER = WORST_FIRST

PEOPLE = frozenset(
    {
        "crash", "catches in a crash", "restraint", "barrier", "strap", "loose goods",
        "lock holds", "axle load", "gross mass",
    }
)  # fmt: skip
"""Codes of findings about what may hurt people: these cautions come first."""

COMFORT = frozenset(
    {"carried in", "drawer pull", "lid force", "reach", "rattle", "motion, packed", "cost"}
)
"""Codes of findings about what is only tedious: these cautions come last."""


def findings(
    subject: Subject,
    before: Iterable[Finding] = (),
    told: Callable[[str], None] | None = None,
) -> tuple[Finding, ...]:
    """Every finding, what hurts most first, else `before` and then in the order of the checks.

    `told` hears what is about to be checked.
    """
    # While wishes collide there is no room to check anything in: the cause must not drown.
    # A note that is wrong may be that cause.
    checks = (check_survey, check_arrangement) if subject.conflicts else CHECKS
    found = [*before]
    for check in checks:
        if told is not None:
            told(check.__name__.removeprefix("check_").replace("_", " "))
        found += check(subject)
    return in_order(found)


def in_order(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """What hurts most first, else as it stands."""
    return tuple(sorted(found, key=rank))


def rank(finding: Finding) -> tuple[int, int]:
    """By severity; cautions then by whom they hurt. Failings keep the order of causes."""
    severity = ORDER.index(finding.severity)
    if finding.severity is not Severity.CAUTION:
        return severity, 0
    return severity, 0 if finding.code in PEOPLE else 2 if finding.code in COMFORT else 1


def totals(subject: Subject, found: tuple[Finding, ...]) -> dict[str, object]:
    """Masses in kg, centre of gravity in mm, counts of findings and parts."""
    modules = subject.fitout.modules
    panels = [p for m in modules for p in m.panels]
    bars = [b for m in modules for b in m.bars]
    items = [i for m in modules for i in m.items]
    hardware = sum(hardware_kg(subject, m) for m in modules)
    contents = together(contents_of(subject, m) for m in modules)
    empty = together(empty_of(subject, m) for m in modules)
    laden = together([empty, contents])
    return {
        "panels": len(panels),
        "panels_kg": _sum_kg(subject, panels),
        "bars_kg": _sum_kg(subject, bars),
        "items_kg": _sum_kg(subject, items),
        "hardware_kg": round(hardware, 3),
        "empty_kg": round(empty.mass_kg, 3),
        "contents_kg": round(contents.mass_kg, 3),
        "laden_kg": round(laden.mass_kg, 3),
        "centre_of_gravity_mm": [round(c, 1) for c in laden.centre],
        **{str(s): sum(1 for f in found if f.severity is s) for s in ORDER},
    }


def _sum_kg(subject: Subject, parts: Iterable[Part]) -> float:
    return round(sum(subject.loads[part.id].mass_kg for part in parts), 3)
