"""What a round bit leaves of an inside corner, and where a dogbone's centre lies.

Plane geometry, worked out by hand: a bit of radius r leaves r(√2 - 1) of a square corner
along its bisector (6 mm bit 1.243 mm, 6.35 mm bit 1.315 mm), r(1/sin(θ/2) - 1) of a corner of
angle θ; a circle through the corner has its centre r/√2 from it along each wall (2.121 mm,
2.245 mm), r(1 - 1/√2) beyond the path that follows the walls (0.879 mm, 0.930 mm). A T-bone's
centre lies on one wall's line and cuts r beyond that wall.
"""

import math

import pytest

from fitout.cutting.corners import centre, inside_corners, relief
from fitout.model.outline import Loop, arc_of, polygon, rectangle

(CORNER,) = (c for c in inside_corners(rectangle(100.0, 60.0), hollow=True) if c.at == (0.0, 0.0))


@pytest.mark.parametrize(
    ("bit", "left", "along", "beyond"),
    [(6.0, 1.243, 2.121, 0.879), (6.35, 1.315, 2.245, 0.930)],
)
def test_square_corner(bit, left, along, beyond):
    radius = bit / 2.0
    assert CORNER.left_by(radius) == pytest.approx(left, abs=5e-4)
    assert centre(CORNER, radius, "dogbone") == pytest.approx((along, along), abs=5e-4)
    assert radius - centre(CORNER, radius, "dogbone")[0] == pytest.approx(beyond, abs=5e-4)


@pytest.mark.parametrize("angle_deg", [40.0, 60.0, 90.0, 120.0, 150.0])
def test_corner_of_any_angle(angle_deg):
    angle = math.radians(angle_deg)
    wedge = polygon([(0, 0), (100, 0), (100 * math.cos(angle), 100 * math.sin(angle))])
    (corner,) = (c for c in inside_corners(wedge, hollow=True) if c.at == (0.0, 0.0))
    assert corner.left_by(3.0) == pytest.approx(3.0 * (1.0 / math.sin(angle / 2.0) - 1.0))
    start, end = relief(corner, 3.0, "dogbone")
    arc = arc_of(start, end)
    assert arc.radius == pytest.approx(3.0)
    assert arc.centre == pytest.approx(centre(corner, 3.0, "dogbone"))
    # The arc goes through the corner itself.
    assert math.hypot(*arc.centre) == pytest.approx(3.0)
    sides = [math.hypot(v.x, v.y) for v in (start, end)]
    assert sides == pytest.approx([6.0 * math.cos(angle / 2.0)] * 2)


def test_a_t_bone_overcuts_by_the_radius_beyond_the_shorter_wall():
    radius = 3.0
    vertices = relief(CORNER, radius, "T-bone")
    arc = arc_of(*vertices)
    assert arc.radius == pytest.approx(radius)
    assert arc.centre == pytest.approx((0.0, radius))
    assert Loop(vertices).bounds[0] == pytest.approx(-radius)
    assert (0.0, 0.0) in [(v.x, v.y) for v in vertices]
