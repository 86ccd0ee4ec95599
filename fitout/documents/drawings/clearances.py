"""The governing clearances, marked in sections where they are, and listed below them."""

from __future__ import annotations

import string
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np

from fitout.checks.gaps import between_modules, wanted
from fitout.checks.subject import Subject
from fitout.clearance.convex import Array
from fitout.clearance.witness import Witness, closest
from fitout.documents.dossier import Dossier
from fitout.documents.drawings.sketch import SPACE_WIDTH, TITLE_WIDTH
from fitout.documents.drawings.viewport import Port
from fitout.documents.paper.dimension import leader
from fitout.documents.paper.fonts import shortened
from fitout.documents.paper.layout import Layout
from fitout.documents.paper.marks import moved
from fitout.documents.paper.table import HEIGHT, Block, Column, Table, blocks
from fitout.documents.wording import Wording
from fitout.model.item import Item
from fitout.model.outline import Point
from fitout.model.panel import Bar, Panel

MOST = 16
"""So many clearances at most are marked in one section."""

WIDEST, NARROWEST = 64.0, 30.0
"""Widths of the column of names, which are wrapped, or cut where even that is too much, mm."""

LOWEST = 6.5
"""The table keeps so far above the drawing space's lower edge, mm."""

ACROSS = (0.25, 0.5, 0.75)
"""Shares of the way across a gap at which a part in between is looked for."""

TOUCHING = 0.01
"""What lies so near to a part's block counts as in it, mm."""

APART = 3.0
"""Between parts of the table, mm."""

TILTED = 0.35
"""A clearance is shown where it is seen turned away by no more than this sine."""


@dataclass(frozen=True, slots=True, eq=False)
class Clearance:
    """Two bodies by id, where they come nearest, and the least gap they must keep, mm."""

    a: str
    b: str
    witness: Witness
    limit: float

    @property
    def spare(self) -> float:
        """How much is left."""
        return self.witness.gap - self.limit


def governing(dossier: Dossier) -> tuple[Clearance, ...]:
    """The tightest place of each module to each other and to each surface, least spare first."""
    subject = dossier.subject
    found = []
    for a, b in between_modules(subject):
        if b in subject.obstacles and subject.obstacles[b].kind == "keep clear":
            continue  # not drawn, for nothing stands there
        first, second = subject.bodies[a], subject.bodies[b]
        witness = subject.memory.recall(
            ("closest", first.key, second.key), partial(closest, first, second)
        )
        if witness.gap > 0.0 and not _filled(subject, a, b, witness):
            found.append(Clearance(a, b, witness, wanted(subject, a, b)))
    return tuple(sorted(found, key=lambda c: (c.spare, c.a, c.b)))


def _filled(subject: Subject, a: str, b: str, witness: Witness) -> bool:
    """Whether another part lies between: then the way across is no gap but that part's size."""
    start, end = np.array(witness.point_a), np.array(witness.point_b)
    points = [start + share * (end - start) for share in ACROSS]
    return any(
        _holds(part, np.array(points))
        for id_, part in subject.parts.items()
        if id_ not in (a, b) and not isinstance(part, Item)
    )


def _holds(part: Panel | Bar, points: Array) -> bool:
    """Whether one of the points, shape (n, 3), lies in a part's block, not just at its face."""
    own = (points - np.array(part.placement.origin)) @ part.placement.matrix[:, :3]
    if isinstance(part, Bar):
        low, high = np.zeros(3), np.array([part.length, part.section.width, part.section.height])
    else:
        x0, y0, x1, y1 = part.outline.bounds
        low, high = np.array([x0, y0, 0.0]), np.array([x1, y1, part.thickness])
    return bool(np.all((own > low - TOUCHING) & (own < high + TOUCHING), axis=1).any())


def shared_out(
    clearances: Iterable[Clearance], ports: Sequence[tuple[Port, float]]
) -> tuple[tuple[Clearance, ...], ...]:
    """Which section shows which clearance: one that it lies square in, as near as can be.

    `ports` are the sections with the height of their planes towards the viewer.
    """
    found: list[list[Clearance]] = [[] for _ in ports]
    for clearance in clearances:
        point = np.array([clearance.witness.point_a])
        way = np.array(clearance.witness.direction or (0.0, 0.0, 0.0))
        fit = [
            (abs(float(port.eye.nearness(point)[0]) - at), k)
            for k, (port, at) in enumerate(ports)
            if abs(float(way @ port.eye.to_viewer)) <= TILTED
        ]
        if fit:
            found[min(fit)[1]].append(clearance)
    return tuple(tuple(one[:MOST]) for one in found)


def marked(
    layout: Layout, port: Port, clearances: Sequence[Clearance], wording: Wording
) -> list[tuple[str, ...]]:
    """Mark clearances where they are; the rows that list them."""
    rows: list[tuple[str, ...]] = []
    for clearance in clearances:
        letter = string.ascii_lowercase[len(rows)]
        gap = wording.length(clearance.witness.gap)
        a, b = port.at(clearance.witness.point_a), port.at(clearance.witness.point_b)
        tip = ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)
        if leader(layout, tip, f"{letter} = {gap}"):
            names = f"{plain(clearance.a)} – {plain(clearance.b)}"
            rows.append((letter, names, gap, wording.length(clearance.limit)))
    return rows


def plain(id_: str) -> str:
    """A part as it is called in a table: module and name, a surface without the bay."""
    module, _, name = id_.partition("/")
    return name if module in ("bay", name) else f"{module}: {name}"


def listed(layout: Layout, rows: Sequence[tuple[str, ...]], wording: Wording, at: Point) -> None:
    """The table of clearances with its upper left corner at `at`, in parts beside each other.

    Names are wrapped where that leaves the parts room beside the title block, else cut.
    """
    if not rows:
        return
    x, y = at
    for part in _parts(rows, wording, SPACE_WIDTH - TITLE_WIDTH - x - 2.0, y - LOWEST):
        layout.draw(moved(part.marks, (x, y)))
        x += part.width + APART


def _parts(
    rows: Sequence[tuple[str, ...]], wording: Wording, room: float, height: float
) -> list[Block]:
    """The table in parts no higher than `height` that stand beside each other in the room."""
    widths = [WIDEST - 2.0 * i for i in range(int((WIDEST - NARROWEST) / 2.0) + 1)]
    for names in widths:
        parts = blocks(_table(rows, wording, names), height)
        if sum(part.width + APART for part in parts) - APART <= room:
            return parts
    for names in widths:
        cut = [(row[0], shortened(row[1], HEIGHT, names), *row[2:]) for row in rows]
        parts = blocks(_table(cut, wording, names), height)
        if sum(part.width + APART for part in parts) - APART <= room:
            break
    return parts


def _table(rows: Sequence[tuple[str, ...]], wording: Wording, names: float) -> Table:
    columns = (
        Column(wording.say("clearance_mark")),
        Column(wording.say("clearance_between"), most=names),
        Column(wording.say("clearance_gap"), "right"),
        Column(wording.say("clearance_wanted"), "right"),
    )
    return Table(columns, tuple(rows))
