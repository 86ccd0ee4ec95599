"""Sheets filled by true shapes: never worse than by rectangles, judged by the verifier."""

import dataclasses

import numpy as np
import pytest

from fitout.cutting import shapes_nest
from fitout.cutting.beam import Enough
from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import Effort, nest
from fitout.cutting.shapes_bound import least_by_shape, rectangle_in
from fitout.cutting.shapes_fill import fill
from fitout.cutting.shapes_nest import improved, shaped
from fitout.cutting.verify import verify
from fitout.model.cutting import CuttingSpec, OffcutSpec, StockSpec
from fitout.model.outline import Outline, circle, polygon, rectangle, rounded
from fitout.model.panel import Grain

ROUTER = CuttingSpec(by="router", kerf=6.0, trim=10.0, spacing=2.0)
EFFORT = Effort(work=2_000_000)

WEDGE = Outline(polygon([(0, 0), (1180, 0), (0, 590)]))
ELL = Outline(polygon([(0, 0), (800, 0), (800, 250), (250, 250), (250, 800), (0, 800)]))
FRAME = Outline(rectangle(1000, 600), (rounded(rectangle(700, 400, 150, 100), 40.0),))


def priced(plan):
    return [(1.0, sheet) for sheet in plan.sheets]


def offcut(sheets):
    return max((rect.area for sheet in sheets for rect in sheet.offcuts), default=0.0)


def test_wedges_lie_head_to_tail(make):
    """Two make one rectangle: sixteen fit a sheet that holds eight of their rectangles."""
    cuts = cut_list([make(outline=WEDGE, name=f"w{i}", grain=Grain.EITHER) for i in range(14)])
    plan = nest(cuts, ROUTER, Effort(work=8_000_000))
    assert verify(plan, cuts) == ()
    assert len(plan.sheets) == 2
    (use,) = plan.boards
    assert use.least_sheets == 2
    turned = {placed.quarter_turns for sheet in plan.sheets for placed in sheet.placed}
    assert turned >= {0, 2} or turned >= {1, 3}


def test_a_frame_holds_smaller_parts(make):
    parts = [make(outline=FRAME, name="frame", grain=Grain.ALONG_U)]
    parts += [make(300, 180, name=f"small {i}", grain=Grain.ALONG_U) for i in range(4)]
    cuts = cut_list(parts)
    plan = nest(cuts, ROUTER, EFFORT)
    assert verify(plan, cuts) == ()
    assert offcut(plan.sheets) >= (2420 - 1008) * 1200 - 1.0


def test_locked_grain_is_kept(make):
    cuts = cut_list(
        [make(outline=ELL, name=f"l{i}", grain=Grain.ALONG_U) for i in range(5)]
        + [make(outline=WEDGE, name=f"w{i}", grain=Grain.ALONG_U) for i in range(4)]
    )
    plan = nest(cuts, ROUTER, EFFORT)
    assert verify(plan, cuts) == ()
    turned = {placed.quarter_turns for sheet in plan.sheets for placed in sheet.placed}
    assert turned <= {0, 2}


def test_only_rectangles_are_left_alone(make):
    line = cut_list([make(700, 300)]).lines[0]
    assert not shaped(line, ROUTER)
    assert shaped(cut_list([make(outline=ELL)]).lines[0], ROUTER)


def test_no_work_changes_nothing(make):
    cuts = cut_list([make(outline=WEDGE, name=f"w{i}", grain=Grain.EITHER) for i in range(6)])
    plan = nest(cuts, ROUTER, Effort(work=0))
    assert improved(cuts.lines, priced(plan), ROUTER, work=0) == (priced(plan), False)


def test_ended_by_hand_it_gives_the_best_so_far(make, monkeypatch):
    cuts = cut_list([make(outline=WEDGE, name=f"w{i}", grain=Grain.EITHER) for i in range(6)])
    plain = nest(cuts, ROUTER, Effort(work=0))
    calls = []

    def filled(*given):
        calls.append(given)
        if len(calls) > 2:
            raise Enough
        return fill(*given)

    monkeypatch.setattr(shapes_nest, "fill", filled)
    better, ended = improved(cuts.lines, priced(plain), ROUTER, work=10**6)
    assert ended
    assert len(calls) == 3
    assert len(better) == 1 < len(plain.sheets)


@pytest.mark.parametrize("seed", range(6))
def test_never_worse_never_wrong_and_the_same_again(make, seed):
    chance = np.random.default_rng(seed)
    parts = []
    for i in range(int(chance.integers(6, 16))):
        length, width = chance.uniform(150, 900), chance.uniform(120, 500)
        cut = chance.uniform(0.2, 0.8, 2)
        outline = [
            Outline(rectangle(length, width)),
            Outline(polygon([(0, 0), (length, 0), (length * cut[0], width), (0, width)])),
            Outline(polygon([(0, 0), (length, 0), (length, width * cut[1]),
                             (length * cut[0], width * cut[1]), (length * cut[0], width),
                             (0, width)])),
            Outline(circle(width / 2, width / 2, width)),
        ][int(chance.integers(4))]  # fmt: skip
        grain = Grain.ALONG_U if chance.random() < 0.4 else Grain.EITHER
        parts.append(make(outline=outline, name=f"p{i}", grain=grain))
    cuts = cut_list(parts)
    plain = nest(cuts, ROUTER, Effort(work=0))
    again, _ = improved(cuts.lines, priced(plain), ROUTER, work=40_000)
    better = [sheet for _, sheet in again]
    told = dataclasses.replace(plain, sheets=tuple(better))
    assert verify(told, cuts) == ()
    assert (len(better), -offcut(better)) <= (len(plain.sheets), -offcut(plain.sheets))
    assert improved(cuts.lines, priced(plain), ROUTER, work=40_000) == (again, False)
    least = least_by_shape(cuts.lines, 8.0, (2420.0, 1200.0))
    assert least <= len(better)


def test_an_offcut_on_hand_takes_what_goes_on_it_by_its_shape(make, ply):
    """Two wedges go on an offcut that holds one of their rectangles."""
    cuts = cut_list([make(outline=WEDGE, name=f"w{i}", grain=Grain.EITHER) for i in range(2)])
    had = OffcutSpec(sheet=ply.key, size=(1360.0, 660.0), thickness=ply.thickness)
    plan = nest(cuts, ROUTER, Effort(work=8_000_000), StockSpec(offcuts=(had,)))
    assert verify(plan, cuts) == ()
    assert [sheet.origin for sheet in plan.sheets] == ["offcut"]
    assert plan.boards[0].cost == 0.0
    assert plan.boards[0].proven_least


def test_the_bound_counts_true_area_and_rectangles_within(make):
    wedges = cut_list([make(outline=WEDGE, name=f"w{i}") for i in range(9)])
    # Nine take 3.2 m² of 2.9 m² to be had on a sheet.
    assert least_by_shape(wedges.lines, 8.0, (2420.0, 1200.0)) == 2
    large = Outline(polygon([(0, 0), (1400, 0), (1400, 700), (100, 700), (0, 600)]))
    three = cut_list([make(outline=large, name=f"l{i}") for i in range(3)])
    # Each takes more than half of the sheet both ways, but a third of its area.
    assert least_by_shape(three.lines, 8.0, (2420.0, 1200.0)) == 3
    assert least_by_shape([], 8.0, (2420.0, 1200.0)) == 0


@pytest.mark.parametrize(
    ("outline", "size"),
    [
        (Outline(rectangle(300, 200)), (300, 200)),
        (Outline(polygon([(0, 0), (400, 0), (400, 90), (120, 90), (120, 300), (0, 300)])),
         (400, 90)),
        (Outline(rectangle(300, 200), (rectangle(100, 60, 150, 80),)), (150, 200)),
        (Outline(rectangle(300, 30)), None),
    ],
)  # fmt: skip
def test_the_rectangle_in_a_part(outline, size):
    found = rectangle_in(outline)
    assert found == (None if size is None else pytest.approx(size, abs=1e-3))
