"""What is too heavy or too bulky for one person to carry in."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator

from fitout.checks.order import plan
from fitout.checks.subassemblies import SubAssembly, limit_kg
from fitout.checks.subject import Subject
from fitout.checks.verdict import at_most
from fitout.model.finding import Finding, Severity

CODE = "carried in"
SOURCE = "ISO 11228-1 reference mass; NIOSH 94-110 lifting equation, hands at knuckle height"


def check_lifting(subject: Subject) -> Iterator[Finding]:
    """Each thing carried in that weighs more than one person should lift, in pieces if it must."""
    for node in plan(subject).nodes.values():
        if subject.modules[node.sub.module].berth is None:
            continue
        found = _lifted(node.sub)
        if found.severity is not Severity.PASS:
            yield found


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
