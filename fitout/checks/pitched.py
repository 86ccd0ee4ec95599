"""A way in for what must be pitched while it passes: over the sill, then level under the roof.

Seen from the side. Whatever of the vehicle lies beside it, clear of its width, does not matter;
of all else the side view is kept clear of. It comes off its place by a small shift that is proved
like all others, and leaves by a chain of poses between which it can't touch anything.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from fitout.checks.freeing import SLIP, Shell, corners_of, shell_of, shifts_freely
from fitout.checks.subject import Subject
from fitout.checks.too_large import extent_of
from fitout.clearance.body import Body
from fitout.clearance.convex import Array
from fitout.clearance.pitching import Chain, Outlines, chain_between, kept, outlines_of
from fitout.model.placement import Vector

OFF = 3.0
"""How far something comes off its place before it is pitched, mm."""

OFF_WAYS: tuple[Vector, ...] = ((0.0, 0.0, 1.0), (-math.sqrt(0.5), 0.0, math.sqrt(0.5)))

STEEPEST = math.radians(75.0)
"""How far something is pitched at most."""

BEHIND = 45.0
"""What has gone so far behind the sill is past the frame, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pitched:
    """What is kept from the opening's edges at least, mm, and the pitches on the way, degrees.

    Positive lifts the nose.
    """

    gap: float
    low_deg: float
    high_deg: float


def pitched_in(subject: Subject, bodies: Sequence[Body], hand: float) -> Pitched | None:
    """A way in by which a body is pitched as it passes, `hand` mm kept from the opening's edges.

    None if none is found.
    """
    points, shell = corners_of(bodies), shell_of(subject)
    extent = extent_of(subject.fitout.bay)
    middle = (points.min(axis=0) + points.max(axis=0)) / 2.0
    body = outlines_of([(points - middle)[:, [0, 2]]])
    if float(np.ptp(points[:, 1])) > extent.width or _least_width(body) > extent.height:
        return None
    edges, others = _seen_from_the_side(subject, shell, points)
    square = hand * np.array([(i, k) for i in (-1.0, 1.0) for k in (-1.0, 1.0)])
    drawn_in = [(p[:, None] + square).reshape(-1, 2) for p in edges] if hand else edges
    still = outlines_of([*drawn_in, *others])
    chain = _off_and_out(subject, bodies, (body, still), middle)
    if chain is None:
        return None
    poses = _densely(np.array(chain.poses))
    pitches = np.degrees(poses[:, 2])
    gap = float(kept(body, outlines_of(edges), poses).min())
    return Pitched(gap=gap, low_deg=float(pitches.min()), high_deg=float(pitches.max()))


def _seen_from_the_side(
    subject: Subject, shell: Shell, points: Array
) -> tuple[list[Array], list[Array]]:
    """The opening's edges and all else that does not lie beside something, each in (x, z)."""
    low, high = float(points[:, 1].min()) + SLIP, float(points[:, 1].max()) - SLIP
    edges: list[Array] = []
    others: list[Array] = []
    for body in shell.still:
        for piece in body.pieces:
            if piece[:, 1].min() < high and piece[:, 1].max() > low:
                is_edge = subject.obstacles[body.id].kind == "aperture"
                (edges if is_edge else others).append(piece[:, [0, 2]])
    return edges, others


def _off_and_out(
    subject: Subject, bodies: Sequence[Body], outlines: tuple[Outlines, Outlines], middle: Array
) -> Chain | None:
    """Off its place by a small shift, then out behind the sill."""
    body, still = outlines
    bay = subject.fitout.bay
    radius = float(np.hypot(*body.corners.T).max())
    roof = max(z for _, z in bay.roof)
    limits = np.array([(-radius - 2.0 * BEHIND, bay.floor, -STEEPEST), (bay.front, roof, STEEPEST)])

    def arrived(poses: Array) -> Array:
        cos, sin = np.cos(poses[:, 2]), np.sin(poses[:, 2])
        ahead = np.multiply.outer(cos, body.corners[:, 0])
        ahead -= np.multiply.outer(sin, body.corners[:, 1])
        return np.asarray(ahead.max(axis=1) + poses[:, 0] + BEHIND)

    for way in OFF_WAYS:
        x, _, z = (middle + OFF * np.array(way)).tolist()
        if kept(body, still, np.array([(x, z, 0.0)]))[0] <= 0.0:
            continue
        if shifts_freely(shell_of(subject), bodies, way, OFF):
            return chain_between(body, still, (x, z, 0.0), arrived, limits)
    return None


def _least_width(body: Outlines) -> float:
    """The least distance between two parallel lines with the outline between them."""
    return float((body.offsets - (body.corners @ body.normals.T).min(axis=0)).min())


def _densely(poses: Array) -> Array:
    """A thousand poses along a chain, its own among them."""
    along = np.arange(len(poses), dtype=np.float64)
    shares = np.sort(np.concatenate([along, np.linspace(0.0, len(poses) - 1.0, 1000)]))
    return np.column_stack([np.interp(shares, along, poses[:, k]) for k in range(3)])
