"""Tables of what a panel has too much of for dimensions: holes, openings, corners."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fitout.cutting.cut_list import CutLine
from fitout.documents.drawings.features import Corner, corners
from fitout.documents.drawings.panel_picture import (
    CORNER,
    Plan,
    depth_told,
    letters,
    plain_letters,
)
from fitout.documents.paper.table import Column, Table, without_empty
from fitout.documents.wording import Wording


def tables(line: CutLine, plan: Plan, wording: Wording) -> Iterator[Table]:
    """The tables that go with the panel's picture."""
    if not plan.corners_run:
        yield _corners(line, [(CORNER, plan.corners)], wording)
    if plan.plain and not plan.openings_run:
        yield _openings(line, plan, wording)
    free = zip(letters(plan), plan.free, strict=True)
    listed = [(letter, corners(one.loop)) for letter, one in free]
    if listed:
        yield _free_openings(line, plan, wording)
        yield _corners(line, listed, wording)
    if not plan.holes_run:
        yield _holes(line, plan, wording)


def _number(wording: Wording) -> Column:
    return Column(wording.say("column_number"), "right")


def _corners(
    line: CutLine, listed: Sequence[tuple[str, Sequence[Corner]]], wording: Wording
) -> Table:
    rows = [
        (
            f"{letter}{i}",
            wording.length(corner.x),
            wording.length(corner.y),
            f"R{wording.length(corner.radius)}" if corner.radius else "",
            _onward(corner, wording),
        )
        for letter, found in listed
        for i, corner in enumerate(found, start=1)
    ]
    columns = [_number(wording), Column("x", "right"), Column("y", "right")]
    columns += [Column(wording.say("column_radius")), Column(wording.say("column_next"))]
    title = wording.say("corner_table", number=line.number)
    return without_empty(Table(tuple(columns), tuple(rows), title))


def _onward(corner: Corner, wording: Wording) -> str:
    if corner.arc is None:
        return ""
    key = "arc_out" if corner.arc > 0.0 else "arc_in"
    return wording.say(key, radius=wording.length(abs(corner.arc)))


def _openings(line: CutLine, plan: Plan, wording: Wording) -> Table:
    rows: list[tuple[str, ...]] = []
    for letter, one in zip(plain_letters(plan), plan.plain, strict=True):
        along, across = one.size
        rows.append(
            (
                letter,
                wording.work(one.purpose),
                wording.length(one.box[0]),
                wording.length(one.box[1]),
                wording.length(along),
                wording.length(across),
                f"R{wording.length(one.radius)}" if one.radius else "",
                depth_told(one.depth, one.face, wording),
            )
        )
    columns = (
        Column(wording.say("column_number")),
        Column(wording.say("column_kind"), most=30.0),
        Column("x", "right"),
        Column("y", "right"),
        Column(wording.say("column_length"), "right"),
        Column(wording.say("column_width"), "right"),
        Column(wording.say("column_radius")),
        Column(wording.say("column_depth"), most=34.0),
    )
    return Table(columns, tuple(rows), wording.say("opening_table", number=line.number))


def _free_openings(line: CutLine, plan: Plan, wording: Wording) -> Table:
    """Which letters stand for which openings, and how deep they are."""
    rows: list[tuple[str, ...]] = []
    for letter, one in zip(letters(plan), plan.free, strict=True):
        kind = wording.work(one.purpose)
        rows.append((letter, kind, depth_told(one.depth, one.face, wording)))
    columns = (
        Column(wording.say("column_number")),
        Column(wording.say("column_kind")),
        Column(wording.say("column_depth"), most=34.0),
    )
    return Table(columns, tuple(rows), wording.say("free_table", number=line.number))


def _holes(line: CutLine, plan: Plan, wording: Wording) -> Table:
    rows: list[tuple[str, ...]] = []
    for kind in plan.kinds:
        for hole in kind.holes:
            rows.append(
                (
                    f"{len(rows) + 1}",
                    wording.length(hole.x),
                    wording.length(hole.y),
                    wording.tool(kind.diameter, 2),
                    depth_told(kind.depth, kind.face, wording),
                    wording.work(kind.purpose),
                )
            )
    columns = (
        _number(wording),
        Column("x", "right"),
        Column("y", "right"),
        Column("Ø", "right"),
        Column(wording.say("column_depth"), most=34.0),
        Column(wording.say("column_for"), most=34.0),
    )
    return Table(columns, tuple(rows), wording.say("hole_table", number=line.number))
