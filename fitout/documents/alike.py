"""How far two drawn things lie from each other, and what of a drawing is off, in words."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np
import shapely

from fitout.cutting.scribing import scribe_lines
from fitout.documents.cut_reading import Drawn, Work
from fitout.model.outline import Loop, Outline, Vertex, arc_of, polygon
from fitout.model.panel import Face, Hole, Panel, Pocket
from fitout.model.placement import Array

OFF = 0.01
"""What lies no farther (mm) from where it belongs is in its place."""

BULGE_OFF = 1e-4
"""By how much an arc's bulge may differ in a line that is drawn and not cut."""

_SHARES = np.array([0.0, 0.25, 0.5, 0.75])
"""Where along a segment its place is looked at."""

_NEAR = 30.0
"""A thing of the same kind no farther (mm) from where one is missing is that one, moved."""

_WORDS = {"PERIMETER": "outer edge", "CUTOUT": "cut-out", "DRILL": "hole", "SINK": "pocket"}


def works(panel: Panel, skin: float = 0.0) -> list[Drawn]:
    """What a panel's cut file has to hold, in the panel's own frame.

    `skin` is what is left uncut under its edge and its cut-outs.
    """
    thick = panel.thickness
    out = (thick - skin, Face.A) if skin > 0.0 else (thick, None)
    drawn = [Drawn(_work("PERIMETER", *out), panel.outline.outer)]
    drawn += [Drawn(_work("CUTOUT", *out), loop) for loop in panel.outline.inner]
    for hole in panel.holes:
        if hole.depth is None or hole.depth >= thick:
            drawn.append(Drawn(_work("DRILL", thick, None), hole))
        else:
            drawn.append(Drawn(_work("DRILL", hole.depth, hole.face), hole))
    for pocket in panel.pockets:
        if pocket.depth >= thick:
            drawn.append(Drawn(_work("CUTOUT", thick, None), pocket.loop))
        else:
            work = _work("SINK", pocket.depth, pocket.face)
            drawn.append(Drawn(work, pocket.loop, within=panel.outline.outer))
    return drawn


def _work(kind: str, depth: float, face: Face | None) -> Work:
    return Work(kind, round(depth * 10.0), face)  # type: ignore[arg-type]  # one of the four kinds


def missing_and_extra(
    wanted: Iterable[Drawn], found: Iterable[Drawn]
) -> tuple[list[Drawn], list[Drawn]]:
    """What is wanted and not found in its place, and what is found and not wanted.

    The same thing wanted twice may be found once.
    """
    by_work: dict[Work, list[Drawn]] = {}
    for drawn in found:
        by_work.setdefault(drawn.work, []).append(drawn)
    met: set[int] = set()
    missing = []
    for drawn in wanted:
        same = by_work.get(drawn.work, ())
        here = next((f for f in same if apart(drawn, f, OFF) <= OFF), None)
        if here is None:
            missing.append(drawn)
        else:
            met.add(id(here))
    extra = [f for some in by_work.values() for f in some if id(f) not in met]
    return missing, extra


def apart(wanted: Drawn, found: Drawn, most: float = math.inf) -> float:
    """How far the two lie from each other where that is most; infinite beyond `most`.

    A sink may be drawn beyond its part's edge, so that a bit runs out there: only what lies
    within the part counts.
    """
    if isinstance(wanted.thing, Hole) and isinstance(found.thing, Hole):
        moved = math.hypot(found.thing.x - wanted.thing.x, found.thing.y - wanted.thing.y)
        return max(moved, abs(found.thing.diameter - wanted.thing.diameter))
    first, second = _loop(wanted.thing), _loop(found.thing)
    sides = zip(first.bounds, second.bounds, strict=True)
    if wanted.within is None and max(abs(a - b) for a, b in sides) > most:
        return math.inf
    return max(
        float(distances(counted(one, wanted.within), other).max(initial=0.0))
        for one, other in ((first, second), (second, first))
    )


def _loop(thing: Loop | Hole) -> Loop:
    return thing.loop if isinstance(thing, Hole) else thing


def far(loop: Loop, other: Loop) -> float:
    """How far two loops lie from each other where that is most."""
    there, back = distances(points_of(loop), other), distances(points_of(other), loop)
    return float(max(there.max(), back.max()))


def counted(loop: Loop, within: Loop | None) -> Array:
    """The loop's points, shape (n, 2), that lie within the part, clear of its edge."""
    points = points_of(loop)
    if within is None:
        return points
    inside = shapely.contains_xy(shapely.Polygon(within.chords(grows=True)), points)
    kept = inside & (distances(points, within) > OFF)
    return np.asarray(points[kept], dtype=np.float64)


def points_of(loop: Loop) -> Array:
    """Four points of every segment, its start among them, shape (n, 2)."""
    found = []
    for a, b in loop.segments():
        if a.bulge:
            arc = arc_of(a, b)
            angles = arc.start + _SHARES * arc.sweep
            x = arc.centre[0] + arc.radius * np.cos(angles)
            y = arc.centre[1] + arc.radius * np.sin(angles)
            found.append(np.column_stack([x, y]))
        else:
            start, way = np.array((a.x, a.y)), np.array((b.x - a.x, b.y - a.y))
            found.append(start + _SHARES[:, None] * way)
    return np.vstack(found)


def distances(points: Array, loop: Loop) -> Array:
    """How far each point, shape (n, 2), lies from the loop's line."""
    straight = [(a.x, a.y, b.x, b.y) for a, b in loop.segments() if not a.bulge]
    # The ends of every segment count in any case, so that an arc needs but its own span.
    corners = np.array([(v.x, v.y) for v in loop.vertices])
    least = np.hypot(*(points[:, None] - corners[None]).transpose(2, 0, 1)).min(axis=1)
    if straight:
        ends = np.array(straight)
        start, way = ends[:, :2], ends[:, 2:] - ends[:, :2]
        squared = np.maximum((way**2).sum(axis=1), 1e-12)
        share = ((points[:, None] - start) * way).sum(axis=2) / squared
        foot = start + share.clip(0.0, 1.0)[..., None] * way
        away = points[:, None] - foot
        least = np.minimum(least, np.hypot(away[..., 0], away[..., 1]).min(axis=1))
    for a, b in loop.segments():
        if a.bulge:
            arc = arc_of(a, b)
            x, y = points[:, 0] - arc.centre[0], points[:, 1] - arc.centre[1]
            turned = (np.arctan2(y, x) - arc.start) * math.copysign(1.0, arc.sweep)
            within = turned % (2.0 * math.pi) <= abs(arc.sweep)
            off = np.abs(np.hypot(x, y) - arc.radius)
            least = np.where(within, np.minimum(least, off), least)
    return np.asarray(least, dtype=np.float64)


def told(missing: Sequence[Drawn], extra: Sequence[Drawn]) -> list[str]:
    """What is off, one sentence's end for each thing: moved, on another layer, missing, extra."""
    left = list(extra)
    said = []
    for wanted in missing:
        near = [(apart(wanted, f), i) for i, f in enumerate(left)
                if f.work.kind == wanted.work.kind]  # fmt: skip
        away, i = min(near, default=(math.inf, 0))
        if away > _NEAR:
            said.append(f"{called(wanted)} is missing")
            continue
        found = left.pop(i)
        if found.work != wanted.work:
            said.append(f"{called(wanted)} is on layer {found.work}, not {wanted.work}")
        if away > OFF:
            said.append(f"{called(wanted)} is {away:.2f} mm off")
    return said + [f"{called(found)} is too many" for found in left]


def lines_told(panels: Iterable[Panel], found: Iterable[Sequence[Vertex]]) -> list[str]:
    """Which lines to scribe to are missing or too many, for the panels as they lie in a file."""
    left = list(found)
    said = []
    for panel in panels:
        for line in scribe_lines(panel):
            there = [i for i, other in enumerate(left) if _same_line(line, other)]
            if there:
                del left[there[0]]
            else:
                x, y = line[0].x, line[0].y
                said.append(f"the line to scribe to from ({x:.1f}, {y:.1f}) is not in its place")
    return said + ["a line to scribe to is too many"] * len(left)


def _same_line(line: Sequence[Vertex], other: Sequence[Vertex]) -> bool:
    """Whether two open lines lie within `OFF` of each other, vertex by vertex."""
    return len(line) == len(other) and all(
        math.hypot(a.x - b.x, a.y - b.y) <= OFF and abs(a.bulge - b.bulge) <= BULGE_OFF
        for a, b in zip(line, other, strict=True)
    )


def called(drawn: Drawn) -> str:
    """The thing as a builder finds it in the drawing."""
    if isinstance(drawn.thing, Hole):
        hole = drawn.thing
        return f"the hole of {hole.diameter:g} mm at ({hole.x:.1f}, {hole.y:.1f})"
    x0, y0, x1, y1 = Outline(drawn.thing).bounds
    word = _WORDS[drawn.work.kind]
    return f"the {word} of {x1 - x0:.1f} x {y1 - y0:.1f} mm at ({x0:.1f}, {y0:.1f})"


def trimmed(panel: Panel) -> Panel:
    """The panel with its pockets as far as they lie within it: a bit may run out beyond."""
    part = shapely.Polygon(panel.outline.outer.chords(grows=True))
    room = part.buffer(OFF)
    pockets: list[Pocket] = []
    for pocket in panel.pockets:
        whole = shapely.Polygon(pocket.loop.chords(grows=False))
        if room.covers(whole):
            pockets.append(pocket)
            continue
        pieces = shapely.get_parts(whole.intersection(part))
        loops = [polygon(list(piece.exterior.coords)) for piece in pieces if piece.area > 0.0]
        pockets += [replace(pocket, loop=loop) for loop in loops]
    return replace(panel, pockets=tuple(pockets))
