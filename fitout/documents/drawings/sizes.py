"""What the arrangement's views tell: each module's sizes once, and in the plan where it stands.

side view    depths and heights          a size goes to the first of these views where both
rear view    widths                      its ends are seen; the bay's own sizes where their
plan         places from the sill and    lines are drawn
             from the centre line
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from fitout.documents.drawings.features import distinct
from fitout.documents.drawings.scene import Scene, Span
from fitout.documents.drawings.viewport import Port
from fitout.documents.paper.dimension import Ordinate, Side, linear, running
from fitout.documents.paper.layout import Layout
from fitout.documents.paper.marks import CENTRE, PHANTOM, Stroke, line
from fitout.documents.view import PLAN, REAR, SIDE, Eye
from fitout.documents.views.hidden_lines import Seen
from fitout.model.outline import Point

PREFERRED: tuple[tuple[Eye, ...], ...] = ((SIDE, PLAN), (REAR, PLAN), (SIDE, REAR))
"""Along x, y and z: the views that a size is told in, the best first."""

AT_END = 1.5
"""An end is seen where a line lies so near to it, true mm."""

ALIKE = 0.051
"""Sizes and places that differ by less are told once, mm: the drawing tells tenths."""

BEYOND = 4.0
"""How far the centre line and the sill go on beyond a plan, mm on paper."""


@dataclass(frozen=True, slots=True)
class Size:
    """How far something reaches along an axis: a module, or the bay under no name."""

    axis: int
    name: str
    span: Span

    @property
    def length(self) -> float:
        """From end to end."""
        return self.span[1] - self.span[0]


def shared_sizes(scene: Scene, seen: Mapping[str, Sequence[Seen]]) -> dict[str, list[Size]]:
    """The sizes that each view tells, by its name, the short ones first.

    `seen` are the visible lines of each view.
    """
    found: dict[str, list[Size]] = {eye.name: [] for eye in (PLAN, SIDE, REAR)}
    for axis, eyes in enumerate(PREFERRED):
        told: set[tuple[float, float]] = set()
        spans = sorted(scene.spans(axis).items(), key=lambda one: one[1][1] - one[1][0])
        for name, span in spans:
            key = (round(span[0], 1), round(span[1], 1))
            if key in told:
                continue
            told.add(key)
            own = {form.id for form in scene.by_module[name]}
            size = Size(axis, name, span)
            where = (eye for eye in eyes if _ends_seen(size, eye, seen[eye.name], own))
            found[next(where, eyes[0]).name].append(size)
    for eye, size in _of_the_bay(scene):
        found[eye.name].append(size)
    return {name: sorted(sizes, key=lambda s: s.length) for name, sizes in found.items()}


def _ends_seen(size: Size, eye: Eye, lines: Sequence[Seen], own: set[str]) -> bool:
    reach = _reach(size, eye, lines, own)
    return reach is not None and all(
        abs(value - end) < AT_END for value, end in zip(reach, size.span, strict=True)
    )


def _reach(size: Size, eye: Eye, lines: Sequence[Seen], own: set[str]) -> Span | None:
    """From where to where lines of a module's parts are seen; None where none is."""
    points = [line for one in lines if one.id in own for line in one.lines]
    if not points:
        return None
    values = np.vstack(points)[:, _column(eye, size.axis)] * _sign(eye, size.axis)
    return float(values.min()), float(values.max())


def _column(eye: Eye, axis: int) -> int:
    """Whether an axis runs across the sheet (0) or up it (1)."""
    return 0 if abs(float(eye.rightward[axis])) > abs(float(eye.upward[axis])) else 1


def _sign(eye: Eye, axis: int) -> float:
    return float(np.sign((eye.rightward, eye.upward)[_column(eye, axis)][axis]))


def _of_the_bay(scene: Scene) -> Iterator[tuple[Eye, Size]]:
    """The floor's length, the roof's greatest height, the width between the wheel arches."""
    bay = scene.bay
    yield SIDE, Size(0, "", (0.0, bay.front))
    yield SIDE, Size(2, "", (bay.floor, max(z for _, z in bay.roof)))
    if bay.arches:
        yield REAR, Size(1, "", (-bay.arches["right"][1], bay.arches["left"][1]))


def told_sizes(layout: Layout, scene: Scene, port: Port, sizes: Sequence[Size]) -> list[str]:
    """Dimension them; those that find no room anywhere come back in words."""
    left_out = []
    for size in sizes:
        if not _told(layout, scene, port, size):
            wording = scene.dossier.wording
            words = wording.say(f"size_{'xyz'[size.axis]}", length=wording.length(size.length))
            left_out.append(f"{size.name} {words}".strip())
    return left_out


def _told(layout: Layout, scene: Scene, port: Port, size: Size) -> bool:
    """One dimension, on the side of the view that its module lies nearer to."""
    unit = np.eye(3)[size.axis]
    a, b = (port.at(tuple(float(end * u) for u in unit)) for end in size.span)  # type: ignore[arg-type]
    forms = scene.by_module.get(size.name, scene.forms)
    at = port.flat(port.eye.on_sheet(np.vstack([form.vertices for form in forms])))
    xs, ys = zip(*at, strict=True)
    across = _column(port.eye, size.axis) == 0
    centre = (min(ys) + max(ys)) / 2.0 if across else (min(xs) + max(xs)) / 2.0
    half = (port.corner[1] + port.top) / 2.0 if across else (port.corner[0] + port.right) / 2.0
    sides: tuple[Side, Side] = ("above", "below") if across else ("left", "right")
    order = sides if (centre > half) == across else (sides[1], sides[0])
    edges: dict[Side, float] = {
        "above": port.top, "below": port.corner[1], "left": port.corner[0], "right": port.right,
    }  # fmt: skip
    words = scene.dossier.wording.length(size.length)
    for side in order:
        ends = [(p[0], edges[side]) if across else (edges[side], p[1]) for p in (a, b)]
        if linear(layout, ends[0], ends[1], words, side):
            return True
    return False


def zero_lines(port: Port) -> tuple[Stroke, Stroke]:
    """In a plan: the sill and the centre line, from which places are told."""
    sill, middle = port.at((0.0, 0.0, 0.0))
    return (
        line((sill, port.corner[1] - BEYOND), (sill, port.top + BEYOND), PHANTOM, "VEHICLE"),
        line((port.corner[0] - BEYOND, middle), (port.right + BEYOND, middle), CENTRE, "CENTRE"),
    )


def told_places(layout: Layout, scene: Scene, port: Port, seen: Sequence[Seen]) -> bool:
    """In a plan: running dimensions of the modules' ends from the sill and the centre line.

    An end that nothing is seen of has its module's name. Returns whether all found room.
    """
    done = [_places(layout, scene, port, axis, seen) for axis in (0, 1)]
    return all(done)


@dataclass(frozen=True, slots=True)
class End:
    """Where a module ends along an axis, from where to where it lies on the other, if seen."""

    at: float
    across: Span
    name: str
    seen: bool


def _ends(scene: Scene, axis: int, seen: Sequence[Seen]) -> Iterator[End]:
    other = scene.spans(1 - axis)
    for name, span in scene.spans(axis).items():
        own = {form.id for form in scene.by_module[name]}
        values = _reach(Size(axis, name, span), PLAN, seen, own)
        for at in span:
            there = values is not None and any(abs(value - at) < AT_END for value in values)
            yield End(at, other[name], name, there)


def _places(  # over budget: the ends of modules along an axis of a plan
    layout: Layout, scene: Scene, port: Port, axis: int, seen: Sequence[Seen]
) -> bool:
    """Along one axis: each different end once, on the side that its module is nearer to."""
    ends = list(_ends(scene, axis, seen))
    low, high = min(end.across[0] for end in ends), max(end.across[1] for end in ends)
    sides: tuple[Side, Side] = ("below", "above") if axis == 0 else ("left", "right")
    edges = (port.corner[1], port.top) if axis == 0 else (port.corner[0], port.right)
    zero = port.at((0.0, 0.0, 0.0))
    told: tuple[list[Ordinate], list[Ordinate]] = ([], [])
    for value in distinct((end.at for end in ends), ALIKE):
        if abs(value) <= ALIKE:
            continue
        there = [end for end in ends if abs(end.at - value) <= ALIKE]
        shown = [end for end in there if end.seen]
        words = scene.dossier.wording.length(abs(value))
        nearest = min(end.across[0] for end in shown or there)
        far = bool(shown) and nearest > (low + high) / 2.0
        across = max(end.across[1] for end in shown) if far else nearest
        x, y = port.at((value, across, 0.0) if axis == 0 else (across, value, 0.0))
        if not shown:
            words = f"{words} {there[0].name}"
            x, y = (x, edges[0]) if axis == 0 else (edges[0], y)
        told[far].append(Ordinate((x, y), words))
    done = True
    for ordinates, side, edge in zip(told, sides, edges, strict=True):
        datum: Point = (zero[0], edge) if axis == 0 else (edge, zero[1])
        if ordinates:
            done = running(layout, datum, ordinates, side, edge) and done
    return done
