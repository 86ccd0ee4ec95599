"""What the timber yard cuts, and what is then still too large for the car."""

import dataclasses
import random

import pytest
from saw_bench import cut_as_told, run

from fitout.checks.stock import nested_findings
from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import Effort, nest
from fitout.cutting.plan import Cut, Rect
from fitout.cutting.saw_words import yard_sentence
from fitout.cutting.sequence import saw_steps
from fitout.cutting.verify import verify
from fitout.cutting.yard import LEAST_OFF, raw_parts, too_large_to_carry, yard_cuts
from fitout.model.cutting import (
    CuttingSpec,
    OffcutSpec,
    SawSpec,
    SheetStockSpec,
    StockSpec,
    YardSpec,
)
from fitout.model.panel import Grain


def spec(**yard):
    return CuttingSpec(by="saw", kerf=3.0, trim=10.0, saw=SawSpec(yard=YardSpec(**yard)))


@pytest.fixture
def strips(make):
    """One sheet of three strips 380 wide along it."""
    cuts = cut_list([make(2420.0, 380.0, name=f"n{i}") for i in range(3)])
    (sheet,) = nest(cuts, CuttingSpec(by="saw", kerf=3.0, trim=10.0), Effort(work=0)).sheets
    return sheet


def test_without_limits_it_cuts_as_often_as_it_does(strips):
    for count in (1, 2):
        assert len(yard_cuts(strips, spec(cuts=count))) == count


def test_it_stops_once_every_piece_can_be_taken_along(strips):
    """1220 less 390 and the kerf leaves 827; less 380 and the kerf, 444."""
    assert len(yard_cuts(strips, spec(cuts=5, widest=1220.0))) == 0
    assert len(yard_cuts(strips, spec(cuts=5, widest=827.0))) == 1
    assert len(yard_cuts(strips, spec(cuts=5, widest=826.0))) == 2
    # 2440 × 827 × 11.8 mm at 680 kg/m³ are 16.19 kg.
    assert len(yard_cuts(strips, spec(cuts=5, heaviest=16.2))) == 1
    assert len(yard_cuts(strips, spec(cuts=5, heaviest=16.1))) == 2


def test_what_stays_too_large_is_told(strips):
    assert too_large_to_carry(strips, spec(cuts=2, widest=450.0)) == ()
    ((left, divides),) = too_large_to_carry(strips, spec(cuts=1, widest=450.0))
    assert (left.length, left.width, divides) == (2440.0, pytest.approx(827.0), True)
    # Strips stay as long as they are, and no cut would make them shorter.
    long = too_large_to_carry(strips, spec(cuts=3, longest=2000.0))
    assert len(long) == 4
    assert not any(divides for _, divides in long)
    assert too_large_to_carry(strips, dataclasses.replace(spec(), saw=SawSpec())) == ()


def test_a_strip_comes_off_where_that_makes_way_for_a_cut_that_helps(strips):
    """Trim, a strip of 3 beside the parts, then the cut across that halves them."""
    long, wide = strips.board.length, strips.board.width
    room = Rect(10.0, 10.0, long - 20.0, wide - 20.0)
    below = Rect(room.x, room.y, room.length, room.width - 6.0)
    half = (long - 3.0) / 2.0
    ends = (
        Cut(Rect(room.x, room.y, half - room.x, below.width)),
        Cut(Rect(half + 3.0, room.y, room.x + room.length - half - 3.0, below.width)),
    )
    across = Cut(below, across=True, at=half, first=ends[0], second=ends[1])
    strip = Cut(Rect(room.x, below.y + below.width + 3.0, room.length, 3.0))
    tree = Cut(room, across=False, at=below.y + below.width, first=across, second=strip)
    sheet = dataclasses.replace(strips, cuts=tree)
    assert yard_cuts(sheet, spec(cuts=3, longest=1900.0)) == (tree, across)
    ((left, divides),) = too_large_to_carry(sheet, spec(cuts=1, longest=1900.0))
    assert (left.length, left.width, divides) == (long, wide, True)
    assert yard_cuts(sheet, spec(cuts=1, longest=1900.0)) == ()
    assert yard_cuts(sheet, spec(cuts=3)) == ()


def test_a_strip_too_thin_for_the_yard_stays_on_and_is_cut_off_at_home(strips):
    """Beyond a first cut 3.5 would fall off: the yard halves the sheet, then each half is cut."""
    long, wide = strips.board.length, strips.board.width
    room = Rect(4.0, 4.0, long - 8.0, wide - 8.0)
    below = Rect(room.x, room.y, room.length, room.width - 2.5)
    half = (long - 3.0) / 2.0
    ends = (
        Cut(Rect(room.x, room.y, half - room.x, below.width), part=("P01", 1)),
        Cut(Rect(half + 3.0, room.y, half - room.x, below.width), part=("P01", 2)),
    )
    across = Cut(below, across=True, at=half, first=ends[0], second=ends[1])
    tree = Cut(room, across=False, at=below.y + below.width, first=across)
    sheet = dataclasses.replace(strips, cuts=tree)
    limits = dataclasses.replace(spec(cuts=3, longest=1900.0), trim=4.0)
    assert yard_cuts(sheet, limits) == (across,)
    assert too_large_to_carry(sheet, limits) == ()
    steps = saw_steps(sheet, limits)
    assert yard_sentence(steps) == f"1 crosscut at {half:g}"
    bench = run(steps, sheet.number, (long, wide), limits.kerf)
    size = (half - room.x, below.width)
    assert bench.parts == {f"P01 copy {i}": pytest.approx(size) for i in (1, 2)}
    # A thicker one the yard takes off, if that makes way.
    thick = dataclasses.replace(tree, at=tree.at - 2.0)
    assert yard_cuts(dataclasses.replace(sheet, cuts=thick), limits) == (thick, across)


@pytest.mark.parametrize(
    ("limits", "trim", "sizes"),
    [
        ({"cuts": 3, "longest": 1215.0}, 4.0, [(1209.0, 1210.0), (1100.0, 1209.0)]),
        ({"cuts": 3, "longest": 1215.0}, 0.0, [(900.0, 1213.0), (1208.0, 1215.0)]),
        ({"cuts": 3, "widest": 1217.0}, 4.0, [(1210.0, 1209.0), (2431.0, 606.0)]),
    ],
)
def test_the_yard_never_takes_off_less_than_it_can(make, limits, trim, sizes):
    parts = [make(*size, name=f"n{i}", grain=Grain.EITHER) for i, size in enumerate(sizes * 2)]
    asked = dataclasses.replace(spec(**limits), trim=trim)
    plan = nest(cut_list(parts), asked, Effort(work=100_000))
    cut_as_told(plan)
    steps = [step for sheet in plan.sheets for step in saw_steps(sheet, asked) if step.yard]
    assert steps
    for step in steps:
        assert step.rest is not None
        sides = [p.length if step.across else p.width for p in (step.gives, step.rest)]
        assert min(sides) >= LEAST_OFF


def test_nothing_falls_off_where_the_blade_runs_along_the_end(strips):
    """The part ends a kerf before the trimmed sheet does: the first side of the cut is nothing."""
    long, wide = strips.board.length, strips.board.width
    room = Rect(10.0, 10.0, long - 20.0, wide - 20.0)
    part = Cut(Rect(13.0, 10.0, room.length - 3.0, room.width), part=("P01", 1))
    nothing = Cut(Rect(10.0, 10.0, -1e-6, room.width))
    tree = Cut(room, across=True, at=10.0 - 1e-6, first=nothing, second=part)
    steps = saw_steps(dataclasses.replace(strips, cuts=tree), spec())
    assert (steps[-1].gives.name, steps[-1].rest) == ("P01 copy 1", None)
    run(steps, strips.number, (long, wide), 3.0)


def test_what_is_at_home_the_yard_does_not_cut(make, ply):
    stock = StockSpec(offcuts=(OffcutSpec(sheet=ply.key, size=(900.0, 900.0), thickness=11.8),))
    plan = nest(cut_list([make()]), spec(cuts=3), Effort(work=0), stock)
    (sheet,) = plan.sheets
    assert sheet.origin == "offcut"
    assert yard_cuts(sheet, spec(cuts=3)) == ()


def test_the_kerf_lies_beyond_the_cut():
    cut = Cut(Rect(10.0, 10.0, 980.0, 480.0), across=True, at=300.0)
    first, second = raw_parts(cut, Rect(0.0, 0.0, 1000.0, 500.0), 3.0)
    assert (first, second) == (Rect(0.0, 0.0, 300.0, 500.0), Rect(303.0, 0.0, 697.0, 500.0))
    assert raw_parts(cut, Rect(0.0, 0.0, 303.0, 500.0), 3.0)[1] is None


def job(make, seed, count, most=(1100.0, 580.0)):
    """Random parts, none larger than `most`, and their cut list."""
    chance = random.Random(seed)
    return cut_list(
        [
            make(
                round(chance.uniform(250.0, most[0])),
                round(chance.uniform(90.0, most[1])),
                name=f"n{i}",
                grain=chance.choice(list(Grain)),
            )
            for i in range(count)
        ]
    )


LIMITS = {
    "wide": {"cuts": 3, "widest": 620.0},
    "long": {"cuts": 2, "longest": 1300.0},
    "both": {"cuts": 4, "longest": 1900.0, "widest": 620.0},
    "heavy": {"cuts": 3, "heaviest": 13.0},
}


@pytest.mark.parametrize("limits", LIMITS.values(), ids=LIMITS.keys())
@pytest.mark.parametrize("seed", range(3))
def test_sheets_are_laid_so_that_they_go_into_the_car(make, limits, seed):
    """As many sheets as without the limits, and every piece can be taken along."""
    cuts, effort = job(make, seed, 16), Effort(work=3_000_000)
    plan = nest(cuts, spec(**limits), effort)
    assert verify(plan, cuts) == ()
    cut_as_told(plan)
    plain = nest(cuts, dataclasses.replace(spec(), saw=SawSpec()), effort)
    assert len(plan.sheets) == len(plain.sheets)
    (use,) = plan.boards
    left = [piece for sheet in plan.sheets for piece in too_large_to_carry(sheet, spec(**limits))]
    assert (left == []) == (use.carried is None)
    if use.carried is not None:
        assert use.carried > use.sheets
    for sheet in plan.sheets:
        assert len(yard_cuts(sheet, spec(**limits))) <= limits["cuts"]


def test_rips_are_told_as_the_yard_hears_them(make):
    """The first strip still has the sheet's edge, 10 wider; what is left over is narrow."""
    widths = (392.0, 392.0, 376.0)
    cuts = cut_list([make(2420.0, w, name=f"n{i}") for i, w in enumerate(widths)])
    limits = spec(cuts=3, widest=410.0)
    (sheet,) = nest(cuts, limits, Effort(work=0)).sheets
    assert too_large_to_carry(sheet, limits) == ()
    assert yard_sentence(saw_steps(sheet, limits)) == "3 rips at 402, 392, 376"
    assert yard_sentence(saw_steps(sheet, spec(cuts=3, widest=1300.0))) == ""


def test_a_layout_that_goes_into_the_car_is_found_where_the_first_does_not(make):
    """The rules lay the two long parts side by side along the sheet; across they can be carried."""
    parts = [make(1100.0, 600.0, name=f"n{i}", grain=Grain.EITHER) for i in range(4)]
    cuts, limits = cut_list(parts), spec(cuts=3, longest=1300.0)
    plan = nest(cuts, limits, Effort(work=2_000_000))
    assert len(plan.sheets) == 1
    assert too_large_to_carry(plan.sheets[0], limits) == ()
    cut_as_told(plan)


def test_more_sheets_are_not_taken_but_told(make):
    """Three strips fill a sheet; with one cut of the yard only two of them can be carried."""
    cuts = cut_list([make(2420.0, 395.0, name=f"n{i}") for i in range(3)])
    plan = nest(cuts, spec(cuts=1, widest=620.0), Effort(work=400_000))
    (use,) = plan.boards
    assert (use.sheets, use.carried) == (1, 2.0)
    told = [f.sentence for f in nested_findings(plan, StockSpec(currency="EUR"))]
    assert any("takes 2 sheets instead of 1, 100.00 EUR more." in each for each in told)
    (use,) = nest(cuts, spec(cuts=2, widest=620.0), Effort(work=400_000)).boards
    assert (use.sheets, use.carried) == (1, None)


def test_sheets_of_several_sizes_are_carried_too(make, ply):
    sizes = (
        SheetStockSpec(size=(2440.0, 1220.0), price=90.0),
        SheetStockSpec(size=(1220.0, 1220.0), price=50.0),
    )
    cuts, stock = job(make, 5, 12), StockSpec(sheets={ply.key: sizes})
    limits = spec(cuts=3, widest=700.0)
    plan = nest(cuts, limits, Effort(work=3_000_000), stock)
    assert verify(plan, cuts) == ()
    cut_as_told(plan)
    (use,) = plan.boards
    assert use.carried is not None or not any(
        too_large_to_carry(sheet, limits) for sheet in plan.sheets
    )
