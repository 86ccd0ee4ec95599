"""Panels of odd shape: points inside them, where two meet, what is left of a rectangle."""

from collections.abc import Callable, Mapping

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.model.bay import Bay
from fitout.model.module import JointKind
from fitout.model.outline import Outline, circle, polygon, rectangle
from fitout.model.placement import across, along, flat
from fitout.modules.fitting import meet, rectangle_less, within
from fitout.modules.joinery import Draft
from fitout.modules.kind import Setting

SettingOf = Callable[..., Setting]


@pytest.fixture
def draft(bays: Mapping[str, Bay], setting_of: SettingOf) -> Draft:
    return Draft("box", "box", setting_of(bays["wagon"], 12.0))


def test_points_inside_an_outline_with_a_hole(draft: Draft) -> None:
    shape = Outline(
        polygon([(0, 0), (200, 0), (200, 50), (80, 100), (0, 100)]), (circle(60, 40, 40),)
    )
    panel = draft.panel("panel", draft.board("carcass"), shape, flat(0, 0, 0))
    points = np.array([(10, 10), (60, 40), (60, 65), (190, 90), (100, 80), (195, 25), (-1, 5)])
    assert within(panel, points).tolist() == [True, False, True, False, True, True, False]
    assert within(panel, points, 6.0).tolist() == [True, False, False, False, True, False, False]


def corner(draft: Draft) -> None:
    """A wall along the bay and, behind it, an end across with a step in its upper edge."""
    board = draft.board("carcass")
    draft.panel("wall", board, (400.0, 300.0), along(0.0, 12.0, 0.0))
    step = Outline(polygon([(0, 0), (150, 0), (150, 300), (0, 300)]))
    draft.panel("end", board, step, across(0.0, 12.0, 0.0))


def test_where_they_meet_they_are_screwed(draft: Draft) -> None:
    corner(draft)
    line = (6.0, 12.0, 0.0), (6.0, 12.0, 300.0)
    assert meet(draft, ("wall", "end"), line, (0.0, 1.0, 0.0))
    assert [j.kind for j in draft.joints] == [JointKind.SCREWED]
    heights = sorted(h.y for h in draft.panels["wall"].holes)
    assert heights[0] == pytest.approx(44.0, abs=2.0)
    assert heights[-1] == pytest.approx(256.0, abs=2.0)
    assert {h.x for h in draft.panels["wall"].holes} == {6.0}


def test_screws_keep_to_where_both_are(draft: Draft) -> None:
    corner(draft)
    draft.cut_out("wall", [rectangle(100.0, 120.0, -1.0, -1.0)])
    line = (6.0, 12.0, 0.0), (6.0, 12.0, 300.0)
    assert meet(draft, ("wall", "end"), line, (0.0, 1.0, 0.0))
    assert min(h.y for h in draft.panels["wall"].holes) > 119.0 + 4.0


def test_no_room_for_a_screw_and_no_meeting_at_all(draft: Draft) -> None:
    corner(draft)
    short = (6.0, 12.0, 0.0), (6.0, 12.0, 10.0)
    assert meet(draft, ("wall", "end"), short, (0.0, 1.0, 0.0))
    assert [j.kind for j in draft.joints] == [JointKind.FITTED]
    assert meet(draft, ("wall", "end"), short, (0.0, 1.0, 0.0), None, JointKind.RESTS)
    assert draft.joints[-1].kind is JointKind.RESTS
    away = (206.0, 12.0, 0.0), (206.0, 12.0, 300.0)
    assert not meet(draft, ("wall", "end"), away, (0.0, 1.0, 0.0))
    assert len(draft.joints) == 2
    assert draft.panels["wall"].holes == ()


def test_a_rectangle_without_bites_is_whole() -> None:
    (whole,) = rectangle_less((0, 0, 300, 200), [(400, 0, 500, 100)])
    assert whole == Outline(rectangle(300, 200))


def test_a_bite_through_parts_it_and_narrow_rests_are_dropped() -> None:
    left, right = rectangle_less((0, 0, 1000, 200), [(400, -10, 500, 210)])
    assert left.bounds == (0, 0, 400, 200)
    assert right.bounds == (500, 0, 1000, 200)
    (only,) = rectangle_less((0, 0, 1000, 200), [(30, -10, 500, 210)])
    assert only.bounds == (500, 0, 1000, 200)


def test_inner_corners_are_rounded_for_the_bit() -> None:
    (notched,) = rectangle_less((0, 0, 1000, 400), [(300, -10, 600, 250)])
    rounded = (1.0 - np.pi / 4.0) * 3.0**2
    assert notched.area == pytest.approx(400_000 - 300 * 250 + 2 * rounded)
    (window,) = rectangle_less((0, 0, 1000, 400), [(300, 100, 600, 250)])
    assert len(window.inner) == 1
    assert window.area == pytest.approx(400_000 - 300 * 150 + 4 * rounded)


bites = st.lists(
    st.tuples(*(st.integers(0, 20) for _ in range(4))).map(
        lambda b: (min(b[0], b[2]) * 50.0, min(b[1], b[3]) * 50.0,
                   max(b[0], b[2]) * 50.0 + 50.0, max(b[1], b[3]) * 50.0 + 50.0)
    ),
    max_size=4,
)  # fmt: skip


@settings(max_examples=25, deadline=None)
@given(bites)
def test_what_is_left_is_the_rectangle_less_its_bites(bites: list) -> None:
    pieces = rectangle_less((0, 0, 1000, 600), bites)
    free = 2500.0 * sum(
        1
        for x in range(0, 1000, 50)
        for y in range(0, 600, 50)
        if not any(b[0] <= x < b[2] and b[1] <= y < b[3] for b in bites)
    )
    # Each of the few inner corners keeps less than 2 mm².
    assert free - 1e-6 <= sum(p.area for p in pieces) <= free + 2.0 * 40
