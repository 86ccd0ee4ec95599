"""Pockets against Shapely's unions and buffers (GEOS), an independent library."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.model.outline import Loop, polygon
from fitout.modules.pockets import grown, united_with_disc

FINE = 0.0005


def region(loop: Loop) -> shapely.Polygon:
    return shapely.Polygon(loop.chords(grows=False, sagitta=FINE))


def star(radii: list[float]) -> Loop:
    turns = [2.0 * math.pi * i / len(radii) for i in range(len(radii))]
    return polygon([(r * math.cos(a), r * math.sin(a)) for r, a in zip(radii, turns, strict=True)])


STARS = st.lists(st.floats(20.0, 60.0), min_size=4, max_size=9).map(star)


@settings(max_examples=40, deadline=None)
@given(STARS, st.integers(0, 3), st.floats(0.0, 1.0), st.floats(8.0, 40.0))
def test_a_disc_on_the_edge_is_united_as_shapely_does(
    loop: Loop, edge: int, share: float, diameter: float
) -> None:
    a, b = list(loop.segments())[edge]
    centre = (a.x + share * (b.x - a.x), a.y + share * (b.y - a.y))
    disc = shapely.Point(centre).buffer(diameter / 2.0, quad_segs=400)
    whole = region(loop).union(disc)
    expected = shapely.Polygon(whole.exterior)
    found = united_with_disc(loop, centre, diameter)
    # The disc may grow by a few hundredths to keep off corners.
    assert found.area == pytest.approx(expected.area, abs=0.05 * math.pi * diameter + 0.1)
    assert region(found).is_valid


@settings(max_examples=25, deadline=None)
@given(STARS, st.floats(0.5, 5.0))
def test_growing_is_shapelys_buffer(loop: Loop, by: float) -> None:
    expected = region(loop).buffer(by, quad_segs=400)
    found = grown(loop, by)
    outline = np.asarray(expected.exterior.coords)
    assert region(found).hausdorff_distance(shapely.Polygon(outline)) < 0.06
