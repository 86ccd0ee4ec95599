"""The bounds: never above what can be done, and tight where it is known to be."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.cutting import staged
from fitout.cutting.bounds import family, least_cost, least_sheets
from fitout.cutting.layout import Blank
from fitout.cutting.plan import Rect
from fitout.cutting.search import Limits, search
from fitout.cutting.task import Stock, task


def blanks(*sizes, turnable=False):
    return [Blank(f"P{i}", 1, *size, turnable) for i, size in enumerate(sizes)]


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(1, 24), min_size=1, max_size=8))
def test_what_fits_side_by_side_sums_to_at_most_one(sizes):
    whole = 24
    values = family(np.array(sizes), whole)
    assert values.min() >= 0.0
    for count in range(1, len(sizes) + 1):
        for chosen in itertools.combinations(range(len(sizes)), count):
            if sum(sizes[i] for i in chosen) <= whole:
                assert values[:, list(chosen)].sum(axis=1).max() <= 1.0 + 1e-9


@settings(max_examples=40, deadline=None)
@given(
    sizes=st.lists(st.tuples(st.integers(1, 20), st.integers(1, 14)), min_size=1, max_size=14),
    turnable=st.booleans(),
    square=st.booleans(),
)
def test_no_plan_found_is_below_the_bound(sizes, turnable, square):
    size = (20.0, 20.0 if square else 14.0)
    wanted = blanks(*((float(a), float(b)) for a, b in sizes), turnable=turnable)
    found = search(task(wanted, [Stock(*size)]), [staged.fill], Limits(least_cost=0.0, work=20000))
    assert least_sheets(wanted, size) <= found.cost


@pytest.mark.parametrize(
    ("sizes", "turnable", "least"),
    [
        # Three that are longer and wider than half a sheet, though they fill under a half each.
        ([(51.0, 51.0)] * 3, True, 3),
        # A third of the sheet and a bit each way: four on each, nine need three.
        ([(34.0, 34.0)] * 9, True, 3),
        # Exactly a third fits nine times.
        ([(100.0 / 3, 100.0 / 3)] * 9, True, 1),
        # Half as long as the sheet and a little more, side by side only if they may turn.
        ([(51.0, 50.0)] * 4, False, 2),
        # Large ones leave room for nothing beside them, only above.
        ([(70.0, 60.0)] * 4 + [(40.0, 41.0)] * 4, False, 5),
        ([(100.0, 100.0)], False, 1),
    ],
)
def test_bounds_worked_by_hand(sizes, turnable, least):
    assert least_sheets(blanks(*sizes, turnable=turnable), (100.0, 100.0)) == least


def test_the_turn_of_a_part_may_save_a_sheet_and_the_bound_knows():
    # Two of 100 x 30 and two of 30 x 100 lie on one sheet only if all lie the same way.
    sizes = [(100.0, 30.0), (100.0, 30.0), (30.0, 100.0)]
    assert least_sheets(blanks(*sizes), (100.0, 100.0)) == 2
    assert least_sheets(blanks(*sizes, turnable=True), (100.0, 100.0)) == 1


def test_rooms_in_a_part_count_for_others():
    host = Blank("P1", 1, 100.0, 100.0, False, (Rect(10.0, 10.0, 80.0, 80.0),))
    assert least_sheets([host, *blanks((60.0, 60.0))], (100.0, 100.0)) == 1
    assert least_sheets([], (100.0, 100.0)) == 0


def test_the_least_cost_of_several_sizes():
    wanted = blanks(*[(60.0, 60.0)] * 3)
    one = Stock(100.0, 100.0, 20.0)
    assert least_cost(wanted, [one]) == 60.0
    # One lies on the sheet on hand; that the other two need two sheets stays true.
    assert least_cost(wanted, [one, Stock(80.0, 60.0, 0.0, 1)]) == 40.0
    # The small sheets are cheaper each, the large ones by the area; neither bound is enough alone.
    both = [Stock(200.0, 100.0, 30.0), Stock(100.0, 100.0, 20.0)]
    assert least_cost(blanks(*[(50.0, 100.0)] * 8), both) == pytest.approx(60.0)
    assert least_cost(blanks((60.0, 60.0)), both) == 20.0
    assert least_cost(wanted, [Stock(100.0, 100.0, 1.0, 2)]) == math.inf
    assert least_cost([], both) == 0.0


@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 20), st.integers(1, 12)), min_size=1, max_size=12),
    st.integers(0, 2),
)
def test_no_mix_found_costs_less_than_the_least(sizes, on_hand):
    wanted = blanks(*((float(a), float(b)) for a, b in sizes))
    stocks = [Stock(20.0, 12.0, 7.0), Stock(24.0, 14.0, 9.0), Stock(10.0, 12.0, 0.0, on_hand)]
    found = search(task(wanted, stocks), [staged.fill], Limits(least_cost=0.0, work=40000))
    assert least_cost(wanted, stocks) <= found.cost + 1e-9
