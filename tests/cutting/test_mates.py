"""Which stretches of an edge stand against other parts, in a corner of a box."""

import dataclasses

import pytest

from fitout.cutting.cut_list import cut_list
from fitout.cutting.mates import mated
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Grain
from fitout.model.placement import Placement

ROUTER = CuttingSpec(by="router", kerf=6.0)


@pytest.fixture
def shelf(make):
    """200 × 100, lying at height 50; x along its length, face up."""
    return make(200.0, 100.0, name="shelf", placement=Placement((0.0, 0.0, 50.0)))


def wall_at(make, x, y0, y1, name="wall"):
    """An upright wall across x from y0 to y1, its face at x, standing beyond."""
    place = Placement((x, y0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    outline = Outline(rectangle(y1 - y0, 300.0))
    return make(outline=outline, name=name, placement=place, grain=Grain.EITHER)


def stretches(shelf, bodies, spec=ROUTER):
    cuts = mated(cut_list([shelf]), [shelf, *bodies], spec)
    return cuts.lines[0].mates


def test_the_end_that_stands_against_a_wall(make, shelf):
    (found,) = stretches(shelf, [wall_at(make, 200.0, -10.0, 110.0)])
    assert sorted(found) == [(200.0, 0.0), (200.0, 100.0)]


def test_only_the_stretch_that_meets_it(make, shelf):
    ((start, end),) = stretches(shelf, [wall_at(make, 200.0, 50.0, 400.0)])
    assert start[0] == end[0] == 200.0
    assert start[1] == pytest.approx(50.0, abs=8.0)
    assert end[1] == 100.0


def test_what_is_farther_than_a_millimetre_meets_nothing(make, shelf):
    assert stretches(shelf, [wall_at(make, 201.2, -10.0, 110.0)]) == ()
    assert stretches(shelf, [wall_at(make, 200.5, -10.0, 110.0)]) != ()


def test_not_asked_of_what_has_no_tabs(make, shelf):
    wall = wall_at(make, 200.0, -10.0, 110.0)
    for spec in (CuttingSpec(by="saw"), dataclasses.replace(ROUTER, skin=0.3)):
        assert stretches(shelf, [wall], spec) == ()
