"""The screw holes of a strip hinge: where they lie, what they pass, which screws they are for."""

import dataclasses

import pytest

from fitout.model.panel import Face, Hole
from fitout.model.placement import flat
from fitout.modules.joinery import Draft
from fitout.modules.strip_hinge import buy_hinges, drill_hinge

AXIS = (300.0, 1.0, 12.0), (900.0, 1.0, 12.0)
"""Along the middle of a gap of 2 between a strip left of it and a lid right of it."""


@pytest.fixture
def draft(bays, setting_of):
    """A lid 600 × 200 and a strip 600 × 50 that meet at the axis, of boards 12 thick."""

    def make(thickness=12.0):
        setting = setting_of(bays["wagon"], thickness)
        made = Draft("bin", "side bin", setting)
        board = made.board("lid")
        made.panel("lid", board, (600.0, 200.0), flat(300.0, -200.0, 12.0 - thickness))
        made.panel("strip", board, (600.0, 50.0), flat(300.0, 2.0, 12.0 - thickness))
        return made

    return make


def drilled(draft, name):
    return [h for h in draft.panels[name].holes if h.purpose == "hinge screw"]


def test_each_leaf_is_screwed_down_a_quarter_of_the_hinge_from_its_axis(draft):
    """32 open: rows 8 off the axis at 1; 600 less 20 at both ends takes 11 holes 56 apart."""
    made = draft()
    assert drill_hinge(made, ("lid", "strip"), AXIS, (0.0, -1.0, 0.0)) == 600.0
    lid, strip = drilled(made, "lid"), drilled(made, "strip")
    assert [h.y for h in lid] == [pytest.approx(193.0)] * 11
    assert [h.y for h in strip] == [pytest.approx(7.0)] * 11
    assert [h.x for h in lid] == pytest.approx([20.0 + 56.0 * i for i in range(11)])
    assert {(h.diameter, h.depth, h.face) for h in lid + strip} == {(2.0, 10.0, Face.A)}


def test_the_longest_screw_that_stays_in_is_bought(draft):
    """A leaf is 1 thick, the point stays 1 short: 16 goes into 16 and more, 12 below that."""
    for thickness, screw, depth in ((12.0, 12, 10.0), (15.0, 12, 11.0), (18.0, 16, 15.0)):
        made = draft(thickness)
        drill_hinge(made, ("lid", "strip"), AXIS, (0.0, -1.0, 0.0))
        (line,) = made.finish(None).hardware
        assert (line.article, line.quantity) == (f"wood screw 3.5 x {screw}", 22)
        assert {h.depth for h in drilled(made, "lid")} == {depth}


def test_what_is_drilled_already_is_passed_by(draft):
    """A hole of 4.5 in the way of the first screw of the strip: both leaves' move on by 8."""
    made = draft()
    made.drill("strip", [Hole(20.0, 7.0, 4.5)])
    drill_hinge(made, ("lid", "strip"), AXIS, (0.0, -1.0, 0.0))
    assert drilled(made, "strip")[0].x == pytest.approx(28.0)
    assert drilled(made, "lid")[0].x == pytest.approx(28.0)
    assert drilled(made, "strip")[1].x == pytest.approx(76.0)


def test_no_hole_runs_out_of_its_panel(draft):
    """Where the strip ends 300 short, nothing is drilled in either leaf."""
    made = draft()
    short = made.panels.pop("strip")
    made.panel("strip", short.board, (300.0, 50.0), short.placement)
    drill_hinge(made, ("lid", "strip"), AXIS, (0.0, -1.0, 0.0))
    assert max(h.x for h in drilled(made, "strip")) <= 296.0
    assert len(drilled(made, "lid")) == len(drilled(made, "strip")) < 11


@pytest.mark.parametrize(("length", "count"), [(600.0, 1), (1000.0, 1), (1001.0, 2)])
def test_hinges_are_counted_by_the_metre(draft, length, count):
    made = draft()
    buy_hinges(made, length)
    (line,) = made.finish(None).hardware
    assert (line.article, line.quantity) == ("strip hinge", count)


def test_without_a_width_in_the_catalogue_a_usual_one_is_taken(draft):
    made = draft()
    catalogue = made.setting.catalogue
    bare = dataclasses.replace(catalogue.articles["strip hinge"], width=None, pilot_hole=None)
    articles = {**catalogue.articles, "strip hinge": bare}
    kept = dataclasses.replace(catalogue, articles=articles)
    made.setting = dataclasses.replace(made.setting, catalogue=kept)
    drill_hinge(made, ("lid", "strip"), AXIS, (0.0, -1.0, 0.0))
    assert {(h.y, h.diameter) for h in drilled(made, "strip")} == {(7.0, 2.0)}
