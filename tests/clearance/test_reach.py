"""How far a body gets before it meets another; closed forms stand in tests/validation."""

import math

import pytest

from fitout.clearance.body import Body, body_of, body_of_pieces
from fitout.clearance.reach import Way, free_travel
from fitout.model.item import block
from fitout.model.outline import Outline, rectangle, slot
from fitout.model.placement import flat

OUT = Way(turns=False, direction=(-1.0, 0.0, 0.0), travel=500.0)


def block_at(x: float, y: float, z: float, size: tuple[float, float, float]) -> Body:
    return body_of_pieces("block", [block(*size)], flat(x, y, z))


def test_a_slide_ends_where_it_touches() -> None:
    drawer = block_at(0.0, 0.0, 0.0, (400.0, 300.0, 100.0))
    post = block_at(-253.4, 290.0, 50.0, (40.0, 40.0, 400.0))
    assert free_travel(drawer, post, OUT) == pytest.approx(213.4, abs=1e-3)
    beside = block_at(-253.4, 300.01, 50.0, (40.0, 40.0, 400.0))
    assert free_travel(drawer, beside, OUT) == 500.0


def test_what_touches_at_the_start_stops_it_unless_they_may_meet() -> None:
    drawer = block_at(0.0, 0.0, 0.0, (400.0, 300.0, 100.0))
    runner = block_at(-300.0, 300.0, 0.0, (900.0, 10.0, 40.0))
    assert free_travel(drawer, runner, OUT) == 0.0
    assert free_travel(drawer, runner, OUT, may_touch=True) == 500.0


def test_a_part_that_may_touch_still_runs_into_a_step() -> None:
    drawer = block_at(0.0, 0.0, 0.0, (400.0, 300.0, 100.0))
    stepped = body_of_pieces(
        "runner",
        [block(900.0, 10.0, 40.0), block(50.0, 30.0, 40.0, (120.0, -20.0, 0.0))],
        flat(-300.0, 300.0, 0.0),
    )
    assert free_travel(drawer, stepped, OUT, may_touch=True) == pytest.approx(130.0, abs=2e-3)


def test_bodies_that_overlap_are_stopped_at_the_start() -> None:
    drawer = block_at(0.0, 0.0, 0.0, (400.0, 300.0, 100.0))
    post = block_at(100.0, 100.0, 50.0, (40.0, 40.0, 400.0))
    assert free_travel(drawer, post, OUT, may_touch=True) == 0.0


def test_a_panel_turns_past_a_pin_that_stands_in_its_cut_out(samples) -> None:
    """At 20° a pin 24 up would be met by the panel, not by its hole 150 to 450 from the axis."""
    hole = slot(200, 100, 400, 100, 100.0)
    lid = body_of(samples.panel(Outline(rectangle(500, 200), (hole,))))
    pin = block_at(300.0, 98.0, 13.0, (4.0, 4.0, 100.0))
    up = Way(turns=True, direction=(0.0, -1.0, 0.0), travel=20.0)
    assert free_travel(lid, pin, up) == 20.0
    whole = body_of(samples.panel(rectangle(500, 200)))
    assert free_travel(whole, pin, up) < 1.0


def test_a_lid_that_only_grazes_is_not_stopped() -> None:
    """Its corner passes 0.01 mm under the ceiling: less than a swing's hulls stand out."""
    lid = block_at(-300.0, 0.0, -10.0, (300.0, 200.0, 10.0))
    roof = block_at(-900.0, -100.0, math.hypot(300.0, 10.0) + 0.01, (1500.0, 900.0, 50.0))
    up = Way(turns=True, direction=(0.0, 1.0, 0.0), travel=120.0)
    assert free_travel(lid, roof, up) == 120.0
