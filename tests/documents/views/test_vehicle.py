"""The bay's outline where a plane cuts it."""

import numpy as np
import pytest
import shapely
from dossiers import NAMES, dossier

from fitout.documents.view import PLAN, REAR, SIDE
from fitout.documents.views.vehicle import bay_outline, opening_line, seat_lines
from fitout.survey.room import half_width


@pytest.mark.parametrize("name", NAMES)
def test_across_it_is_as_wide_as_the_bay(name):
    bay = dossier(name).fitout.bay
    x, z = 0.9 * bay.front, 0.5 * bay.roof[0][1]
    lines = bay_outline(bay, REAR, -x)
    level = shapely.linestrings([(-2000.0, z), (2000.0, z)])
    crossed = shapely.union_all(shapely.linestrings(max(lines, key=len))).intersection(level)
    found = sorted(point.x for point in shapely.get_parts(crossed))
    wanted = [half_width(bay, side, (x, x), (z, z)) for side in ("left", "right")]
    assert [-found[0], found[-1]] == pytest.approx(wanted, abs=1.0)


@pytest.mark.parametrize("name", NAMES)
def test_along_it_runs_from_the_floor_to_the_roof(name):
    bay = dossier(name).fitout.bay
    points = np.vstack(bay_outline(bay, SIDE, 0.0))
    assert points[:, 1].min() == pytest.approx(bay.floor, abs=0.5)
    assert points[:, 1].max() == pytest.approx(max(z for x, z in bay.roof if x <= bay.front), abs=8)


def test_from_above_arches_reach_in_where_they_are_cut():
    bay = dossier("touring-wagon").fitout.bay
    for level, reached in ((100.0, True), (500.0, False)):
        points = np.vstack(bay_outline(bay, PLAN, level))
        inner = np.abs(points[(points[:, 0] > 318.5) & (points[:, 0] < 841.5), 1])
        edge = bay.arches["left"][1]
        lines = [shapely.linestrings(line) for line in bay_outline(bay, PLAN, level)]
        met = any(line.distance(shapely.Point(580.0, edge)) < 0.5 for line in lines)
        assert met is reached, inner


def test_the_seat_back_in_each_notch():
    bay = dossier("touring-wagon").fitout.bay
    assert len(seat_lines(bay, SIDE, 0.0)) == len(bay.seat_lean_deg)
    assert seat_lines(dossier("canopy-tub").fitout.bay, SIDE, 0.0) == {}


def test_the_opening_is_closed_and_as_wide_as_measured():
    bay = dossier("touring-wagon").fitout.bay
    line = opening_line(bay)
    assert line[0].tolist() == line[-1].tolist()
    assert line[:, 0].max() == pytest.approx(max(right for _, right, _ in bay.opening))
