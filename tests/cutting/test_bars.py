"""Bars on stock lengths: by hand, against trying everything, and for any stock."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.cutting.bars import bar_sources, cut_bars
from fitout.cutting.cut_list import cut_list
from fitout.model.cutting import BarStockSpec, CuttingSpec, StockSpec
from fitout.model.panel import Bar
from fitout.model.placement import flat
from fitout.model.stock import Section

TUBE = Section(
    key="tube 25", width=25.0, height=25.0, wall=2.0, density_kg_m3=7850.0, stock_length=6000.0
)
SPEC = CuttingSpec(bar_kerf=3.0)


def bars(*lengths):
    return cut_list(
        (),
        [
            Bar(
                name=f"b{i}", module="m", section=TUBE, length=length, placement=flat(0.0, 0.0, 0.0)
            )
            for i, length in enumerate(lengths)
        ],
    )


def stock(*lengths):
    return StockSpec(bars={"tube 25": lengths})


def faults(plan, cuts, kerf):
    """What is wrong with a plan, by its own words alone."""
    wanted = sorted((b.number, c + 1) for b in cuts.bars for c in range(b.quantity))
    lengths = {line.number: line.length for line in cuts.bars}
    told = [(cut.number, cut.copy) for stick in plan.sticks for cut in stick.cuts]
    found = [] if sorted(told) == wanted else ["not each piece once"]
    for stick in plan.sticks:
        at = 0.0
        for cut in stick.cuts:
            if abs(cut.length - lengths[cut.number]) > 1e-9 or cut.start < at - 1e-9:
                found.append(f"{cut.number} is wrong")
            at = cut.start + cut.length + kerf
        if at - kerf > stick.length + 1e-6:
            found.append(f"{stick.number} is too short")
        if abs(stick.rest - max(0.0, stick.length - at)) > 1e-6:
            found.append(f"{stick.number} leaves something else")
    return found


def test_the_kerf_lies_between_pieces():
    """1500 thrice is 4506 with two kerfs: on 4506 but not on 4505."""
    cuts = bars(1500.0, 1500.0, 1500.0)
    for length, sticks in ((4506.0, 1), (4505.0, 2)):
        plan = cut_bars(cuts, SPEC, stock(BarStockSpec(length=length)))
        assert len(plan.sticks) == sticks
        assert plan.uses[0].proven_least
        assert faults(plan, cuts, 3.0) == []


def test_first_fit_is_bettered_and_proven():
    """Two lengths of 1000 hold 500, 300, 200 and 400, 300, 300; first fit takes three."""
    cuts = bars(500.0, 400.0, 300.0, 300.0, 300.0, 200.0)
    spec = CuttingSpec(bar_kerf=1e-9)
    plan = cut_bars(cuts, spec, stock(BarStockSpec(length=1000.0)))
    assert (len(plan.sticks), plan.uses[0].proven_least) == (2, True)
    assert all(stick.rest == pytest.approx(0.0, abs=1e-6) for stick in plan.sticks)


def test_what_is_on_hand_goes_first_and_the_cheaper_length_is_bought():
    had = stock(
        BarStockSpec(length=6000.0, price=31.0),
        BarStockSpec(length=2000.0, price=9.0),
        BarStockSpec(length=1200.0, on_hand=True, quantity=2),
    )
    plan = cut_bars(bars(1100.0, 1100.0, 900.0, 900.0), SPEC, had)
    assert [s.origin for s in plan.sticks] == ["on hand", "on hand", "bought"]
    assert (plan.sticks[2].length, plan.uses[0].cost, plan.uses[0].proven_least) == (2000, 9, True)


def test_without_entries_the_catalogues_length_is_bought():
    (only,) = bar_sources(TUBE, StockSpec())
    assert (only.length, only.price, only.quantity, only.origin) == (6000.0, None, None, "bought")
    plan = cut_bars(bars(700.0), SPEC, StockSpec())
    assert (plan.uses[0].priced, plan.uses[0].cost) == (False, 6.0)


def test_what_runs_out_is_missing():
    plan = cut_bars(bars(900.0, 900.0), SPEC, stock(BarStockSpec(length=1000.0, quantity=1)))
    assert [s.origin for s in plan.sticks] == ["bought", "missing"]


def test_a_bar_longer_than_any_stock_is_told():
    plan = cut_bars(bars(6100.5, 900.0), SPEC, StockSpec())
    (told,) = plan.too_long
    assert told.sentence.startswith("B01 (b0) is 100.5 mm too long for the longest stock length;")
    assert len(plan.sticks) == 1


def least_by_hand(lengths, length):
    """The least count of lengths by trying every grouping (kerf 3)."""
    for count in range(1, len(lengths) + 1):
        for groups in itertools.product(range(count), repeat=len(lengths)):
            loads = [0.0] * count
            for group, piece in zip(groups, lengths, strict=True):
                loads[group] += piece + 3.0
            if max(loads) <= length + 3.0 + 1e-6:
                return count
    raise AssertionError


@settings(max_examples=25, deadline=None)
@given(lengths=st.lists(st.integers(150, 1000), min_size=1, max_size=7))
def test_as_few_as_trying_everything_finds(lengths):
    cuts = bars(*map(float, lengths))
    plan = cut_bars(cuts, SPEC, stock(BarStockSpec(length=1000.0)))
    assert faults(plan, cuts, 3.0) == []
    assert len(plan.sticks) == least_by_hand(lengths, 1000.0)
    assert plan.uses[0].proven_least


@settings(max_examples=25, deadline=None)
@given(
    lengths=st.lists(st.floats(50.0, 2000.0), min_size=1, max_size=60),
    offers=st.lists(
        st.tuples(st.floats(400.0, 3000.0), st.floats(1.0, 40.0), st.integers(1, 3), st.booleans()),
        max_size=3,
    ),
)
def test_any_stock_gives_a_sound_plan(lengths, offers):
    had = stock(
        *(BarStockSpec(length=a, price=p, quantity=q, on_hand=h) for a, p, q, h in offers),
        BarStockSpec(length=2500.0, price=20.0),
    )
    cuts = bars(*lengths)
    plan = cut_bars(cuts, SPEC, had)
    assert faults(plan, cuts, 3.0) == []
    (use,) = plan.uses
    assert use.least_cost <= use.cost + 1e-6
