"""The saw sequence: done as told on a bench that knows but names and sizes, it frees every part."""

import dataclasses

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from saw_bench import cut_as_told, run

from fitout.checks.stock import nested_findings
from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import Effort, nest
from fitout.cutting.saw_words import saw_sentence
from fitout.cutting.saw_words import settings as times_set
from fitout.cutting.sequence import saw_order, saw_steps
from fitout.model.cutting import CuttingSpec, OffcutSpec, SawSpec, StockSpec, YardSpec
from fitout.model.panel import Grain

KERF = 3.2
SAW = CuttingSpec(by="saw", kerf=KERF, trim=10.0)
QUICK = Effort(work=0)


def panels(make, sizes):
    return [
        make(a, b, name=f"n{i}", grain=Grain.EITHER if free else Grain.ALONG_U)
        for i, (a, b, free) in enumerate(sizes)
    ]


sides = st.tuples(st.floats(40.0, 1100.0), st.floats(40.0, 900.0), st.booleans())


@settings(max_examples=40, deadline=None)
@given(
    sizes=st.lists(sides, min_size=1, max_size=25),
    kerf=st.sampled_from([0.5, 2.6, 3.2, 12.0]),
    trim=st.sampled_from([0.0, 2.0, 10.0]),
    fence=st.sampled_from([None, 300.0, 700.0]),
    yard=st.sampled_from(
        [
            None,
            YardSpec(cuts=3),
            YardSpec(cuts=2, longest=1300.0),
            YardSpec(cuts=6, widest=450.0, heaviest=9.0),
        ]
    ),
)
def test_done_as_told_every_part_is_freed(make, sizes, kerf, trim, fence, yard):
    spec = CuttingSpec(by="saw", kerf=kerf, trim=trim, saw=SawSpec(fence=fence, yard=yard))
    cut_as_told(nest(cut_list(panels(make, sizes)), spec, QUICK))


@settings(max_examples=10, deadline=None)
@given(sizes=st.lists(sides, min_size=1, max_size=6))
def test_an_offcut_is_taken_apart_from_its_own_edges(make, ply, sizes):
    offcut = OffcutSpec(sheet=ply.key, size=(1100.0, 900.0), thickness=11.8)
    cut_as_told(nest(cut_list(panels(make, sizes)), SAW, QUICK, StockSpec(offcuts=(offcut,))))


def test_the_bench_sees_what_is_wrong(make):
    """A step that names another size, or a piece that is not there, can't be done."""
    plan = nest(cut_list([make(1000.0, 400.0)]), SAW, QUICK)
    steps = saw_steps(plan.sheets[0], SAW)
    size = (2440.0, 1220.0)
    run(steps, "S01", size, KERF)
    for wrong in (
        (steps[1], *steps[1:]),
        (dataclasses.replace(steps[0], measure=steps[0].measure - 1.0), *steps[1:]),
        (steps[0], *steps[2:]),
    ):
        with pytest.raises((AssertionError, KeyError)):
            run(wrong, "S01", size, KERF)
    with pytest.raises(AssertionError):
        run(steps, "S01", size, KERF + 0.1)


def test_steps_of_a_plain_sheet(make):
    """Four edges, then along and across the sheet."""
    plan = nest(cut_list([make(1000.0, 400.0)]), SAW, QUICK)
    steps = saw_steps(plan.sheets[0], SAW)
    assert [round(step.measure, 6) for step in steps[:4]] == [1210.0, 1200.0, 2430.0, 2420.0]
    assert [step.gives.name for step in steps[:4]] == ["S01"] * 4
    assert sorted((step.across, step.measure) for step in steps[4:]) == [
        (False, pytest.approx(400.0)),
        (True, pytest.approx(1000.0)),
    ]
    assert steps[5].gives.name == "P01 copy 1"
    assert steps[0].sentence == (
        "1. S01 (2440.0 × 1220.0): fence 1210.0, cut along the sheet: "
        "S01 (2440.0 × 1210.0) to be cut on; beyond it edge (2440.0 × 6.8) to the waste."
    )


def test_wide_cuts_are_told_for_a_track_saw(make):
    spec = dataclasses.replace(SAW, saw=SawSpec(fence=610.0))
    plan = nest(cut_list([make(1000.0, 400.0)]), spec, QUICK)
    steps = saw_steps(plan.sheets[0], spec)
    assert [step.fence for step in steps[:4]] == [False] * 4
    assert any(step.fence and step.measure == pytest.approx(400.0) for step in steps)
    assert "track saw 1210.0" in steps[0].sentence


def test_the_far_side_lies_against_the_fence_where_only_it_fits(make):
    """700 does not go under a fence of 610; the 496.8 beyond the kerf does."""
    spec = dataclasses.replace(SAW, saw=SawSpec(fence=610.0))
    plan = nest(cut_list([make(2420.0, 700.0)]), spec, QUICK)
    (step,) = (s for s in saw_steps(plan.sheets[0], spec) if s.gives.fate != "piece")
    assert (step.fence, step.measure) == (True, pytest.approx(496.8))
    assert (step.gives.name, step.rest.name) == ("S01-1", "P01 copy 1")


def test_a_thin_strip_falls_off_beyond_the_blade(make):
    """1190 of 1200 is wanted: no strip of 6.8 is led along the fence, whatever the fence."""
    for fence, by_fence in ((None, True), (610.0, False)):
        spec = dataclasses.replace(SAW, saw=SawSpec(fence=fence))
        plan = nest(cut_list([make(2420.0, 1190.0)]), spec, QUICK)
        step = saw_steps(plan.sheets[0], spec)[-1]
        assert (step.gives.name, step.measure, step.fence) == ("P01 copy 1", 1190.0, by_fence)
        assert (step.rest.fate, step.rest.width) == ("waste", pytest.approx(6.8))


def test_repeated_settings_stand_together(make):
    """Six parts of 300 in two strips: the fence is set to 300 once."""
    plan = nest(cut_list([make(780.0, 300.0, name=f"n{i}") for i in range(12)]), SAW, QUICK)
    steps = saw_steps(plan.sheets[0], SAW)
    told = [step.setting for step in steps]
    for size in ("fence 300.0", "fence 780.0"):
        where = [i for i, setting in enumerate(told) if setting == size]
        assert len(where) > 2
        assert where == list(range(where[0], where[-1] + 1))
    assert times_set(steps) == len(dict.fromkeys(told))


def test_a_setting_serves_all_sheets_of_a_material(make):
    """Three sheets of strips 300 wide: set once for all, not once for each."""
    plan = nest(cut_list([make(2400.0, 300.0, name=f"n{i}") for i in range(10)]), SAW, QUICK)
    assert len(plan.sheets) > 2
    ((key, steps),) = saw_order(plan).items()
    where = [i for i, step in enumerate(steps) if step.setting == "fence 300.0"]
    assert where == list(range(where[0], where[-1] + 1))
    assert len({steps[i].sheet for i in where}) == len(plan.sheets)
    alone = sum(times_set(saw_steps(sheet, SAW)) for sheet in plan.sheets)
    assert times_set(steps) < alone
    told = f"{len(steps)} cuts, the saw set {times_set(steps)} times"
    assert saw_sentence(steps) == told
    assert any(f.sentence == f"{key}: {told}." for f in nested_findings(plan, StockSpec()))
    cut_as_told(plan)


def test_the_yard_cuts_first_and_only_what_is_needed(make):
    """Strips along the sheet; the car takes what is 620 wide."""
    spec = dataclasses.replace(SAW, saw=SawSpec(yard=YardSpec(cuts=3, widest=620.0)))
    plan = nest(cut_list([make(2420.0, 380.0, name=f"n{i}") for i in range(3)]), spec, QUICK)
    steps = saw_steps(plan.sheets[0], spec)
    yard = [step for step in steps if step.yard]
    assert steps[: len(yard)] == tuple(yard)
    # The first strip has the sheet's edge of 10 with it; then two strips' width is left.
    assert [round(step.measure, 1) for step in yard] == [390.0, 380.0]
    assert yard[0].sentence.startswith("1. S01 (2440.0 × 1220.0): yard's saw 390.0, cut along")
    cut_as_told(plan)


def test_a_part_as_large_as_the_sheet_needs_but_its_edges_cut(make):
    plan = nest(cut_list([make(2420.0, 1200.0)]), SAW, QUICK)
    steps = saw_steps(plan.sheets[0], SAW)
    assert len(steps) == 4
    assert (steps[-1].gives.name, steps[-1].gives.fate) == ("P01 copy 1", "part")
    assert plan.sheets[0].cuts.part == ("P01", 1)


def test_a_rest_narrower_than_the_kerf_is_sawdust(make):
    plan = nest(cut_list([make(2418.0, 1200.0)]), SAW, QUICK)
    step = saw_steps(plan.sheets[0], SAW)[-1]
    assert (step.across, step.measure, step.rest) == (True, pytest.approx(2418.0), None)


def test_a_router_has_no_sequence(make):
    plan = nest(cut_list([make()]), CuttingSpec(by="router"), QUICK)
    assert saw_steps(plan.sheets[0], plan.spec) == ()


def test_a_thousand_parts_are_taken_apart_too(make):
    plan = nest(cut_list([make(40.0, 30.0, name=f"n{i}") for i in range(1000)]), SAW, QUICK)
    cut_as_told(plan)
    assert sum(times_set(saw_steps(sheet, SAW)) for sheet in plan.sheets) < 12
