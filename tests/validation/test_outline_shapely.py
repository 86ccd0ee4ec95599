"""Area, centroid, length and bounds of outlines against shapely (GEOS), arcs densified.

shapely knows chords only: each arc is given to it as chords of at most `STEP` radians whose
ends lie on the arc, computed here from the definition of the bulge, tan(sweep / 4). Their
area misses each arc's by at most r² s³ / 12 a chord; the tolerances state the sum.
"""

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.model.outline import Loop, Outline, circle, polygon, rectangle, rounded, slot

STEP = 0.002


def densified(loop):
    """The loop's vertices with points along every arc."""
    points = []
    for a, b in loop.segments():
        points.append((a.x, a.y))
        if not a.bulge:
            continue
        sweep = 4.0 * math.atan(a.bulge)
        chord = math.hypot(b.x - a.x, b.y - a.y)
        radius = chord / (2.0 * math.sin(sweep / 2.0))
        # The centre lies to the left of the chord for a short anticlockwise arc.
        off = radius * math.cos(sweep / 2.0)
        cx = (a.x + b.x) / 2.0 - off * (b.y - a.y) / chord
        cy = (a.y + b.y) / 2.0 + off * (b.x - a.x) / chord
        count = max(2, math.ceil(abs(sweep) / STEP))
        for i in range(1, count):
            angle = sweep * i / count
            cos, sin = math.cos(angle), math.sin(angle)
            dx, dy = a.x - cx, a.y - cy
            points.append((cx + cos * dx - sin * dy, cy + sin * dx + cos * dy))
    return shapely.Polygon(points)


def arc_area_missed(loop):
    """Greatest area between the arcs and the chords that stand for them."""
    missed = 0.0
    for a, b in loop.segments():
        if a.bulge:
            sweep = abs(4.0 * math.atan(a.bulge))
            radius = math.hypot(b.x - a.x, b.y - a.y) / (2.0 * abs(math.sin(sweep / 2.0)))
            missed += radius**2 * sweep * STEP**2 / 12.0
    return missed + 1e-6


NOTCHED = [(0, 0), (400, 0), (400, 120), (800, 120), (800, 0), (900, 0), (900, 500), (0, 500)]
SHAPES = [
    polygon([(0, 0), (700, 0), (700, 300), (100, 300), (0, 200)]),
    rounded(polygon([(0, 0), (700, 0), (700, 300), (100, 300), (0, 200)]), 20.0),
    rounded(polygon(NOTCHED), 25.0),
    slot(300, 240, 420, 190, 30),
    circle(600, 200, 60),
]


@pytest.mark.parametrize("loop", SHAPES)
@pytest.mark.parametrize("way", [Loop.anticlockwise, Loop.reversed, Loop.mirrored])
def test_loops(loop, way):
    ours = way(loop)
    theirs = densified(ours)
    missed = arc_area_missed(ours)
    assert theirs.is_valid
    assert ours.area == pytest.approx(theirs.area, abs=missed)
    assert ours.length == pytest.approx(theirs.length, rel=STEP**2 / 24.0 + 1e-9)
    # A sliver of area `missed` at the far end moves the centroid by its lever over the area.
    lever = missed / theirs.area * 2000.0
    assert ours.centroid == pytest.approx((theirs.centroid.x, theirs.centroid.y), abs=lever)
    assert ours.bounds == pytest.approx(theirs.bounds, abs=1e-3)


def test_cut_outs_are_taken_off():
    outline = Outline(SHAPES[1], (SHAPES[4], slot(300, 240, 420, 240, 30)))
    theirs = densified(outline.outer)
    for loop in outline.inner:
        theirs = theirs.difference(densified(loop))
    missed = sum(map(arc_area_missed, (outline.outer, *outline.inner)))
    assert outline.area == pytest.approx(theirs.area, abs=missed)
    lever = missed / theirs.area * 2000.0
    assert outline.centroid == pytest.approx((theirs.centroid.x, theirs.centroid.y), abs=lever)


@pytest.mark.parametrize("loop", SHAPES)
@pytest.mark.parametrize("sagitta", [0.004, 0.5])
def test_chords_contain_or_lie_within(loop, sagitta):
    exact = densified(loop)
    grown = shapely.Polygon(loop.chords(grows=True, sagitta=sagitta))
    shrunk = shapely.Polygon(loop.chords(grows=False, sagitta=sagitta))
    # The densified arcs themselves stray by r s² / 8, below a ten-thousandth here.
    assert grown.buffer(1e-4).covers(exact)
    assert exact.buffer(1e-4).covers(shrunk)
    assert shapely.hausdorff_distance(grown, exact, densify=0.05) <= sagitta * 1.01 + 1e-4
    assert shapely.hausdorff_distance(shrunk, exact, densify=0.05) <= sagitta * 1.01 + 1e-4


@settings(max_examples=25, deadline=None)
@given(
    length=st.floats(50.0, 1500.0),
    width=st.floats(50.0, 900.0),
    radius=st.floats(0.1, 24.0),
    clipped=st.floats(5.0, 25.0),
    x=st.floats(-500.0, 500.0),
)
def test_any_rounded_panel(length, width, radius, clipped, x):
    corners = [(x, 0.0), (x + length, 0.0), (x + length, width), (x + clipped, width)]
    loop = rounded(polygon([*corners, (x, width - clipped)]), radius)
    theirs = densified(loop)
    missed = arc_area_missed(loop)
    assert loop.area == pytest.approx(theirs.area, abs=missed)
    assert loop.centroid == pytest.approx(
        (theirs.centroid.x, theirs.centroid.y), abs=missed / theirs.area * 4000.0
    )


def test_a_rounded_rectangle_by_hand():
    loop = rounded(rectangle(400.0, 200.0), 30.0)
    assert loop.area == pytest.approx(400 * 200 - (4 - math.pi) * 30**2, rel=1e-12)
    assert loop.length == pytest.approx(2 * (340 + 140) + 2 * math.pi * 30, rel=1e-12)
