"""Views of the measuring sheet: outlines and lines where the bay has them."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.model.design import BaySpec
from fitout.model.notes import NoteSpec
from fitout.survey.observations import notebook
from fitout.survey.sheet_views import (
    OPENING,
    PLAN,
    SIDE,
    Line,
    line_of_entry,
    line_of_note,
    section_view,
    views,
)

Make = Callable[..., Any]


def drawn(spec: BaySpec) -> dict[str, Any]:
    book = notebook(spec)
    return {view.name: view for view in views(book, {name: name for name in book.places.points})}


def test_each_point_is_drawn_once(tour_bay: BaySpec) -> None:
    shown = [n for v in drawn(tour_bay).values() for p, _ in v.points for n in p.split("/")]
    names = "/".join(notebook(tour_bay).places.points).split("/")
    assert sorted(shown) == sorted(names)


def test_outlines_are_the_bays(tour_bay: BaySpec) -> None:
    all_views = drawn(tour_bay)
    assert list(all_views) == [PLAN, SIDE, "section 1", "section 2", "section 3", OPENING]
    floor, left, right = all_views[PLAN].outlines
    assert (0.0, 620.0) in floor
    assert (1140.0, -632.0) in floor
    assert left[1:3] == ((318.0, 500.0), (842.0, 500.0))
    assert right[1:3] == ((318.0, -510.0), (842.0, -510.0))
    sides = all_views[SIDE].outlines
    assert sides[0] == ((0.0, 0.0), (1164.0, 0.0))
    assert sides[2][1] == pytest.approx((1164.0 - 612.0 * 0.305731, 612.0), abs=1e-3)
    outline, *arches = all_views[section_view(2)].outlines
    assert (-630.0, 0.0) in outline
    assert (605.0, 861.0) in outline
    assert len(arches) == 2
    assert len(all_views[section_view(1)].outlines) == 1


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("sections", 1, "widths", "300"), Line("section 2", (-640.0, 300.0), (640.0, 300.0))),
        (("sections", 0, "widths", "0", "left"), Line("section 1", (0.0, 0.0), (-620.0, 0.0))),
        (("sections", 2, "roof"), Line("section 3", (0.0, 0.0), (0.0, 868.0))),
        (("seat_back", "foot"), Line(PLAN, (0.0, 0.0), (1164.0, 0.0))),
        (("wheel_arches", "height"), Line(SIDE, (580.0, 0.0), (580.0, 262.0))),
        (("wheel_arches", "between", "right"), Line(PLAN, (580.0, -510.0), (580.0, 0.0))),
        (("wheel_arches", "from"), Line(PLAN, (0.0, 500.0), (318.0, 500.0))),
        (("tailgate", "inner_face", "450"), Line(SIDE, (0.0, 450.0), (30.0, 450.0))),
        (("opening", "widths", "772"), Line(OPENING, (-509.0, 772.0), (509.0, 772.0))),
        (("opening", "height"), Line(OPENING, (0.0, 0.0), (0.0, 772.0))),
    ],
)
def test_entries_are_drawn_where_they_are_measured(
    tour_bay: BaySpec, path: tuple[Any, ...], line: Line
) -> None:
    assert list(line_of_entry(notebook(tour_bay), path)) == [line]


def test_notes_are_drawn_where_they_are_measured(tour_bay: BaySpec) -> None:
    book = notebook(tour_bay)

    def lines(**what: Any) -> list[Line]:
        return list(line_of_note(book, NoteSpec(**what)))

    floor = lines(between=("left sill corner", "right front corner"))
    assert floor == [Line(PLAN, (0.0, 620.0), (1164.0, -632.0))]
    upright = lines(between=("left wall 1/0", "right wall 1/620"))
    assert upright == [Line("section 1", (-620.0, 0.0), (590.0, 620.0))]
    assert lines(across=(500.0, 100.0)) == [Line(PLAN, (500.0, -510.0), (500.0, 500.0))]
    (depth,) = lines(forward=0.0)
    assert depth == Line(SIDE, (0.0, 0.0), (1164.0, 0.0))
    (level,) = lines(angle="floor")
    assert level.start == level.end


def test_shaped_arches_are_drawn_by_their_profile(plain_bay: Make, arches: Make) -> None:
    profile = ((300.0, 0.0), (500.0, 200.0), (700.0, 0.0))
    shaped = arches(start=None, end=None, height=None, profile=profile)
    side = drawn(plain_bay(wheel_arches=shaped))[SIDE].outlines[-1]
    assert set(profile) <= set(side)


def test_points_that_no_view_shows_together_are_joined_as_seen_from_the_side(
    tour_bay: BaySpec,
) -> None:
    note = NoteSpec(between=("tailgate 450", "front middle"))
    assert list(line_of_note(notebook(tour_bay), note)) == [
        Line(SIDE, (30.0, 450.0), (1164.0, 0.0))
    ]
