"""Motions as plain data, for whoever plays them: `check --json` carries them."""

from __future__ import annotations

from collections.abc import Iterable

from fitout.checks.courses import Course
from fitout.documents.findings import DIGITS
from fitout.model.bay import Swing
from fitout.model.module import Motion, MotionKind, Part


def motion_rows(
    motions: Iterable[tuple[Motion, Course | None, list[Part]]],
    swings: Iterable[tuple[Swing, Course]],
) -> list[dict[str, object]]:
    """A row for each motion of the modules, then for each of the vehicle.

    `reaches` is how far it gets before it meets something, None where that is not worked out
    here: a whole module that is taken out, one outside the bay, a motion that can't be.
    """
    rows = [_row(motion, course, [part.id for part in parts]) for motion, course, parts in motions]
    vehicle = [
        _row(course.motion, course, [leaf.id for leaf in swing.leaves]) for swing, course in swings
    ]
    return [*rows, *vehicle]


def _row(motion: Motion, course: Course | None, parts: list[str]) -> dict[str, object]:
    turns = motion.kind is MotionKind.HINGE
    row: dict[str, object] = {
        "id": motion.id,
        "module": motion.module,
        "kind": motion.kind.value,
        "direction": _plain(motion.direction),
        "point": _plain(motion.point) if turns else None,
        "travel": round(motion.travel, DIGITS),
        "unit": "deg" if turns else "mm",
        "needs": list(motion.needs),
        "shut": list(motion.shut),
        "tailgate": motion.tailgate,
        "stop": motion.stop,
        "parts": [motion.of] if motion.of else parts,
        "reaches": None if course is None else round(course.reaches, DIGITS),
        "stopped_by": None if course is None or course.stop is None else course.stop.other.id,
    }
    if course is not None and (motion.of or motion.module == "bay"):
        # No part of the fit-out as such moves: its convex pieces' corners, where it starts.
        row["point"] = _plain(course.motion.point) if turns else None
        row["pieces"] = [
            [_plain(corner) for corner in piece.tolist()]
            for body in course.moving
            for piece in body.pieces
        ]
    return row


def _plain(vector: Iterable[float]) -> list[float]:
    return [round(value, DIGITS) + 0.0 for value in vector]
