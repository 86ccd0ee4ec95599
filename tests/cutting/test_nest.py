"""Nesting: parts inside, apart, along the grain, each once; held against shapely as well."""

import dataclasses
import itertools
import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.cutting.beam import Enough
from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import Effort, nest
from fitout.cutting.plan import gap_between, usable
from fitout.cutting.verify import verify
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Outline, polygon, rectangle, rounded
from fitout.model.panel import Grain

SAW = CuttingSpec(by="saw", kerf=3.2, trim=10.0)
ROUTER = CuttingSpec(by="router", kerf=6.0, trim=10.0, spacing=2.0)


def polygons(sheet, cuts):
    """What shapely sees on a sheet: each part's outline, turned and shifted by shapely."""
    result = []
    for placed in sheet.placed:
        outline = cuts.line(placed.number).panel.outline
        whole = shapely.Polygon(
            outline.outer.chords(grows=False), [i.chords(grows=True) for i in outline.inner]
        )
        shape = shapely.affinity.rotate(whole, 90.0 * placed.quarter_turns, origin=(0, 0))
        x0, y0, _, _ = shape.bounds
        result.append(shapely.affinity.translate(shape, placed.x - x0, placed.y - y0))
    return result


def judged_by_shapely(plan, cuts):
    """Nothing of ours: inside the trimmed sheet, and no two nearer than the gap."""
    gap = gap_between(plan.spec)
    for sheet in plan.sheets:
        trim = plan.spec.trim
        room = shapely.box(trim, trim, sheet.board.length - trim, sheet.board.width - trim).buffer(
            1e-6, join_style="mitre"
        )
        shapes = polygons(sheet, cuts)
        assert all(room.covers(shape) for shape in shapes)
        for a, b in itertools.combinations(shapes, 2):
            assert a.distance(b) >= gap - 1e-4


parts = st.tuples(
    st.floats(60.0, 1100.0), st.floats(60.0, 700.0), st.integers(1, 4), st.sampled_from(Grain)
)


@pytest.mark.parametrize("spec", [SAW, ROUTER], ids=["saw", "router"])
@settings(max_examples=25, deadline=None)
@given(rows=st.lists(parts, min_size=1, max_size=9))
def test_every_part_lies_rightly(make, spec, rows):
    panels = [
        make(length, width, name=f"n{i}-{copy}", grain=grain)
        for i, (length, width, count, grain) in enumerate(rows)
        for copy in range(count)
    ]
    cuts = cut_list(panels)
    plan = nest(cuts, spec)
    assert not plan.unplaced
    assert verify(plan, cuts) == ()
    judged_by_shapely(plan, cuts)
    placed = [(p.number, p.copy) for sheet in plan.sheets for p in sheet.placed]
    assert len(placed) == len(set(placed)) == len(panels)
    for sheet in plan.sheets:
        for p in sheet.placed:
            if cuts.line(p.number).panel.grain is Grain.ALONG_U:
                assert p.quarter_turns % 2 == 0
    use = plan.boards[0]
    assert use.least_sheets <= use.sheets == len(plan.sheets)


shaped = st.tuples(
    st.floats(400.0, 1100.0),
    st.floats(300.0, 700.0),
    st.floats(0.1, 0.4),
    st.floats(0.2, 0.7),
    st.sampled_from(["notch", "window", "taper"]),
    st.sampled_from(Grain),
)


def shape(length, width, margin, depth, kind):
    """A notched part, one with a round-cornered window, or one with a slanting side."""
    a, b = margin * length, depth * width
    if kind == "notch":
        corners = [(0, 0), (a, 0), (a, b), (length - a, b), (length - a, 0), (length, 0)]
        return Outline(rounded(polygon([*corners, (length, width), (0, width)]), 8.0))
    if kind == "taper":
        return Outline(polygon([(0, 0), (length, 0), (length, width), (a, width), (0, b)]))
    window = rounded(rectangle(length - 2 * a, 0.9 * width - b, a, 0.5 * b), 15.0)
    return Outline(rectangle(length, width), (window,))


@pytest.mark.parametrize("spec", [SAW, ROUTER], ids=["saw", "router"])
@settings(max_examples=12, deadline=None)
@given(large=st.lists(shaped, min_size=1, max_size=4), small=st.lists(parts, max_size=5))
def test_parts_in_notches_and_cut_outs_keep_their_distance(make, spec, large, small):
    panels = [
        make(outline=shape(*row[:-1]), name=f"l{i}", grain=row[-1]) for i, row in enumerate(large)
    ]
    panels += [
        make(length / 4, width / 4, name=f"s{i}-{copy}", grain=grain)
        for i, (length, width, count, grain) in enumerate(small)
        for copy in range(count)
    ]
    cuts = cut_list(panels)
    plan = nest(cuts, spec)
    assert verify(plan, cuts) == ()
    judged_by_shapely(plan, cuts)
    assert plan.boards[0].least_sheets <= len(plan.sheets)


def test_a_notch_holds_another_part_on_a_router_only(make):
    arch = shape(2400.0, 1200.0, 0.3, 0.5, "notch")
    small = make(900.0, 500.0, name="small")
    panels = [make(outline=arch, name="arch"), small]
    assert len(nest(cut_list(panels), ROUTER).sheets) == 1
    assert len(nest(cut_list(panels), SAW).sheets) == 2


@pytest.mark.parametrize("spec", [SAW, ROUTER], ids=["saw", "router"])
def test_parts_that_fill_a_sheet_to_the_last_kerf_go_on_one_sheet(make, spec):
    gap = gap_between(spec)
    length, width = (2420.0 - 2 * gap) / 3, (1200.0 - gap) / 2
    cuts = cut_list([make(length, width, name=f"n{i}") for i in range(6)])
    plan = nest(cuts, spec)
    assert len(plan.sheets) == 1
    assert plan.boards[0].proven_least
    assert verify(plan, cuts) == ()
    larger = cut_list([make(length, width + 0.1, name=f"n{i}") for i in range(6)])
    assert len(nest(larger, spec).sheets) == 2


def test_kerf_and_trim_are_honest(make):
    # Two parts of half the usable width leave no room for the blade between them.
    cuts = cut_list([make(2420.0, 600.0, name=f"n{i}") for i in range(2)])
    assert len(nest(cuts, SAW).sheets) == 2
    no_blade = dataclasses.replace(SAW, kerf=1e-9)
    assert len(nest(cuts, no_blade).sheets) == 1


def test_grain_costs_a_sheet_where_it_must(make):
    def sheets(grain):
        panels = [make(1200.0, 600.0, name=f"n{i}", grain=grain) for i in range(3)]
        panels.append(make(1200.0, 600.0, name="turned", grain=Grain.ALONG_V))
        return len(nest(cut_list(panels), dataclasses.replace(SAW, trim=0.0)).sheets)

    # Two lie one above the other; beside them is room for two that are 600 long.
    assert sheets(Grain.EITHER) == 1
    assert sheets(Grain.ALONG_U) == 2


def test_a_grain_locked_part_wider_than_the_sheet_is_told_not_turned(make):
    cuts = cut_list([make(900.0, 1300.0), make(300.0, name="ok")])
    plan = nest(cuts, SAW)
    assert [line.number for line in plan.cut_list.lines] == ["P01", "P02"]
    (large,) = plan.unplaced
    assert (large.number, large.too_long, large.too_wide) == ("P01", 0.0, pytest.approx(100.0))
    assert "100.0 mm too wide" in large.sentence
    assert "grain along the sheet" in large.sentence
    assert [p.number for sheet in plan.sheets for p in sheet.placed] == ["P02"]
    assert verify(plan, cuts) == ()
    free = nest(cut_list([make(900.0, 1300.0, grain=Grain.EITHER)]), SAW)
    assert not free.unplaced


def test_the_best_turn_counts_for_a_part_too_large(make):
    (large,) = nest(cut_list([make(2500.0, 1250.0, grain=Grain.EITHER)]), SAW).unplaced
    assert (large.too_long, large.too_wide) == pytest.approx((80.0, 50.0))
    assert large.sentence == (
        "P01 (panel) is 80.0 mm too long and 50.0 mm too wide "
        "for the sheet's usable area in its best turn."
    )


def test_each_board_has_sheets_of_its_own(make, ply):
    foam = dataclasses.replace(
        ply, key="foam 30", kind="foam", grain=False, thickness=30.0, length=2000.0, width=1000.0
    )
    cuts = cut_list([make(), make(name="liner", board=foam), make(500.0, name="b")])
    plan = nest(cuts, ROUTER)
    assert [(sheet.number, sheet.board.key) for sheet in plan.sheets] == [
        ("S01", "foam 30"),
        ("S02", "ply 12"),
    ]
    assert [use.sheets for use in plan.boards] == [1, 1]
    assert verify(plan, cuts) == ()


def test_an_empty_cut_list_gives_an_empty_plan():
    plan = nest(cut_list([]), SAW)
    assert plan.sheets == plan.unplaced == plan.boards == ()


def test_only_a_part_too_large_takes_no_sheet(make):
    use = nest(cut_list([make(3000.0)]), SAW).boards[0]
    assert (use.sheets, use.least_sheets, use.used_share) == (0, 0, 0.0)


@pytest.mark.parametrize("spec", [SAW, ROUTER], ids=["saw", "router"])
def test_offcuts_are_free_whole_and_apart(make, spec):
    cuts = cut_list([make(500.0 + 40 * i, 260.0 + 25 * i, name=f"n{i}") for i in range(9)])
    plan = nest(cuts, spec)
    for sheet in plan.sheets:
        room = usable(sheet.board, spec)
        spare = [shapely.box(r.x, r.y, r.x + r.length, r.y + r.width) for r in sheet.offcuts]
        assert spare
        inside = shapely.box(room.x, room.y, room.x + room.length, room.y + room.width).buffer(
            1e-6, join_style="mitre"
        )
        assert all(inside.covers(box) for box in spare)
        assert all(min(r.length, r.width) >= 60.0 for r in sheet.offcuts)
        others = [*spare, *polygons(sheet, cuts)]
        for a, b in itertools.combinations(others, 2):
            assert a.distance(b) >= gap_between(spec) - 1e-4


def test_among_equal_sheet_counts_the_largest_offcut_wins(make):
    # Two parts side by side along the sheet leave a strip 1200 - 300 wide and as long as it.
    plan = nest(cut_list([make(1200.0, 300.0, name=f"n{i}") for i in range(2)]), SAW)
    assert max(r.area for r in plan.sheets[0].offcuts) >= (1200.0 - 300.0 - 3.2) * 2420.0 - 1.0


def test_the_same_list_gives_the_same_plan(make):
    cuts = cut_list([make(300.0 + 37 * i, 200.0 + 31 * (i % 5), name=f"n{i}") for i in range(20)])
    assert nest(cuts, ROUTER) == nest(cuts, ROUTER)


def test_the_bound_is_the_grown_area(make):
    cuts = cut_list([make(800.0, 590.0, name=f"n{i}") for i in range(7)])
    use = nest(cuts, SAW).boards[0]
    grown = 7 * (800.0 + 3.2) * (590.0 + 3.2) / ((2420.0 + 3.2) * (1200.0 + 3.2))
    assert use.least_sheets == math.ceil(grown) == 2
    assert use.used_share == pytest.approx(7 * 800.0 * 590.0 / (use.sheets * 2440.0 * 1220.0))


def hard(make):
    """Parts that the rules lay on a sheet more than the bound."""
    sizes = [(500.0 + 41 * (i % 7), 330.0 + 37 * (i % 5)) for i in range(34)]
    return [make(*size, name=f"n{i}", grain=Grain.EITHER) for i, size in enumerate(sizes)]


@pytest.mark.parametrize("spec", [SAW, ROUTER], ids=["saw", "router"])
def test_an_ended_search_gives_a_whole_plan(make, spec):
    told = []

    def progress(board, now):
        told.append((board.key, now))
        if len(told) == 2:
            raise Enough

    cuts = cut_list(hard(make))
    plan = nest(cuts, spec, Effort(work=10**9, progress=progress))
    assert len(told) == 2
    assert plan.stopped
    assert verify(plan, cuts) == ()
    assert plan.boards[0].sheets <= told[-1][1].sheets


def test_a_search_ended_before_it_found_anything_gives_what_the_rules_give(make):
    def at_once(*_):
        raise Enough

    cuts = cut_list(hard(make))
    assert verify(nest(cuts, SAW, Effort(progress=at_once)), cuts) == ()
    plan = nest(cuts, SAW, Effort(check=at_once))
    assert plan.stopped
    assert verify(plan, cuts) == ()


def test_more_work_is_no_worse_and_another_seed_is_as_sound(make):
    cuts = cut_list(hard(make))
    little, more = (nest(cuts, SAW, Effort(work=work)) for work in (0, 2_000_000))
    assert not little.stopped
    assert len(more.sheets) <= len(little.sheets)
    other = nest(cuts, SAW, Effort(work=2_000_000, seed=7))
    assert verify(more, cuts) == verify(other, cuts) == ()
