"""How far a lid opens under a ceiling: closed forms, worked by hand, source: plane trigonometry.

A lid of length L and thickness t is hinged at the upper edge of its end, the axis a height h
below a ceiling. Opened by the angle a, its free end's upper corner stands at

    z = L sin a

above the axis, and the lower corner, t below the upper one when shut, at

    z = L sin a − t cos a.

While a is at most 90° the upper corner is the higher one, so the lid stops at

    a = asin(h / L)                          (1)

if h < L. Past upright the lower corner is the higher one: with R = sqrt(L² + t²) and
b = atan(t / L) it stands at z = R sin(a − b), highest at a = 90° + b. So a ceiling between L
and R stops the lid at

    a = b + asin(h / R)                      (1b)

and one above R does not. Hinged at the lower edge of its end, the upper corner is the point
(L, t) from the axis, at the distance R and the angle b above level, so that z = R sin(a + b)
and

    a = asin(h / R) − atan(t / L)            (2)

Example: L = 400, t = 12, h = 300. (1): asin(0.75) = 48.590378°. (2): R = 400.179960,
asin(0.749662726) = 48.561167°, atan(0.03) = 1.718358°, a = 46.842809°.

Past upright a lid meets a wall at a distance w behind its axis: −L cos a = w, so that

    a = 180° − acos(w / L)                   (3)

for a lid turning about its upper edge, whose upper face leads.
"""

from __future__ import annotations

import math

import pytest

from fitout.clearance.body import Body, body_of_pieces
from fitout.clearance.reach import Way, free_travel
from fitout.model.item import block
from fitout.model.placement import flat

WITHIN_DEG = 2e-3


def lid(length: float, thick: float) -> Body:
    """Shut it lies rearward of the upright through the origin, its upper face at z = 0."""
    return body_of_pieces("lid", [block(length, 500.0, thick)], flat(-length, 0.0, -thick))


def ceiling(height: float) -> Body:
    slab = block(3000.0, 2000.0, 50.0)
    return body_of_pieces("ceiling", [slab], flat(-1500.0, -700.0, height))


def opens(travel: float, z: float = 0.0) -> Way:
    return Way(turns=True, direction=(0.0, 1.0, 0.0), travel=travel, point=(0.0, 0.0, z))


def test_the_worked_example() -> None:
    upper = free_travel(lid(400.0, 12.0), ceiling(300.0), opens(95.0))
    assert upper == pytest.approx(48.590378, abs=WITHIN_DEG)
    lower = free_travel(lid(400.0, 12.0), ceiling(300.0 - 12.0), opens(95.0, -12.0))
    assert lower == pytest.approx(46.842809, abs=WITHIN_DEG)


@pytest.mark.parametrize("length", [150.0, 400.0, 820.0])
@pytest.mark.parametrize("thick", [9.0, 18.3, 40.0])
@pytest.mark.parametrize("share", [0.05, 0.5, 0.9, 0.995])
def test_hinged_at_its_upper_or_lower_edge(length: float, thick: float, share: float) -> None:
    height = share * length
    body = lid(length, thick)
    found = free_travel(body, ceiling(height), opens(100.0))
    assert found == pytest.approx(math.degrees(math.asin(share)), abs=0.02)
    radius = math.hypot(length, thick)
    wanted = math.degrees(math.asin(height / radius) - math.atan2(thick, length))
    below = free_travel(body, ceiling(height - thick), opens(100.0, -thick))
    assert below == pytest.approx(max(wanted, 0.0), abs=0.02)


@pytest.mark.parametrize("length", [150.0, 820.0])
def test_a_ceiling_just_out_of_reach_lets_it_pass_upright(length: float) -> None:
    radius = math.hypot(length, 12.0)
    assert free_travel(lid(length, 12.0), ceiling(radius + 0.02), opens(115.0)) == 115.0
    height = length + 0.02
    past = math.degrees(math.atan2(12.0, length) + math.asin(height / radius))
    found = free_travel(lid(length, 12.0), ceiling(height), opens(115.0))
    assert found == pytest.approx(past, abs=0.02)


@pytest.mark.parametrize("share", [0.1, 0.3, 0.7])
def test_past_upright_it_meets_a_wall(share: float) -> None:
    wall = body_of_pieces("wall", [block(50.0, 900.0, 900.0)], flat(400.0 * share, -200.0, 1.0))
    found = free_travel(lid(400.0, 12.0), wall, opens(175.0))
    assert found == pytest.approx(180.0 - math.degrees(math.acos(share)), abs=WITHIN_DEG)
