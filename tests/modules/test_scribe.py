import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.catalogue import load
from fitout.clearance.body import body_of, body_of_obstacle
from fitout.clearance.contact import contact
from fitout.model.design import ArchSpec, BaySpec, SectionSpec
from fitout.model.module import Berth
from fitout.model.outline import Loop, arc_of, polygon
from fitout.model.panel import Panel
from fitout.model.placement import across, across_face_rear, flat, flat_face_down
from fitout.model.spec import Measured
from fitout.modules.scribe import (
    BIT_RADIUS,
    SHORTEST_EDGE,
    across_outline,
    end_outline,
    flat_across_outline,
    flat_edge,
    flat_outline,
    softened,
    upright_edge,
)
from fitout.survey.bay import build_bay

GAP = 2.0
BOARD = load().sheets["birch ply 12"]
T = BOARD.thickness
WIDE = 1.0e4


def upright(x0, z0, z1, thickness=T):
    return Berth(x0=x0, x1=x0 + thickness, y0=-WIDE, y1=WIDE, z0=z0, z1=z1)


def part(outline, placement):
    return Panel(name="p", module="m", outline=outline, board=BOARD, placement=placement)


def least_gap(panel, bay, reach=30.0):
    body = body_of(panel)
    solids = [o for o in bay.obstacles if "wall" in o.name or o.kind == "arch"]
    found = [contact(body, body_of_obstacle(o), reach) for o in solids]
    assert not any(c.clashes for c in found)
    return min(c.gap for c in found)


def lengths(loop: Loop):
    for a, b in loop.segments():
        if a.bulge:
            arc = arc_of(a, b)
            yield arc.radius * abs(arc.sweep)
        else:
            yield math.dist((a.x, a.y), (b.x, b.y))


# Stations beside, across and at the very edges of the wagon's arches (318 to 842, 262 high).
@pytest.mark.parametrize(
    "x0", [5.0, 304.5, 305.9, 317.0, 500.0, 829.0, 841.0, 842.5, 846.0, 1000.0]
)
@pytest.mark.parametrize(
    ("z0", "z1"), [(5.0, 830.0), (259.0, 640.0), (262.5, 500.0), (20.0, 263.0)]
)
def test_an_upright_panel_keeps_the_gap_and_uses_the_room(bays, x0, z0, z1):
    bay = bays["wagon"]
    box = upright(x0, z0, z1)
    placement = across_face_rear(box.x1, 0.0, box.z0)
    outline = across_outline(bay, box, placement, GAP)
    panel = part(outline, placement)
    gap = least_gap(panel, bay)
    assert gap >= GAP
    # Ahead of or behind an arch the gap is kept square to both faces of its edge.
    assert gap < GAP + 0.8
    assert min(lengths(outline.outer)) >= SHORTEST_EDGE
    body = body_of(panel)
    assert (body.lo[0], body.hi[0]) == pytest.approx((box.x0, box.x1))
    assert (body.lo[2], body.hi[2]) == pytest.approx((box.z0, box.z1))


@pytest.mark.parametrize("gap", [0.5, 2.0, 6.0])
@pytest.mark.parametrize(("x0", "x1"), [(100.0, 500.0), (575.0, 1100.0), (300.0, 319.0)])
def test_flat_panels_keep_the_gap_between_sides_that_differ(bays, gap, x0, x1):
    bay = bays["van"]
    box = Berth(x0=x0, x1=x1, y0=-WIDE, y1=WIDE, z0=180.0, z1=180.0 + T)
    outline = flat_across_outline(bay, box, flat(0.0, 0.0, box.z0), gap)
    found = least_gap(part(outline, flat(0.0, 0.0, box.z0)), bay)
    assert gap <= found < gap + 1.0


def test_the_edge_lies_where_a_tape_would_put_it():
    """A straight wall 600 from the middle, an arch to 480 up to 200 high: by hand."""
    straight = {0.0: Measured(1200.0), 700.0: Measured(1200.0)}
    bay = build_bay(
        BaySpec(
            sections=tuple(
                SectionSpec(at=Measured(x), widths=straight, roof=Measured(700.0))
                for x in (0.0, 1000.0)
            ),
            wheel_arches=ArchSpec(
                between=Measured(960.0),
                start=Measured(300.0),
                end=Measured(700.0),
                height=Measured(200.0),
            ),
            front_wall=Measured(1000.0),
        )
    )
    off = 3.0 - (3.0 - 2.0) / math.sqrt(2.0) + 0.01
    edge = upright_edge(bay, "left", upright(400.0, 10.0, 650.0), 2.0)
    expected = [
        (10.0, 480.0 - off),
        (200.0 + off, 480.0 - off),
        (200.0 + off, 600.0 - off),
        (650.0, 600.0 - off),
    ]
    assert [p for point in edge for p in point] == pytest.approx(
        [p for point in expected for p in point], abs=0.02
    )
    edge = flat_edge(bay, "right", Berth(x0=100, x1=900, y0=0, y1=0, z0=50, z1=62), 2.0)
    xs = [x for x, _ in edge]
    assert xs == pytest.approx(
        [100.0, 300.0 - off, 300.0 - off, 700.0 + off, 700.0 + off, 900.0], abs=0.02
    )


def test_inner_corners_are_what_a_router_bit_leaves(bays):
    box = upright(500.0, 5.0, 640.0)
    outline = across_outline(bays["wagon"], box, across(box.x0, 0.0, 0.0), GAP)
    loop = outline.outer.anticlockwise()
    inner = [arc_of(a, b).radius for a, b in loop.segments() if a.bulge < 0.0]
    assert inner == pytest.approx([BIT_RADIUS, BIT_RADIUS])
    assert not [a for a, _ in loop.segments() if a.bulge > 0.0]


def test_both_ways_of_facing_give_the_same_part(bays):
    bay, box = bays["van"], upright(800.0, 30.0, 1000.0)
    ahead = across_outline(bay, box, across(box.x0, 0.0, box.z0), GAP)
    rearward = across_outline(bay, box, across_face_rear(box.x1, 0.0, box.z0), GAP)
    assert ahead.area == pytest.approx(rearward.area)
    a, b = part(ahead, across(box.x0, 0.0, box.z0)), part(
        rearward, across_face_rear(box.x1, 0.0, box.z0)
    )  # fmt: skip
    assert a.centroid == pytest.approx(b.centroid)


def test_a_limited_panel_never_leaves_its_box(bays):
    bay = bays["wagon"]
    box = Berth(x0=500.0, x1=512.0, y0=-520.0, y1=610.0, z0=5.0, z1=700.0)
    placement = across(box.x0, 0.0, 0.0)
    outline = across_outline(bay, box, placement, GAP)
    x0, _, x1, _ = outline.bounds
    assert x0 == pytest.approx(-520.0)
    assert x1 <= 610.0
    assert least_gap(part(outline, placement), bay) >= GAP


@pytest.mark.parametrize("side", ["left", "right"])
def test_an_end_panel_is_straight_inside_and_stepped_outside(bays, side):
    bay, sign = bays["wagon"], 1.0 if side == "left" else -1.0
    y = sorted((sign * 450.0, sign * 640.0))
    box = Berth(x0=820.0, x1=832.0, y0=y[0], y1=y[1], z0=12.0, z1=400.0)
    placement = across(box.x0, 0.0, box.z0)
    outline = end_outline(bay, side, box, placement, GAP)
    panel = part(outline, placement)
    assert GAP <= least_gap(panel, bay) < GAP + 0.6
    body = body_of(panel)
    inner = body.lo[1] if side == "left" else body.hi[1]
    assert inner == pytest.approx(sign * 450.0)
    at_inner = [v for v in outline.outer.vertices if abs(v.x - sign * 450.0) < 1e-6]
    assert sorted(v.y for v in at_inner) == pytest.approx([0.0, 388.0])


def test_an_end_panel_beyond_the_arch_begins_above_it(bays):
    bay = bays["wagon"]
    box = Berth(x0=500.0, x1=512.0, y0=520.0, y1=640.0, z0=12.0, z1=400.0)
    placement = across(box.x0, 0.0, 0.0)
    outline = end_outline(bay, "left", box, placement, GAP)
    assert outline.bounds[1] == pytest.approx(262.0 + GAP, abs=0.5)
    assert outline.bounds[3] == pytest.approx(400.0)
    assert least_gap(part(outline, placement), bay) >= GAP


def test_a_flat_infill_ends_at_its_inner_side(bays):
    bay = bays["wagon"]
    box = Berth(x0=100.0, x1=900.0, y0=-640.0, y1=-420.0, z0=300.0, z1=300.0 + T)
    placement = flat_face_down(box.x0, box.y1, box.z1)
    outline = flat_outline(bay, "right", box, placement, GAP)
    panel = part(outline, placement)
    body = body_of(panel)
    assert body.hi.tolist() == pytest.approx([900.0, -420.0, 300.0 + T])
    assert GAP <= least_gap(panel, bay) < GAP + 0.6


def test_no_room_is_said(bays):
    box = Berth(x0=400.0, x1=412.0, y0=520.0, y1=640.0, z0=20.0, z1=200.0)
    with pytest.raises(ValueError, match="no room between y = 520 and the left wall"):
        end_outline(bays["wagon"], "left", box, across(400.0, 0.0, 0.0), GAP)


def test_corners_are_rounded_only_where_there_is_length_for_it():
    loop = softened(polygon([(0, 0), (100, 0), (100, 1.5), (60, 1.5), (60, 80), (0, 80)]), 20.0)
    radii = [(arc_of(a, b).radius, a.bulge > 0.0) for a, b in loop.segments() if a.bulge]
    assert (pytest.approx(BIT_RADIUS), False) in [(r, o) for r, o in radii]
    assert all(r < 1.5 or abs(r - 20.0) < 1e-9 for r, outer in radii if outer)
    assert min(lengths(loop)) >= SHORTEST_EDGE


half_widths = st.lists(st.floats(min_value=350.0, max_value=700.0), min_size=3, max_size=3)


@settings(max_examples=25, deadline=None)
@given(
    rear=half_widths,
    ahead=half_widths,
    arch=st.tuples(
        st.floats(min_value=100.0, max_value=400.0),
        st.floats(min_value=30.0, max_value=400.0),
        st.floats(min_value=60.0, max_value=450.0),
        st.floats(min_value=250.0, max_value=340.0),
    ),
    x0=st.floats(min_value=5.0, max_value=780.0),
    gap=st.floats(min_value=0.0, max_value=8.0),
)
def test_any_wall_keeps_its_gap(rear, ahead, arch, x0, gap):
    def section(at, halves):
        widths = {z: Measured(2.0 * h) for z, h in zip((0.0, 250.0, 500.0), halves, strict=True)}
        return SectionSpec(at=Measured(at), widths=widths, roof=Measured(500.0))

    start, length, height, inner = arch
    bay = build_bay(
        BaySpec(
            sections=(section(0.0, rear), section(800.0, ahead)),
            wheel_arches=ArchSpec(
                between=Measured(2.0 * inner),
                start=Measured(start),
                end=Measured(start + length),
                height=Measured(height),
            ),
            front_wall=Measured(900.0),
        )
    )
    box = upright(x0, 3.0, 490.0)
    placement = across_face_rear(box.x1, 0.0, box.z0)
    outline = across_outline(bay, box, placement, gap)
    assert least_gap(part(outline, placement), bay) >= gap - 1e-6
    assert min(lengths(outline.outer)) >= SHORTEST_EDGE - 1e-9
