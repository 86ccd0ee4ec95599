"""The top of a side bin as built: lids between their gaps, what bears them, what they bear."""

import itertools
import math

import pytest

from fitout.model.design import BaySpec, SectionSpec
from fitout.model.module import Berth, JointKind, MotionKind
from fitout.model.panel import Face
from fitout.model.spec import Measured
from fitout.modules.neighbours import box_of
from fitout.modules.side_bin import SideBinSpec, build
from fitout.survey.bay import build_bay

WALL = 600.0


@pytest.fixture
def module(setting_of):
    """A bin 150 wide and 1050 long along an upright wall, boards of 12, on either side."""

    def make(side, inner=400.0, length=1050.0):
        section = SectionSpec(
            at=Measured(0.0), widths={0.0: Measured(2.0 * WALL)}, roof=Measured(900.0)
        )
        bay = build_bay(BaySpec(sections=(section,), front_wall=Measured(1200.0)))
        y0, y1 = (inner, WALL - 2.0) if side == "left" else (2.0 - WALL, -inner)
        berth = Berth(x0=50.0, x1=50.0 + length, y0=y0, y1=y1, z0=0.0, z1=400.0)
        return build("bin", SideBinSpec(sides=side), berth, setting_of(bay, 12.0))

    return make


def named(module, word):
    return [p for p in module.panels if p.name.startswith(word)]


def bounds(panel):
    """x0, x1 and the distances from the centre line of a lying panel."""
    length, width = panel.outline.size
    x, y, _ = panel.placement.origin
    s = sorted((abs(y), abs(y + width)))
    return x, x + length, s[0], s[1]


@pytest.mark.parametrize("side", ["left", "right"])
def test_lids_lie_between_inner_wall_and_strip(module, side):
    """2 to the strip, 3 between lids, and room at the inner edge for the lower edge's swing."""
    made = module(side)
    lids = sorted(map(bounds, named(made, "lid")))
    (strip,) = map(bounds, named(made, "strip"))
    assert len(lids) == 2
    assert lids[1][0] - lids[0][1] == pytest.approx(3.0)
    for x0, x1, s0, s1 in lids:
        assert strip[2] - s1 == pytest.approx(2.0)
        width = strip[2] - 2.0 - 400.0
        swing = math.hypot(width, 12.0) - width
        assert s0 == pytest.approx(400.0 + swing + 1.5 + 0.1)
        assert 50.0 < x0 < x1 < 1100.0


@pytest.mark.parametrize("side", ["left", "right"])
def test_every_lid_swings_about_the_hinge_line(module, side):
    """Its inner edge rises: the axis runs rearward on the left, forward on the right."""
    made = module(side)
    swings = {m.name: m for m in made.motions if m.kind is MotionKind.HINGE}
    assert set(swings) == {p.name for p in named(made, "lid")}
    for lid in named(made, "lid"):
        swing = swings[lid.moves]
        assert swing.direction[0] == (-1.0 if side == "left" else 1.0)
        assert abs(swing.point[1]) == pytest.approx(bounds(lid)[3])
        assert swing.point[2] == pytest.approx(400.0)
        assert swing.travel == 95.0


def test_lids_are_hinged_to_the_strip_and_rest_on_wall_and_uprights(module):
    made = module("left")
    for lid in named(made, "lid"):
        kinds = {j.kind for j in made.joints if lid.id in (j.a, j.b)}
        assert kinds == {JointKind.HINGED, JointKind.RESTS}
    strip = named(made, "strip")[0].id
    hinged = [j for j in made.joints if j.kind is JointKind.HINGED]
    assert all(strip in (j.a, j.b) for j in hinged)


def test_each_lid_bears_a_knee_and_has_a_finger_hole(module):
    made = module("left")
    for lid in named(made, "lid"):
        (duty,) = [d for d in made.plates if d.panel == lid.id]
        assert duty.patch
        assert duty.edges == "all"
        assert duty.spans[1] == pytest.approx(bounds(named(made, "strip")[0])[2] - 412.0)
        (hole,) = lid.outline.inner
        u0, v0, u1, v1 = hole.bounds
        assert (u1 - u0, v1 - v0) == pytest.approx((80.0, 24.0))


def test_hinges_stays_and_screws_for_every_lid(module):
    """Every hole of the hinge has its screw; a lid or strip of 12 takes one of 12."""
    made = module("left")
    bought = {(h.article, h.purpose): h.quantity for h in made.hardware}
    lids = named(made, "lid")
    stays = [h for (article, _), h in bought.items() if article.startswith("lid stay")]
    assert sum(stays) == len(lids)
    assert bought["strip hinge", "lid"] == 2
    holes = [h for p in made.panels for h in p.holes if h.purpose == "hinge screw"]
    assert bought["wood screw 3.5 x 12", "lid hinge"] == len(holes)
    assert len(holes) >= 2 * sum(lid.outline.size[0] for lid in lids) / 75.0


@pytest.mark.parametrize("side", ["left", "right"])
def test_lid_and_strip_are_drilled_for_the_hinge(module, side):
    """8 mm either side of the middle of the 2 mm gap, from above, not right through."""
    made = module(side)
    (strip,) = named(made, "strip")
    hinge = bounds(strip)[2]
    for panel, row in [(strip, hinge + 7.0), *((lid, hinge - 9.0) for lid in named(made, "lid"))]:
        holes = [h for h in panel.holes if h.purpose == "hinge screw"]
        assert holes
        assert panel.placement.w[2] == 1.0
        for hole in holes:
            assert abs(panel.placement.at(hole.x, hole.y)[1]) == pytest.approx(row)
            assert (hole.diameter, hole.depth, hole.face) == (2.0, 10.0, Face.A)


def test_a_narrow_bin_has_a_fixed_top(module):
    """100 wide: no room for lids beside the strip."""
    made = module("left", inner=500.0)
    assert named(made, "lid") == []
    (top,) = named(made, "top")
    assert bounds(top)[2:] == pytest.approx((500.0, WALL - 2.0), abs=0.5)
    assert [d.panel for d in made.plates if d.patch] == [top.id]


def test_no_two_parts_of_the_top_overlap(module):
    made = module("right")
    tops = [bounds(p) for p in (*named(made, "lid"), *named(made, "strip"))]
    for a, b in itertools.combinations(tops, 2):
        assert max(a[0] - b[1], b[0] - a[1], a[2] - b[3], b[2] - a[3]) >= 2.0 - 1e-6


@pytest.mark.parametrize("side", ["left", "right"])
def test_screws_into_a_rails_end_stay_below_those_through_the_top(module, side):
    """Boards of 12: the top's 4 x 40 end 28 below the underside of lids and strip, at 388."""
    made = module(side)
    rail = box_of(named(made, "rail")[0])
    middle = abs(rail.y0 + rail.y1) / 2.0
    for name in ("rear end", "front end"):
        (end,) = named(made, name)
        holes = [end.placement.at(h.x, h.y) for h in end.holes if h.purpose == "screw"]
        into_rail = [z for _, y, z in holes if z > 300.0 and abs(abs(y) - middle) < 12.0]
        assert len(into_rail) == 2
        assert max(into_rail) + 2.0 < 388.0 - 28.0
        assert min(into_rail) - 2.0 > 388.0 - 60.0
        assert max(into_rail) - min(into_rail) > 8.0
