"""The judge of plans must find each thing that can be wrong; each test breaks a good plan."""

import dataclasses

import pytest

from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import nest
from fitout.cutting.plan import Placed
from fitout.cutting.verify import verify
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Outline, polygon, rectangle
from fitout.model.panel import Grain, Pocket

SAW = CuttingSpec(by="saw", kerf=3.0, trim=10.0)


@pytest.fixture
def cuts(make):
    return cut_list(
        [make(name="a"), make(name="b"), make(500.0, 250.0, name="c", grain=Grain.EITHER)]
    )


@pytest.fixture
def plan(cuts):
    good = nest(cuts, SAW)
    assert verify(good, cuts) == ()
    return good


def laid(plan, *placed, **changes):
    """The plan with its one sheet's parts laid so."""
    sheet = dataclasses.replace(plan.sheets[0], placed=placed, **changes)
    return dataclasses.replace(plan, sheets=(sheet,))


A, B, C = (
    Placed("P01", 1, 10.0, 10.0, 0),
    Placed("P01", 2, 10.0, 313.0, 0),
    Placed("P02", 1, 713.0, 10.0, 0),
)


def test_a_hand_laid_plan_passes(plan, cuts):
    assert verify(laid(plan, A, B, C), cuts) == ()
    assert verify(laid(plan, A, B, dataclasses.replace(C, quarter_turns=1)), cuts) == ()
    assert verify(laid(plan, dataclasses.replace(A, quarter_turns=2), B, C), cuts) == ()


@pytest.mark.parametrize(
    ("placed", "sentence"),
    [
        ((A, C), "P01 copy 2 lies on no sheet."),
        ((A, B, C, Placed("P02", 2, 1300.0, 10.0, 0)), "P02 copy 2 lies on a sheet but"),
        ((A, B, C, Placed("P09", 1, 1300.0, 10.0, 0)), "P09 copy 1 lies on a sheet but"),
        ((A, B, C, Placed("P02", 1, 1300.0, 10.0, 0)), "P02 copy 1 lies on sheets 2 times."),
        ((A, B, dataclasses.replace(C, x=712.9)), "are 2.90 mm apart, not 3.00 mm."),
        ((A, B, dataclasses.replace(C, x=600.0)), "are 0.00 mm apart"),
        ((dataclasses.replace(A, x=9.5), B, C), "P01 copy 1 on S01 reaches 0.50 mm into the trim."),
        ((A, B, dataclasses.replace(C, x=1930.5)), "reaches 0.50 mm into the trim"),
        ((A, dataclasses.replace(B, y=910.2), C), "reaches 0.20 mm into the trim"),
        ((A, B, dataclasses.replace(C, y=5.0)), "reaches 5.00 mm into the trim"),
        (
            (A, Placed("P01", 2, 1300.0, 313.0, 1), C),
            "P01 copy 2 on S01 lies across the grain.",
        ),
    ],
)
def test_each_fault_is_told_once(plan, cuts, placed, sentence):
    faults = verify(laid(plan, *placed), cuts)
    assert sum(sentence in fault for fault in faults) == 1, faults


def test_a_wrong_board_is_told(plan, cuts, ply):
    other = dataclasses.replace(ply, key="ply 15", thickness=14.8)
    faults = verify(laid(plan, A, B, C, board=other), cuts)
    assert "P01 copy 1 on S01 is to be cut from ply 12, not from ply 15." in faults


def test_a_board_without_grain_may_be_turned(make, ply):
    plain = dataclasses.replace(ply, grain=False)
    cuts = cut_list([make(board=plain)])
    plan = nest(cuts, SAW)
    assert verify(laid(plan, Placed("P01", 1, 10.0, 10.0, 1)), cuts) == ()


def pinwheel(make, by):
    """Four equal parts around an empty middle: apart, but no cut can start."""
    cuts = cut_list([make(600.0, 300.0, name=f"n{i}", grain=Grain.EITHER) for i in range(4)])
    plan = nest(cuts, dataclasses.replace(SAW, by=by, spacing=0.0))
    return cuts, laid(
        plan,
        Placed("P01", 1, 10.0, 10.0, 0),
        Placed("P01", 2, 613.0, 10.0, 1),
        Placed("P01", 3, 313.0, 613.0, 0),
        Placed("P01", 4, 10.0, 313.0, 1),
    )


def test_a_saw_needs_cuts_from_edge_to_edge(make):
    cuts, plan = pinwheel(make, "saw")
    assert verify(plan, cuts) == ("Sheet S01 can't be taken apart by edge-to-edge cuts.",)
    cuts, plan = pinwheel(make, "router")
    assert verify(plan, cuts) == ()


def test_spacing_counts_on_a_router_only(cuts, plan):
    close = laid(plan, A, B, C)
    routed = dataclasses.replace(
        close, spec=CuttingSpec(by="router", kerf=3.0, trim=10.0, spacing=2.0)
    )
    assert any("not 5.00 mm" in fault for fault in verify(routed, cuts))


def test_an_open_rebate_must_not_run_into_a_neighbour(make):
    long = make(pockets=(Pocket(rectangle(720.0, 8.0, -10.0, 20.0), 5.0, "rebate"),))
    cuts = cut_list([long, make(500.0, 250.0, name="c")])
    plan = nest(cuts, SAW)
    near = laid(plan, Placed("P01", 1, 10.0, 10.0, 0), Placed("P02", 1, 713.0, 10.0, 0))
    assert verify(near, cuts) == ("A pocket of P01 copy 1 on S01 runs into P02 copy 1 on S01.",)
    apart = laid(plan, Placed("P01", 1, 10.0, 10.0, 0), Placed("P02", 1, 721.0, 10.0, 0))
    assert verify(apart, cuts) == ()


def test_parts_told_as_unplaced_are_not_missed(make):
    cuts = cut_list([make(3000.0), make()])
    assert verify(nest(cuts, SAW), cuts) == ()


def test_a_part_in_a_notch_is_judged_by_true_outlines(make):
    corners = [(0, 0), (200, 0), (200, 300), (800, 300), (800, 0), (1000, 0), (1000, 600), (0, 600)]
    cuts = cut_list([make(outline=Outline(polygon(corners)), name="arch"), make(500.0, 200.0)])
    plan = nest(cuts, CuttingSpec(by="router", kerf=6.0, trim=10.0, spacing=2.0))
    around = Placed("P01", 1, 10.0, 10.0, 0)
    assert verify(laid(plan, around, Placed("P02", 1, 218.0, 10.0, 0)), cuts) == ()
    near = laid(plan, around, Placed("P02", 1, 217.0, 10.0, 0))
    assert verify(near, cuts) == (
        "P01 copy 1 on S01 and P02 copy 1 on S01 are 7.00 mm apart, not 8.00 mm.",
    )
    below = laid(plan, around, Placed("P02", 1, 218.0, 102.0 + 0.5, 0))
    assert "7.50 mm apart" in verify(below, cuts)[0]
