"""What a step's picture shows: what is there, what is new, from which corner it is seen best."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from fitout.clearance.convex import hull_of, mesh_of
from fitout.documents.dossier import Dossier
from fitout.documents.pictures import arch_corners, floor_corners
from fitout.documents.view import CORNERS, Eye
from fitout.documents.views.forms import Form, extent, part_form
from fitout.documents.views.sight import seen_counts
from fitout.model.assembly import Step

PLACES = 45.0
"""So many places in a row across the new parts are looked at to tell how much is seen."""

FLOOR = 4.0
"""The floor is drawn so thick, mm."""

FEW = 2
"""A part of which no more places than this are seen counts as hidden."""

WELL, BARELY = 0.45, 0.2
"""Seen so much, the usual corner serves; seen no more than that, it is shown through."""


@dataclass(frozen=True, slots=True, eq=False)
class Stage:
    """A step's picture: all forms, the ids of the new ones, the eye, whether seen through."""

    forms: tuple[Form, ...]
    new: frozenset[str]
    eye: Eye
    through: bool


@dataclass(frozen=True, eq=False)
class Staging:
    """Sets the stage of each step; without slots, for what is worked out once."""

    dossier: Dossier

    @cached_property
    def forms(self) -> Mapping[str, Form]:
        """Every part."""
        return {id_: part_form(part) for id_, part in self.dossier.subject.parts.items()}

    @cached_property
    def vehicle(self) -> tuple[Form, ...]:
        """Floor and wheel arches, so that one sees where in the vehicle things stand."""
        bay = self.dossier.fitout.bay
        floor = floor_corners(bay)
        below = floor - [0.0, 0.0, FLOOR]
        solids = [*arch_corners(bay), np.vstack([floor, below])]
        return tuple(
            Form(f"vehicle {k}", *mesh_of(hull_of(corners))) for k, corners in enumerate(solids)
        )

    def stage(self, step: Step) -> Stage:
        """What the picture of a step shows."""
        there = [self.forms[id_] for id_ in self._before(step)]
        new = [self.forms[id_] for id_ in step.parts]
        if step.phase == "vehicle" and self._in_bay(step):
            there += self.vehicle
        forms = (*there, *new)
        eye, share = _best_eye(forms, len(there), each=step.phase == "bench")
        return Stage(forms, frozenset(step.parts), eye, share < BARELY)

    def _before(self, step: Step) -> list[str]:
        """The parts that are there already: of the same assembly, or in the vehicle."""
        found: list[str] = []
        for other in self.dossier.steps[: step.number - 1]:
            if other.phase != step.phase:
                continue
            bench = other.what == step.what
            vehicle = self._in_bay(other) and self._in_bay(step)
            same = other.what.partition(":")[0] == step.what.partition(":")[0]
            if bench if step.phase == "bench" else (vehicle or (same and not self._in_bay(step))):
                found += [id_ for id_ in other.parts if id_ not in step.parts]
        return list(dict.fromkeys(found))

    def _in_bay(self, step: Step) -> bool:
        return all(self.dossier.subject.in_bay(id_) for id_ in step.parts)


def _best_eye(forms: Sequence[Form], there: int, *, each: bool) -> tuple[Eye, float]:
    """The corner from which what is new is seen well, the usual ones first, and how well.

    With `each`, none of it should be hidden altogether, as rails are by the panel they hold.
    """
    shares: list[tuple[bool, float]] = []
    for eye in CORNERS:
        share, whole = _seen_share(forms, there, eye)
        whole = whole or not each
        if whole and share >= WELL:
            return eye, share
        shares.append((whole and share >= BARELY, share))
    best = max(range(len(CORNERS)), key=lambda k: (*shares[k], -k))
    # Where no corner shows it, the usual one is the easiest to find one's way in.
    chosen = 0 if shares[best][1] < BARELY else best
    return CORNERS[chosen], shares[chosen][1]


def _seen_share(forms: Sequence[Form], there: int, eye: Eye) -> tuple[float, bool]:
    """How much of what is new is seen, of what were seen if nothing else stood there.

    And whether something is seen of each part of it.
    """
    new = forms[there:]
    low, high = extent(new)
    spacing = float(np.linalg.norm(high - low)) / PLACES
    alone, seen = seen_counts(new, forms[:there], eye, spacing)
    shares = seen[alone > 0] / alone[alone > 0]
    return float(np.mean(shares)) if len(shares) else 0.0, bool(np.all(seen > FEW))
