"""Which of two layouts is better: cost, then the largest offcut, then how easily it is cut."""

import dataclasses
import itertools

import pytest

from fitout.cutting.beam import Enough
from fitout.cutting.cut_list import cut_list
from fitout.cutting.layout import Blank, Laid, Layout
from fitout.cutting.nest import Effort, nest
from fitout.cutting.plan import Rect
from fitout.cutting.tries import (
    ORDERS,
    best_of,
    fills_of,
    handling,
    largest_offcut,
    polished,
    settings_of,
    travel,
    tried,
)
from fitout.cutting.verify import verify
from fitout.model.cutting import CuttingSpec, OffcutSpec, SheetStockSpec, StockSpec
from fitout.model.panel import Grain

SAW = CuttingSpec(by="saw", kerf=3.0, trim=0.0)
ROUTER = CuttingSpec(by="router", kerf=6.0, spacing=0.0, trim=0.0)
SIZE = (1003.0, 603.0)


def blank(name, length, width):
    return Blank(name, 1, length, width, turnable=True)


def lain(*places, free=()):
    """Blanks of 100 by 100 at the places, and what is free beside them."""
    laid = tuple(Laid(blank(f"n{i}", 100.0, 100.0), x, y, False) for i, (x, y) in enumerate(places))
    return Layout(laid, free)


NEAR, FAR = ((0.0, 0.0), (100.0, 0.0)), ((0.0, 0.0), (800.0, 400.0))
SMALL, LARGE = (Rect(0.0, 200.0, 306.0, 306.0),), (Rect(0.0, 200.0, 406.0, 406.0),)
SLIVER = (Rect(0.0, 500.0, 1000.0, 76.0),)


def test_fewer_sheets_come_first():
    two = [lain(NEAR[0], free=LARGE), lain(NEAR[1], free=LARGE)]
    one = [lain(*FAR, free=SMALL)]
    assert best_of([two, one], ROUTER)[0] is one


def test_of_as_many_sheets_the_largest_offcut_wins_whatever_the_travel():
    small, large = [lain(*NEAR, free=SMALL)], [lain(*FAR, free=LARGE)]
    for order in itertools.permutations([small, large]):
        assert best_of(order, ROUTER)[0] is large


def test_what_is_not_worth_keeping_is_no_offcut():
    """A strip 70 wide has more area than 250 by 250 has, but is not kept: 80 by 300 is least."""
    spec = dataclasses.replace(ROUTER, keep_offcuts=(80.0, 200.0))
    square = (Rect(0.0, 200.0, 256.0, 256.0),)
    assert largest_offcut([lain(free=SLIVER)], spec) == 0.0
    assert largest_offcut([lain(free=(*SLIVER, *square))], spec) == 250.0**2


def test_of_equal_offcuts_the_shorter_way_wins():
    near, far = [lain(*NEAR, free=LARGE)], [lain(*FAR, free=LARGE)]
    for order in itertools.permutations([near, far]):
        assert best_of(order, ROUTER)[0] is near


def test_of_equal_offcuts_fewer_settings_win():
    """Five blanks that some rules cut with four settings and others with five."""
    sizes = ((300.0, 200.0), (250.0, 200.0), (250.0, 100.0), (250.0, 200.0), (150.0, 150.0))
    blanks = [blank(f"n{i}", *size) for i, size in enumerate(sizes)]
    found = [f for f in tried(blanks, fills_of(SIZE, SAW)) if len(f) == 1]
    best, ended = best_of(found, SAW)
    assert not ended
    most = max(largest_offcut(f, SAW) for f in found)
    ties = [handling(f, SAW) for f in found if largest_offcut(f, SAW) == most]
    assert largest_offcut(best, SAW) == most
    assert handling(best, SAW) == min(ties) < max(ties)
    for again in (found[::-1], found[1::2] + found[::2]):
        assert handling(best_of(again, SAW)[0], SAW) == handling(best, SAW)


def test_the_way_goes_to_the_nearest_next():
    """3-4-5 triangles: 500 to the first, 500 on to the next."""
    assert travel([(600.0, 800.0), (300.0, 400.0)]) == 1000.0
    assert travel([]) == 0.0


def test_ended_by_hand_it_is_the_best_so_far():
    def at_once():
        raise Enough

    first = [lain(*FAR, free=SMALL)]
    assert best_of([first, [lain(*NEAR, free=LARGE)]], ROUTER, at_once) == (first, True)
    sheets = [(SIZE, layout) for layout in tried([blank("a", 400.0, 300.0)], fills_of(SIZE, SAW))]
    whole = [(size, layout) for size, (layout,) in sheets][:1]
    assert polished(whole, SAW, at_once) == [whole[0][1]]


@pytest.mark.parametrize("spec", [SAW, ROUTER], ids=["saw", "router"])
def test_polished_sheets_hold_the_same_and_are_no_worse(spec):
    wide = [blank(f"a{i}", 410.0, 180.0 + 20.0 * i) for i in range(4)]
    few = [blank(f"b{i}", 300.0 - 40.0 * i, 150.0) for i in range(3)]
    rules = fills_of(SIZE, spec)
    worst = [
        max(
            (f[0] for f in tried(blanks, rules) if len(f) == 1),
            key=lambda layout: (-largest_offcut([layout], spec), handling([layout], spec)),
        )
        for blanks in (wide, few)
    ]
    better = polished([(SIZE, layout) for layout in worst], spec)
    assert largest_offcut(better, spec) > largest_offcut(worst, spec)
    for new, old in zip(better, worst, strict=True):
        names = [sorted(laid.blank.number for laid in layout.laid) for layout in (new, old)]
        assert names[0] == names[1]


def test_a_setting_that_another_sheet_needs_costs_nothing():
    """The second sheet is laid so that it does with sizes which the first one needs."""
    sizes = (
        ((150.0, 150.0), (300.0, 150.0), (150.0, 150.0), (200.0, 150.0)),
        ((200.0, 200.0), (250.0, 200.0), (250.0, 150.0), (250.0, 100.0)),
    )
    blanks = [
        [blank(f"{k}{i}", *size) for i, size in enumerate(own)] for k, own in enumerate(sizes)
    ]
    rules = fills_of(SIZE, SAW)
    first = next(f[0] for f in tried(blanks[0], rules) if len(f) == 1)
    other = max(
        (f[0] for f in tried(blanks[1], rules) if len(f) == 1),
        key=lambda layout: len(settings_of(layout) - settings_of(first)),
    )
    before = handling([first, other], SAW)
    after = handling(polished([(SIZE, first), (SIZE, other)], SAW), SAW)
    assert after < before


@pytest.mark.parametrize("by", ["saw", "router"])
def test_across_stocks_cost_comes_first_then_the_offcut(make, ply, by):
    """The offcut on hand takes what it can; of what is bought the cheapest, with one rest."""
    spec = CuttingSpec(by=by, kerf=3.0, spacing=0.0, trim=10.0)
    stock = StockSpec(
        sheets={
            ply.key: (
                SheetStockSpec(size=(2440.0, 1220.0), price=90.0),
                SheetStockSpec(size=(1220.0, 1220.0), price=50.0),
            )
        },
        offcuts=(OffcutSpec(sheet=ply.key, size=(760.0, 360.0), thickness=11.8),),
    )
    parts = [make(700.0, 300.0, name=f"n{i}", grain=Grain.ALONG_U) for i in range(5)]
    cuts = cut_list(parts)
    plan = nest(cuts, spec, Effort(work=400_000), stock)
    assert verify(plan, cuts) == ()
    (use,) = plan.boards
    assert [sheet.origin for sheet in plan.sheets] == ["offcut", "bought"]
    # Four of them go into no half sheet, three would: a second one costs more than a whole.
    assert use.cost == 90.0
    bought = plan.sheets[1]
    # Three side by side, one beyond them: the rest of the sheet beside that one is larger than
    # what two rows of two leave, 2420 × 594, or a row of four, 1014 × 1200, would be.
    assert max(r.area for r in bought.offcuts) >= (2420.0 - 703.0) * (1200.0 - 303.0) - 1.0


@pytest.mark.parametrize("spec", [SAW, ROUTER], ids=["saw", "router"])
def test_what_is_left_out_of_the_tries_was_there_before(spec):
    """Each rule in each order, by hand: the tries have no layout less, and none twice over."""
    sizes = ((300.0, 200.0), (250.0, 200.0), (250.0, 100.0), (250.0, 200.0), (150.0, 150.0))
    for count in (1, 4):
        blanks = [blank(f"n{i}", *size) for i, size in enumerate(sizes * count)]
        fills = fills_of(SIZE, spec)
        found = [places(layouts) for layouts in tried(blanks, fills)]
        every = [
            places(fill.lay(sorted(blanks, key=order, reverse=True)))
            for order in ORDERS
            for fill in fills
        ]
        assert set(found) == set(every)
        assert len(found) < len(every)


def places(layouts):
    return tuple(tuple((p.blank.number, p.x, p.y, p.turned) for p in s.laid) for s in layouts)
