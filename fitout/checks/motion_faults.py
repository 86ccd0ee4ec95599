"""Motions that can't be: no range, an axis inside what turns, motions that wait for each other."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE, remark
from fitout.clearance.body import Body
from fitout.clearance.convex import Array
from fitout.model.finding import Finding, Severity
from fitout.model.module import Motion, MotionKind

INSIDE = 0.5
"""How deep (mm) an axis may run within what turns about it, as a pin sunk in a face does."""


def impossible(subject: Subject) -> Iterator[Finding]:
    """Each motion's range, its axis, and what it waits for."""
    motions = {m.id: m for module in subject.fitout.modules for m in module.motions}
    for motion in motions.values():
        for sentence in (
            *_range(motion),
            *_axis(subject, motion),
            *_waits(motions, motion),
        ):
            yield remark("motion", motion.id, Severity.FAIL, sentence, COMMON_PRACTICE)


def _range(motion: Motion) -> Iterator[str]:
    if not motion.travel > 0.0:
        yield f"{motion.id} has no range: it moves by {motion.travel:g}, which is not above 0."


def _axis(subject: Subject, motion: Motion) -> Iterator[str]:
    """An axis must run along the surface of what turns, or beside it."""
    if motion.kind is not MotionKind.HINGE:
        return
    for part in subject.moved(motion):
        deep = _depth(subject.bodies[part.id], motion)
        if deep > INSIDE:
            yield (
                f"{motion.id} turns about an axis {deep:.1f} mm inside {part.id}: a hinge's axis "
                f"runs along a face or edge of what it carries, or beside it."
            )


def _depth(body: Body, motion: Motion) -> float:
    """How deep the axis runs inside the body's pieces; 0 if beside them."""
    axis = np.asarray(motion.direction) / np.linalg.norm(motion.direction)
    across = np.cross(axis, np.eye(3)[np.argmin(np.abs(axis))])
    frame = np.array([across / np.linalg.norm(across), np.cross(axis, across)])
    frame[1] /= np.linalg.norm(frame[1])
    return max(
        (_sunk((piece - np.asarray(motion.point)) @ frame.T) for piece in body.shape.filled),
        default=0.0,
    )


def _sunk(shadow: Array) -> float:
    """How deep the origin lies within the convex hull of points, shape (n, 2)."""
    angles = np.radians(np.arange(0.0, 360.0, 1.0))
    normals = np.column_stack([np.cos(angles), np.sin(angles)])
    # The hull's least support over all directions is how deep the origin is; 1° is fine enough
    # for a board, whose faces lie along the axes of the bay.
    return max(0.0, float((shadow @ normals.T).max(axis=0).min()))


def _waits(motions: dict[str, Motion], motion: Motion) -> Iterator[str]:
    """What a motion waits for exists, does not exclude itself, and does not wait for it."""
    for id_ in (*motion.needs, *motion.shut):
        if id_ not in motions:
            yield f"{motion.id} waits for {id_}, which no module has."
    both = set(motion.needs) & set(motion.shut)
    for id_ in sorted(both):
        yield f"{motion.id} needs {id_} to be open and shut at once."
    ring = _ring(motions, motion)
    if ring:
        told = " needs ".join((*ring, ring[0]))
        yield f"{motion.id} can never start, for what it needs needs it in turn: {told}."
    for id_ in _needed(motions, motion) - set(motion.needs):
        if id_ in motion.shut:
            yield f"{motion.id} needs {id_} open, by way of what it needs, yet also shut."


def _needed(motions: dict[str, Motion], motion: Motion) -> set[str]:
    """Every motion that one needs, directly or by way of others."""
    found: set[str] = set()
    open_ends = list(motion.needs)
    while open_ends:
        id_ = open_ends.pop()
        if id_ in motions and id_ not in found:
            found.add(id_)
            open_ends.extend(motions[id_].needs)
    return found


def _ring(motions: dict[str, Motion], motion: Motion) -> tuple[str, ...]:
    """The motions from one back to itself, each needing the next; none if there is no way."""
    ways: list[tuple[str, ...]] = [(motion.id,)]
    seen = {motion.id}
    while ways:
        way = ways.pop(0)
        for id_ in motions[way[-1]].needs:
            if id_ == motion.id:
                return way
            if id_ in motions and id_ not in seen:
                seen.add(id_)
                ways.append((*way, id_))
    return ()
