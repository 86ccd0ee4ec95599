"""What decides where the vehicle's surface is, for a gap that it doesn't change.

A part that is scribed to a wall, or placed by it, moves with every measured number of that wall:
the gap stays. What the numbers then do decide is where both are.
"""

from __future__ import annotations

import numpy as np

from fitout.answers.why import BETWEEN, Answer, Measure, Values
from fitout.checks.subject import Subject
from fitout.clearance.witness import closest
from fitout.cutting.scribing import nearest
from fitout.model.finding import Finding

AWAY = 50.0
"""How far from the part's nearest point, away from the surface, the surface is looked at, mm."""

LEAST = 0.05
"""A change of a gap that is less than this, mm, is a facet of the surface, not its place."""

MEASURED = "bay."
"""What the names of the vehicle's measured numbers begin with."""


def followed(subject: Subject, finding: Finding, answer: Answer | None) -> str | None:
    """The surface, by its id, whose numbers a gap to it does not hang on; None if there is none."""
    _, _, surface = finding.where.partition(BETWEEN)
    if answer is None or not answer.values or surface not in subject.obstacles:
        return None
    if subject.obstacles[surface].kind == "keep clear":
        return None
    moved = (one.figure.name for one in answer.influences if one.up is None or one.size > LEAST)
    return None if any(name.startswith(MEASURED) for name in moved) else surface


def surface_values(subject: Subject, part: str, surface: str) -> Measure:
    """How far a surface is from a fixed point beside the part, where part and surface are nearest.

    The point lies `AWAY` behind the part's nearest point, so the surface does not pass it.
    """
    near = closest(subject.bodies[part], subject.bodies[surface])
    here, there = np.array(near.point_a), np.array(near.point_b)
    apart = float(np.linalg.norm(here - there))
    point = here + (here - there) * (AWAY / apart if apart else 0.0)

    def measure(other: Subject) -> Values:
        obstacle = other.obstacles.get(surface)
        if obstacle is None:
            return {}
        corners = obstacle.vertices[obstacle.triangles.astype(np.int64)]
        spots = nearest(point[None], np.asarray(corners, dtype=np.float64))[0]
        return {"place": float(np.linalg.norm(spots - point, axis=1).min())}

    return measure
