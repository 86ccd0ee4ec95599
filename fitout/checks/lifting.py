"""What is too heavy or too bulky for one person to carry in."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator

from fitout.checks.freeing import corners_of
from fitout.checks.subassemblies import SubAssembly, sub_assemblies
from fitout.checks.subject import Subject
from fitout.checks.verdict import at_most
from fitout.checks.ways_in import carried_as
from fitout.mechanics.lifting import REFERENCE_KG, Lift, reach_for, recommended_weight
from fitout.model.finding import Finding, Severity

CODE = "carried in"
SOURCE = "ISO 11228-1 reference mass; NIOSH 94-110 lifting equation, hands at knuckle height"


def check_lifting(subject: Subject) -> Iterator[Finding]:
    """Each thing carried in that weighs more than one person should lift, in pieces if it must."""
    for sub in sub_assemblies(subject):
        if subject.modules[sub.module].berth is None:
            continue
        for piece in carried_as(subject, sub):
            found = _lifted(piece)
            if found.severity is not Severity.PASS:
                yield found


def limit_kg(piece: SubAssembly) -> float:
    """The most one person should lift of a thing of this shape, kg.

    Held against the body by its shallowest side, raised least, straight ahead, now and then,
    with a fair grip: what NIOSH's equation allows at its best, and never more than ISO's
    reference mass.
    """
    points = corners_of(piece.bodies)
    depth_cm = float((points.max(axis=0) - points.min(axis=0)).min()) / 10.0
    lift = Lift(reach=reach_for(depth_cm), height=75.0, travel=25.0)
    return min(REFERENCE_KG, recommended_weight(lift))


def _lifted(piece: SubAssembly) -> Finding:
    limit = limit_kg(piece)
    people = math.ceil(piece.mass_kg / limit - 1e-9) if limit else 2
    sentence = (
        f"{piece.id} weighs {piece.mass_kg:.1f} kg empty; of a thing so bulky one person should "
        f"lift no more than {limit:.0f} kg: carry it in with {people} people."
    )
    found = at_most(CODE, piece.id, piece.mass_kg, limit, "kg", sentence, SOURCE)
    if found.severity is Severity.FAIL:
        return dataclasses.replace(found, severity=Severity.CAUTION)
    return found
