"""Sheets pressed together by the optional library, or left alone; what it can't take is refused."""

import dataclasses
import sys
from types import SimpleNamespace

import numpy as np
import pytest

from fitout.cutting import strips
from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import Effort, nest
from fitout.cutting.plan import Placed, Rect
from fitout.cutting.strips import StripItem, available, shortest, squeezed, turned
from fitout.cutting.verify import verify
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Outline, circle, polygon, rectangle
from fitout.model.panel import Grain

SPEC = CuttingSpec(by="router", kerf=6.0, trim=10.0, spacing=2.0, squeeze_seconds=2)
ROOM = Rect(10.0, 10.0, 2420.0, 1200.0)
WEDGE = Outline(polygon([(0, 0), (600, 0), (200, 500), (0, 500)]))
needs_library = pytest.mark.skipif(not available(), reason="the optional library is not installed")


def square(side):
    return StripItem(np.array([(0, 0), (side, 0), (side, side), (0, side)], dtype=float), 1, (0.0,))


def test_parts_too_high_and_crossed_outlines_are_refused_before_the_library_is_asked():
    assert shortest([square(100.0)], 99.0, 1, 1) is None
    assert shortest([square(100.0)], 100.0, 1, 1) is None
    tie = np.array([(0, 0), (10, 10), (10, 0), (0, 10)], dtype=float)
    assert shortest([StripItem(tie, 1, (0.0,))], 50.0, 1, 1) is None


def test_the_library_is_given_every_core_and_all_of_the_time(monkeypatch):
    asked = {}

    def config(**given):
        asked.update(given)

    def instance(name, height, shapes):
        return SimpleNamespace(solve=lambda _: SimpleNamespace(width=height, placed_items=[]))

    library = SimpleNamespace(
        Item=lambda *given: given, StripPackingConfig=config, StripPackingInstance=instance
    )
    monkeypatch.setitem(sys.modules, strips.LIBRARY, library)
    monkeypatch.setattr(strips.os, "cpu_count", lambda: 6)
    assert shortest([square(100.0)], 200.0, 9, 1) == (200.0, [])
    assert asked["num_workers"] == 6
    assert asked["exploration_time"] + asked["compression_time"] == 9
    monkeypatch.setattr(strips.os, "cpu_count", lambda: None)
    shortest([square(100.0)], 200.0, 9, 1)
    assert asked["num_workers"] == 1


def test_quarters_are_exact():
    points = np.array([(3.0, 1.0), (0.1, 0.2)])
    assert turned(points, 90.0).tolist() == [[-1.0, 3.0], [-0.2, 0.1]]
    assert turned(points, 270.0).tolist() == [[1.0, -3.0], [0.2, -0.1]]


def test_a_part_in_a_cut_out_keeps_its_sheet_as_it_is(make):
    frame = Outline(rectangle(600, 500), (rectangle(400, 300, 100, 100),))
    cuts = cut_list([make(outline=frame, name="f"), make(100, 80, name="s")])
    placed = (Placed("P01", 1, 10.0, 10.0, 0), Placed("P02", 1, 200.0, 200.0, 0))
    assert squeezed(cuts.lines, placed, ROOM, SPEC, 1) is None


@needs_library
def test_a_pressed_sheet_passes_the_judge_and_is_not_worse(make):
    parts = [make(outline=WEDGE, name=f"w{i}", grain=Grain.EITHER) for i in range(5)]
    parts += [make(outline=Outline(circle(150, 150, 300)), name=f"c{i}") for i in range(2)]
    cuts = cut_list(parts)
    plain = nest(cuts, dataclasses.replace(SPEC, squeeze_seconds=0), Effort(work=40_000))
    pressed = nest(cuts, SPEC, Effort(work=40_000))
    assert verify(pressed, cuts) == ()

    def largest(plan):
        return max(rect.area for sheet in plan.sheets for rect in sheet.offcuts)

    assert largest(pressed) >= largest(plain)


@needs_library
def test_grain_is_kept_and_every_copy_stays(make):
    parts = [make(outline=WEDGE, name=f"w{i}", grain=Grain.ALONG_U) for i in range(4)]
    cuts = cut_list(parts)
    plan = nest(cuts, SPEC, Effort(work=40_000))
    found = squeezed(cuts.lines, plan.sheets[0].placed, ROOM, SPEC, 1)
    assert found is not None
    assert {p.quarter_turns for p in found} <= {0, 2}
    assert sorted(p.copy for p in found) == [1, 2, 3, 4]


def test_without_the_library_nothing_is_pressed(make, monkeypatch):
    monkeypatch.setattr(strips, "available", lambda: False)
    cuts = cut_list([make(outline=WEDGE, name=f"w{i}", grain=Grain.EITHER) for i in range(3)])
    plain = dataclasses.replace(SPEC, squeeze_seconds=0)
    effort = Effort(work=40_000)
    assert nest(cuts, SPEC, effort).sheets == nest(cuts, plain, effort).sheets
