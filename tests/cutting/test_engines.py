"""The engines that fill one sheet, and the search over sheets, by a judge of their own."""

import itertools

import numpy as np
import pytest
from filled import boxes, faults, in_three_stages
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.cutting import skyline, staged
from fitout.cutting.beam import Aim, Enough, Meter, measure, survivors
from fitout.cutting.bounds import least_sheets
from fitout.cutting.layout import Blank, Laid, Layout
from fitout.cutting.search import Limits, layouts, search
from fitout.cutting.task import Stock, task

FILLS = {"saw": [staged.fill], "router": [skyline.fill], "either": [staged.fill, skyline.fill]}


def blanks(*sizes, turnable=False):
    return [Blank(f"P{i}", 1, *size, turnable) for i, size in enumerate(sizes)]


def filled(wanted, size, by="saw", **limits):
    job = task(wanted, [Stock(*size)])
    outcome = search(job, FILLS[by], Limits(**{"least_cost": 0.0, "work": 60000} | limits))
    return outcome, [layout for _, layout in layouts(job, outcome.chosen)]


rows = st.lists(
    st.tuples(st.floats(40.0, 900.0), st.floats(40.0, 500.0), st.booleans(), st.integers(1, 3)),
    min_size=1,
    max_size=10,
)


@pytest.mark.parametrize("by", FILLS)
@settings(max_examples=25, deadline=None)
@given(rows=rows)
def test_every_blank_lies_rightly(by, rows):
    wanted = [
        Blank(f"P{i}", copy, a, b, turnable)
        for i, (a, b, turnable, count) in enumerate(rows)
        for copy in range(1, count + 1)
    ]
    size = (1000.0, 600.0)
    outcome, sheets = filled(wanted, size, by)
    assert faults(sheets, wanted, size) == []
    assert len(sheets) <= outcome.cost
    for sheet in sheets:
        whole = size[0] * size[1]
        taken = sum(laid.blank.area for laid in sheet.laid)
        if sheet.pieces is not None:
            assert in_three_stages(sheet)
            assert sum(rect.area for rect in sheet.free) + taken == pytest.approx(whole)
        for rect, box in itertools.product(sheet.free, boxes(sheet)):
            beside = rect.x >= box[2] - 1e-6 or rect.x + rect.length <= box[0] + 1e-6
            above = rect.y >= box[3] - 1e-6 or rect.y + rect.width <= box[1] + 1e-6
            assert beside or above


def test_the_judge_sees_what_is_wrong():
    a, b = blanks((60.0, 60.0), (60.0, 60.0))
    size = (100.0, 100.0)
    apart = [Layout((Laid(a, 0.0, 0.0, False),), ()), Layout((Laid(b, 0.0, 0.0, False),), ())]
    assert faults(apart, [a, b], size) == []
    assert faults(apart[:1], [a, b], size) == ["not each blank once"]
    over = Layout((Laid(a, 0.0, 0.0, False), Laid(b, 30.0, 30.0, False)), ())
    assert faults([over], [a, b], size) == ["P1 overlaps another"]
    outside = Layout((Laid(a, 50.0, 0.0, True),), ())
    assert faults([outside], [a], size) == ["P0 is turned", "P0 lies outside"]
    # Five around a middle: no cut runs right across.
    wheel = blanks((60.0, 40.0), (40.0, 60.0), (60.0, 40.0), (40.0, 60.0), (20.0, 20.0))
    places = ((0.0, 0.0), (60.0, 0.0), (40.0, 60.0), (0.0, 40.0), (40.0, 40.0))
    laid = tuple(Laid(blank, *at, False) for blank, at in zip(wheel, places, strict=True))
    assert faults([Layout(laid, ())], wheel, size) == []
    assert not in_three_stages(Layout(laid, ()))


def test_a_router_lays_what_a_saw_cannot_cut():
    wheel = blanks((60.0, 40.0), (40.0, 60.0), (60.0, 40.0), (40.0, 60.0), (20.0, 20.0))
    assert filled(wheel, (100.0, 100.0), "router", work=10**6)[0].cost == 1
    assert filled(wheel, (100.0, 100.0), "saw")[0].cost == 2


@pytest.mark.parametrize("by", FILLS)
def test_a_sheet_may_be_filled_to_the_last_bit(by):
    wanted = blanks((50.0, 30.0), (50.0, 70.0), (50.0, 100.0))
    assert filled(wanted, (100.0, 100.0), by)[0].cost == 1
    mirrored = blanks((30.0, 50.0), (70.0, 50.0), (100.0, 50.0))
    assert filled(mirrored, (100.0, 100.0), by)[0].cost == 1


@pytest.mark.parametrize("by", FILLS)
def test_the_same_task_gives_the_same_answer_and_stops_at_a_proof(by):
    sizes = [(200.0 + 37 * i % 400, 100.0 + 53 * i % 300) for i in range(24)]
    wanted, size = blanks(*sizes, turnable=True), (1000.0, 600.0)
    first, second = (filled(wanted, size, by, work=400000)[1] for _ in range(2))
    assert [sheet.laid for sheet in first] == [sheet.laid for sheet in second]
    shares = []
    least = least_sheets(wanted, size)
    outcome, _ = filled(
        wanted, size, by, least_cost=least + 1, progress=lambda p: shares.append(p.share)
    )
    assert outcome.cost <= least + 1
    assert len(shares) == 1


def test_work_is_limited_and_reported():
    wanted = blanks(*((31.0 + i, 27.0 + i) for i in range(20)), turnable=True)
    told = []
    filled(wanted, (100.0, 100.0), work=300000, progress=told.append)
    assert told[-1].share > told[0].share
    assert max(p.share for p in told) <= 1.0
    assert [p.cost for p in told] == sorted((p.cost for p in told), reverse=True)
    assert told[-1].sheets == told[-1].cost


def test_an_interrupted_search_gives_the_best_so_far():
    wanted, size = blanks(*((31.0 + i, 27.0 + i) for i in range(20)), turnable=True), (100.0, 100.0)
    told = []

    def progress(now):
        told.append(now)
        if len(told) == 3:
            raise Enough

    outcome, sheets = filled(wanted, size, work=10**9, progress=progress)
    assert len(told) == 3
    assert outcome.stopped
    assert outcome.cost == told[-1].cost
    assert faults(sheets, wanted, size) == []


def test_a_search_that_runs_out_of_work_was_not_stopped():
    wanted = blanks(*((31.0 + i, 27.0 + i) for i in range(20)), turnable=True)
    assert not filled(wanted, (100.0, 100.0))[0].stopped


def test_combining_beats_filling_one_sheet_after_the_other():
    # Greed takes the best first sheet; pairs that fit exactly need a look at all of them.
    lengths = (61, 52, 47, 39, 53, 58, 42, 48, 66, 34, 71, 29)
    wanted = blanks(*((float(a), 100.0) for a in lengths))
    assert sum(lengths) == 600
    assert filled(wanted, (100.0, 100.0), work=10**6)[0].cost == 6


@pytest.mark.parametrize("by", FILLS)
def test_what_is_on_hand_is_used_before_anything_is_bought(by):
    wanted = blanks(*[(50.0, 50.0)] * 6)
    stocks = [Stock(100.0, 100.0, 30.0), Stock(100.0, 50.0, 0.0, 1)]
    job = task(wanted, stocks)
    outcome = search(job, FILLS[by], Limits(least_cost=30.0, work=10**5))
    assert outcome.cost == 30.0
    sheets = layouts(job, outcome.chosen)
    assert sorted(which for which, _ in sheets) == [0, 1]
    for which, sheet in sheets:
        laid = [each.blank for each in sheet.laid]
        assert faults([sheet], laid, stocks[which].size) == []


def test_the_cheapest_mix_of_sizes_is_chosen():
    # Small sheets cost less by the area, but the long blank needs a large one, which has room.
    stocks = [Stock(200.0, 100.0, 50.0), Stock(100.0, 100.0, 20.0)]
    job = task(blanks((150.0, 50.0), (150.0, 50.0), (50.0, 100.0), (90.0, 90.0)), stocks)
    outcome = search(job, FILLS["saw"], Limits(least_cost=0.0, work=10**5))
    assert outcome.cost == 70.0
    only = task(blanks((90.0, 90.0), (90.0, 90.0)), stocks)
    assert search(only, FILLS["saw"], Limits(least_cost=0.0, work=10**5)).cost == 40.0


def test_too_little_on_hand_is_said():
    job = task(blanks(*[(90.0, 90.0)] * 3), [Stock(100.0, 100.0, 0.0, 2)])
    with pytest.raises(ValueError, match="don't hold every part"):
        search(job, FILLS["saw"], Limits(least_cost=0.0, work=10**5))


def test_a_blank_larger_than_every_sheet_is_refused():
    with pytest.raises(ValueError, match="P0 is larger than a sheet"):
        task(blanks((40.0, 90.0)), [Stock(100.0, 50.0)])


def test_the_best_survive_and_equals_only_once():
    measured = np.array([3.0, 1.0, 1.0, 2.0])
    used, tags = np.array([5.0, 4.0, 4.0, 7.0]), np.array([1, 2, 2, 4])
    assert survivors(measured, used, tags, 3).tolist() == [1, 3, 0]
    assert survivors(measured, used, np.array([1, 2, 3, 4]), 2).tolist() == [1, 2]


def test_how_half_filled_sheets_compare():
    loss, used, blank = np.array([1.0, 4.0]), np.array([10.0, 20.0]), np.array([4.0, 16.0])
    assert measure(Aim(1, 0.0, 0.0), loss, used, blank).tolist() == [0.1, 0.2]
    assert measure(Aim(1, 0.1, 0.5), loss, used, blank) == pytest.approx([0.1, 0.075])
    assert measure(Aim(1, 0.1, 1.0), loss, used, blank) == pytest.approx([0.05, 0.3 / 16])


def test_a_meter_says_when_it_is_enough():
    meter = Meter(10)
    meter.spend(10)
    with pytest.raises(Enough):
        meter.spend(1)


def exactly(sizes, side):
    """The fewest square bins that hold the pieces, by trying every place (whole numbers)."""

    def placed(rest, bins):
        if not rest:
            return True
        (a, b), tried = rest[0], set()
        for i, cells in enumerate(bins):
            if cells in tried:
                continue
            tried.add(cells)
            for x, y in itertools.product(range(side - a + 1), range(side - b + 1)):
                piece = sum(((1 << a) - 1) << (x + side * (y + row)) for row in range(b))
                if cells & piece == 0 and placed(
                    rest[1:], (*bins[:i], cells | piece, *bins[i + 1 :])
                ):
                    return True
        return False

    largest_first = sorted(sizes, key=lambda s: -s[0] * s[1])
    return next(n for n in itertools.count(1) if placed(largest_first, (0,) * n))


@settings(max_examples=25, deadline=None)
@given(st.lists(st.tuples(st.integers(1, 5), st.integers(1, 5)), min_size=2, max_size=7))
def test_small_tasks_are_solved_as_well_as_can_be(sizes):
    fewest = exactly(sizes, 5)
    wanted = blanks(*((float(a), float(b)) for a, b in sizes))
    assert least_sheets(wanted, (5.0, 5.0)) <= fewest
    outcome, _ = filled(wanted, (5.0, 5.0), "router", least_cost=float(fewest), work=10**6)
    assert outcome.cost == fewest
