"""Masses with their centres of gravity, where each is known from and how well, and their sums."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from fitout.model.module import Part
from fitout.model.placement import Vector
from fitout.model.vehicle import CarriedWhere


@dataclass(frozen=True, slots=True)
class Load:
    """A mass and its centre of gravity in bay coordinates."""

    mass_kg: float
    centre: Vector


class Known(StrEnum):
    """Where a mass is known from."""

    COMPUTED = "computed"
    CATALOGUE = "catalogue"
    WEIGHED = "weighed"
    ENTERED = "entered"


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerLine:
    """One mass of the ledger, in bay coordinates; below 0 for what is no longer there.

    `group` is the module, person or place it belongs to, `kind` what it is ("panel", "item",
    "contents", "water", "person", ...). `u_kg` is its standard uncertainty; what has the same
    `shared` errs together (panels of one sheet are all too heavy, or none). `basis` says how the
    mass was found. `where` is where the vehicle carries it. What is `loose` can be packed
    elsewhere or left at home; a liquid has its mass by the litre, `kg_per_litre`.
    """

    name: str
    group: str
    kind: str
    mass_kg: float
    centre: Vector
    known: Known
    u_kg: float
    basis: str
    shared: str = ""
    where: CarriedWhere = "inside"
    loose: bool = False
    kg_per_litre: float | None = None

    @property
    def load(self) -> Load:
        """The mass and its centre alone."""
        return Load(self.mass_kg, self.centre)


@dataclass(frozen=True, slots=True)
class LedgerSum:
    """A sum of the ledger: mass in kg, its standard uncertainty, its centre of gravity."""

    mass_kg: float
    u_kg: float
    centre: Vector


def load_of(part: Part) -> Load:
    """A part's own mass; an item is empty."""
    return Load(part.mass_kg, part.centroid)


def together(loads: Iterable[Load]) -> Load:
    """One load for many: the sum, at the mass-weighted centre."""
    listed = [load for load in loads if load.mass_kg > 0.0]
    mass = sum(load.mass_kg for load in listed)
    if not mass:
        return Load(0.0, (0.0, 0.0, 0.0))
    x, y, z = (sum(load.mass_kg * load.centre[k] for load in listed) / mass for k in range(3))
    return Load(mass, (x, y, z))


def summed(lines: Iterable[LedgerLine]) -> LedgerSum:
    """The sum of lines, with its uncertainty; the centre counts what is above 0 only."""
    listed = list(lines)
    centre = together(line.load for line in listed).centre
    return LedgerSum(sum(x.mass_kg for x in listed), combined_u(listed), centre)


def combined_u(lines: Iterable[LedgerLine], lever: tuple[float, float] = (1.0, 0.0)) -> float:
    """Standard uncertainty of Σ (c0 + c1 x) m over the lines, kg, `lever` being c0 and c1.

    Lines that err together add up, the rest add in squares: Guide to the expression of
    uncertainty in measurement (JCGM 100), 5.1 and 5.2, places taken as known.
    """
    alone, together_u = 0.0, dict[str, float]()
    for line in lines:
        term = (lever[0] + lever[1] * line.centre[0]) * line.u_kg
        if line.shared:
            together_u[line.shared] = together_u.get(line.shared, 0.0) + term
        else:
            alone += term**2
    return math.sqrt(alone + sum(u**2 for u in together_u.values()))
