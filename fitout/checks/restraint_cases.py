"""What the fit-out must hold against: everyday cases with their source, and a crash of our own.

A case is an acceleration of the vehicle, told by the way it throws the goods. In everyday cases
nothing may yield; in the crash nothing may come loose, what is bent stays bent. The crash is a
prudent proposal and no rule: above 100 % it is a caution, while the everyday cases fail.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from fitout.checks.subject import Subject
from fitout.mechanics.bolts import Basis
from fitout.model.restraint import CaseSet

NO_APPROVAL = "No approval under any regulation; local rules and licensed practice decide."

UP_G = 0.2
"""Share of their weight that goods lose over bumps: the guide's 0.2 g (NTC 2018)."""

FORWARD, REARWARD = (1.0, 0.0, 0.0), (-1.0, 0.0, 0.0)
LEFT, RIGHT, UP = (0.0, 1.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0)


@dataclass(frozen=True, slots=True)
class Case:
    """The goods are thrown along `way` with `g` while `weight` of their weight presses down."""

    name: str
    way: tuple[float, float, float]
    g: float
    weight: float
    basis: Basis
    source: str

    @property
    def words(self) -> str:
        """Such as "braking at 0.8 g"."""
        return f"{self.name} at {self.g:g} g"


@dataclass(frozen=True, slots=True)
class Row:
    """Accelerations of a set, in g, up to a gross mass in kg (None: any)."""

    forward: float
    rearward: float
    sideways: float
    source: str
    most_kg: float | None = None


_VDI = "VDI 2700 sheet 16 by gross mass, as in Fig. 1 of ESV paper 09-0008"

SETS: Mapping[CaseSet, tuple[Row, ...]] = MappingProxyType(
    {
        "road transport guide": (
            Row(0.8, 0.5, 0.5, "Load Restraint Guide (NTC, 2018), performance standards"),
        ),
        "by mass class": (
            Row(0.9, 0.5, 0.7, f"{_VDI}, up to 2.0 t", 2000.0),
            Row(
                0.9,
                0.5,
                0.7,
                f"{_VDI}, 2.0 to 3.5 t: the figure says 0.8 and 0.6, the text 0.9 and 0.7; the "
                "larger is taken",
                3500.0,
            ),
            Row(0.8, 0.5, 0.5, f"{_VDI}, above 3.5 t"),
        ),
    }
)
"""The everyday cases that a design may choose from."""

CRASH_SOURCE = (
    "our own prudent proposal: 20 g forward, 10 g rearward, sideways and up, held without coming "
    "loose; no approval under UN R17, UN R126, ISO 27956 or AS/NZS 4034"
)
CRASH_FORWARD_G, CRASH_G = 20.0, 10.0


def row_of(chosen: CaseSet, gross_kg: float | None) -> Row:
    """The row of a set for a gross mass; with no mass known, the one that asks most."""
    rows = SETS[chosen]
    if gross_kg is None:
        return max(rows, key=lambda row: row.forward + row.rearward + row.sideways)
    return next(row for row in rows if row.most_kg is None or gross_kg <= row.most_kg)


def everyday(subject: Subject) -> tuple[Case, ...]:
    """Braking, starting off, and a bend either way, by the design's set."""
    limits = None if subject.vehicle is None else subject.vehicle.limits
    row = row_of(subject.restraint.set, None if limits is None else limits.gross)
    ways = (
        ("braking", FORWARD, row.forward),
        ("starting off, or braking backwards,", REARWARD, row.rearward),
        ("in a bend to the right", LEFT, row.sideways),
        ("in a bend to the left", RIGHT, row.sideways),
    )
    return tuple(Case(n, way, g, 1.0 - UP_G, "working", row.source) for n, way, g in ways)


def crash(subject: Subject) -> tuple[Case, ...]:
    """The crash by our own proposal; weight is not counted on. None where it is not wished."""
    if not subject.restraint.crash:
        return ()
    ways = (
        ("thrown forward", FORWARD, CRASH_FORWARD_G),
        ("thrown rearward", REARWARD, CRASH_G),
        ("thrown to the left", LEFT, CRASH_G),
        ("thrown to the right", RIGHT, CRASH_G),
        ("thrown up", UP, CRASH_G),
    )
    return tuple(Case(n, way, g, 0.0, "ultimate", CRASH_SOURCE) for n, way, g in ways)
