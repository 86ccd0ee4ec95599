"""A panel's picture tells every size and every hole that the cut list has."""

import dataclasses

import pytest

from fitout.cutting.cut_list import CutLine
from fitout.documents.dossier import Dossier
from fitout.documents.drawings.ordinates import TOLD
from fitout.documents.drawings.panel_picture import (
    CORNER,
    depth_told,
    kind_told,
    letters,
    opening_told,
    picture,
    plain_letters,
    plan_of,
)
from fitout.documents.drawings.panel_sheets import scale_of
from fitout.documents.drawings.panel_tables import tables
from fitout.documents.paper.marks import Arc, Mark, Stroke, Text
from fitout.documents.paper.room import overlaps
from fitout.documents.wording import Wording
from fitout.model.documents import LengthUnit
from fitout.model.outline import Outline, polygon, rectangle
from fitout.model.panel import Face, Hole, Panel, Pocket

WORDS = Wording()


def _told(marks: list[Mark]) -> list[str]:
    return [mark.text for mark in marks if isinstance(mark, Text)]


def _told_at(line: CutLine, point: tuple[float, float], told: list[str], words: Wording) -> None:
    """Both distances of a point are told, unless it lies at an edge."""
    for value, whole in zip(point, (line.length, line.width), strict=True):
        near = {words.length(value + d) for d in (-TOLD, 0.0, TOLD)}
        # A letter or a place may follow where rows lie close.
        known = {*told, *(t.partition(" (")[0] for t in told), *(t[:-2] for t in told)}
        assert near & known or min(value, whole - value) < TOLD, (line.number, value)


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_every_part_of_the_demos_is_dimensioned_whole(demo: Dossier, unit: LengthUnit) -> None:
    """Length and width, every hole's place (a number or its running dimensions), each opening."""
    words = Wording("en", unit)
    for line in demo.cuts.cut_list.lines:
        marks = picture(line, 1.0 / scale_of(line), words)
        told = _told(marks)
        assert overlaps(marks) == [], line.number
        assert words.length(line.length) in told, line.number
        assert words.length(line.width) in told, line.number
        plan = plan_of(line.panel)
        holes = [hole for kind in plan.kinds for hole in kind.holes]
        if not plan.holes_run:
            numbers = [f"{i}" for i in range(1, len(holes) + 1)]
            assert all(number in told for number in numbers), line.number
        for hole in holes if plan.holes_run else ():
            _told_at(line, (hole.x, hole.y), told, words)
        for one in plan.plain if plan.openings_run else ():
            x0, y0, x1, y1 = one.box
            middle = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
            for point in [middle] if one.round else [(x0, y0), (x1, y1)]:
                _told_at(line, point, told, words)
        for corner in plan.corners if plan.corners_run else ():
            _told_at(line, (corner.x, corner.y), told, words)


def test_every_kind_of_hole_and_opening_of_the_demos_is_named(demo: Dossier) -> None:
    words = demo.wording
    for line in demo.cuts.cut_list.lines:
        told = _told(picture(line, 1.0 / scale_of(line), words))
        plan = plan_of(line.panel)
        if plan.holes_run and len(plan.kinds) > 1:
            for kind in plan.kinds:
                assert told.count(kind.letter) == len(kind.holes), line.number
        if plan.holes_run and len(plan.kinds) == 1:
            assert kind_told(plan.kinds[0], words) in told, line.number
        for one in plan.plain if plan.openings_run else ():
            assert any(t.endswith(opening_told(one, words)) for t in told), line.number
        for letter in letters(plan):
            assert f"{letter}1" in told, line.number
        assert plan.corners_run or f"{CORNER}1" in told, line.number


def test_corners_openings_and_holes_have_names_of_their_own(panel: Panel) -> None:
    """A plate of many holes, sinks in a table and a free outline: no number stands for two."""
    holes = tuple(Hole(20.0 + 17.3 * i, 20.0 + 11.7 * i, 4.0, purpose="screw") for i in range(20))
    sinks = tuple(
        Pocket(rectangle(9.0, 7.0, 30.0 + 21.0 * i, 330.0 - 13.0 * i), 4.0, purpose="groove")
        for i in range(9)
    )
    bent = polygon([(0, 0), (600, 0), (600, 300), (520, 360), (400, 390), (200, 400), (0, 350)])
    plate = dataclasses.replace(panel, outline=Outline(bent), holes=holes, pockets=sinks)
    line = CutLine("P01", (plate,))
    plan = plan_of(plate)
    assert (plan.holes_run, plan.openings_run, plan.corners_run) == (False, False, False)
    told = [m.text for m in picture(line, 0.5, WORDS) if isinstance(m, Text) and m.layer != "SIDE"]
    named = [*(f"E{i}" for i in range(1, 8)), *plain_letters(plan), *(str(i) for i in range(1, 21))]
    assert all(told.count(name) == 1 for name in named)
    rows = [row[0] for table in tables(line, plan, WORDS) for row in table.rows]
    assert sorted(rows) == sorted(named)


def test_the_picture_is_the_panel_at_its_scale(demo: Dossier) -> None:
    for line in demo.cuts.cut_list.lines[:20]:
        scale = 1.0 / scale_of(line)
        marks = picture(line, scale, demo.wording)
        outline = next(m for m in marks if isinstance(m, Stroke) and m.layer == "OUTLINE")
        xs, ys = zip(*outline.points, strict=True)
        assert (min(xs), min(ys)) == pytest.approx((0.0, 0.0), abs=0.05)
        assert max(xs) == pytest.approx(line.length * scale, abs=0.05)
        assert max(ys) == pytest.approx(line.width * scale, abs=0.05)
        circles = [m for m in marks if isinstance(m, Arc) and m.layer == "HOLE"]
        drawn = sorted((round(m.centre[0], 6), round(m.centre[1], 6)) for m in circles)
        wanted = sorted((round(h.x * scale, 6), round(h.y * scale, 6)) for h in line.panel.holes)
        assert drawn == wanted


def test_what_is_worked_from_the_far_face_is_dashed(panel: Panel) -> None:
    marks = picture(CutLine("P01", (panel,)), 0.2, WORDS)
    hidden = [m for m in marks if m.layer == "HIDDEN" and isinstance(m, Stroke)]
    assert len(hidden) == 1
    assert hidden[0].pen.dashes
    assert any("6 deep from face B" in told for told in _told(marks))


@pytest.mark.parametrize("count", [0, 1, 8, 40, 120])
def test_panels_with_any_number_of_holes_can_be_drawn(panel: Panel, count: int) -> None:
    holes = tuple(
        Hole(15.0 + 37.0 * i % 570.0, 15.0 + 61.0 * i % 370.0, 4.0, purpose="screw")
        for i in range(count)
    )
    plate = dataclasses.replace(
        panel, outline=Outline(rectangle(600.0, 400.0)), holes=holes, pockets=()
    )
    line = CutLine("P01", (plate,))
    marks = picture(line, 1.0 / scale_of(line), WORDS)
    assert overlaps(marks) == []
    if count == 120:
        assert not plan_of(plate).holes_run
        assert {f"{i}" for i in range(1, 121)} <= set(_told(marks))


def test_depths_are_told_with_their_face() -> None:
    assert depth_told(None, Face.A, WORDS) == "through"
    assert depth_told(6.0, Face.A, WORDS) == "6 deep"
    assert depth_told(6.0, Face.B, Wording("de")) == "6 tief von Seite B"
