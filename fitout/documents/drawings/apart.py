"""How far each part of a module is drawn off its place, so that all are seen."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence

import numpy as np

from fitout.clearance.convex import Array
from fitout.documents.views.forms import Form, extent
from fitout.model.module import Module, MotionKind, Part
from fitout.model.panel import Bar, Panel
from fitout.model.placement import Vector

SPREAD = 0.55
"""Each part is drawn off the middle by this share of its distance from it."""

OFF = 0.16
"""And besides by this share of the group's size, away from the middle."""

LIFT = 0.6
"""What lies in a group, such as a fridge or tools, is lifted by this share of its size."""

ASIDE = 1.3
"""Groups that are drawn out beside each other part by this share of their distance."""

BETWEEN_GROUPS = 1.15
"""Groups that move as one are drawn off each other by this share of their depth."""


def shifts(module: Module, forms: Mapping[str, Form]) -> dict[str, Vector]:
    """How far each part of a module is moved, mm, by its id.

    What moves as one, such as a drawer, stays together and is drawn out along its motion;
    within a group panels go along their thickness, away from its middle.
    """
    groups: dict[str | None, list[Part]] = {}
    for part in module.parts():
        groups.setdefault(part.moves, []).append(part)
    found: dict[str, Vector] = {}
    aside = _aside(groups, forms)
    for name, parts in groups.items():
        out = _drawn_out(module, name, parts, forms)
        if out.any():
            # Off each other as well, square to the way they are drawn out.
            out += aside[name] - (aside[name] @ out) * out / (out @ out)
        lifted = {item.id for item in module.items} - _slides(module)
        for part, own in zip(parts, _spread(parts, forms, lifted), strict=True):
            x, y, z = (own + out).tolist()
            found[part.id] = (x, y, z)
    return found


def _aside(
    groups: Mapping[str | None, Sequence[Part]], forms: Mapping[str, Form]
) -> dict[str | None, Array]:
    """How far groups that move are drawn off their common middle."""
    centres = {}
    for name, parts in groups.items():
        low, high = extent(forms[part.id] for part in parts)
        centres[name] = (low + high) / 2.0
    moving = [centre for name, centre in centres.items() if name is not None]
    if not moving:
        return centres
    middle = np.mean(moving, axis=0)
    return {name: ASIDE * (centre - middle) for name, centre in centres.items()}


def _drawn_out(
    module: Module, name: str | None, parts: Sequence[Part], forms: Mapping[str, Form]
) -> Array:
    """How far a group that moves as one is drawn off what stands still."""
    motion = next((m for m in module.motions if m.name == name), None)
    if name is None or motion is None or len(parts) == len(tuple(module.parts())):
        return np.zeros(3)
    low, high = extent(forms[part.id] for part in parts)
    if motion.kind is MotionKind.HINGE:
        return np.array([0.0, 0.0, 1.2 * float((high - low).min()) + 120.0])
    way = np.array(motion.direction)
    still = [part for part in module.parts() if part.moves is None]
    if not still:
        return way * float(abs(way) @ (high - low)) * 0.5
    every = np.concatenate([forms[part.id].vertices @ way for part in still])
    own = np.concatenate([forms[part.id].vertices @ way for part in parts])
    wide = float(own.max() - own.min())
    overlap = float(every.max() - own.min()) if len(every) else 0.0
    return way * max(0.0, overlap + (BETWEEN_GROUPS - 1.0) * wide + 0.35 * wide)


def _slides(module: Module) -> set[str]:
    """The items that are slides, screwed to panels, by id."""
    keys = {duty.slide.key for duty in module.slides}
    return {item.id for item in module.items if item.article in keys}


def _spread(
    parts: Sequence[Part], forms: Mapping[str, Form], lifted: Collection[str]
) -> list[Array]:
    """How far each part of a group goes along its own axis; what lies in it goes up."""
    low, high = extent(forms[part.id] for part in parts)
    middle, size = (low + high) / 2.0, high - low
    found = []
    for part in parts:
        a, b = extent([forms[part.id]])
        centre, own = (a + b) / 2.0, b - a
        away = centre - middle
        axis = _axis(part, away / np.maximum(size, 1.0), own)
        shift = np.zeros(3)
        if len(parts) > 1 and part.id in lifted:
            shift[2] = LIFT * float(size.max()) + SPREAD * (a[2] - low[2])
        elif len(parts) > 1:
            side = 1.0 if away[axis] >= 0.0 else -1.0
            off = OFF * float(size.max()) if abs(away[axis]) > 0.02 * size[axis] else 0.0
            shift[axis] = SPREAD * away[axis] + side * off
        found.append(shift)
    return found


def _axis(part: Part, away: Array, size: Array) -> int:
    """The bay's axis a part is moved along: a panel's thickness, else where it lies off most."""
    if isinstance(part, Panel):
        return int(np.argmax(np.abs(np.array(part.placement.w))))
    if isinstance(part, Bar):
        return int(np.argmax(np.where(size == size.max(), -1.0, np.abs(away))))
    return int(np.argmax(np.abs(away)))


def moved(forms: Iterable[Form], by: Mapping[str, Vector]) -> tuple[Form, ...]:
    """The forms shifted, each as told by its id."""
    return tuple(form.moved(by.get(form.id, (0.0, 0.0, 0.0))) for form in forms)
