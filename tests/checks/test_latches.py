"""What holds drawers and lids shut, in designs and put together by hand."""

import dataclasses
from collections.abc import Callable
from typing import Any

import pytest

from fitout import catalogue
from fitout.checks.latches import check_latches
from fitout.model.design import BaySpec, SectionSpec, TailgateSpec
from fitout.model.finding import Severity
from fitout.model.latch import Latch
from fitout.model.module import Motion, MotionKind, SlideDuty
from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Hole, Panel
from fitout.model.placement import across
from fitout.model.spec import Measured
from fitout.survey.bay import build_bay

Make = Callable[..., Any]
ROWS = catalogue.load()
DRAWN = Motion(
    name="drawer", module="a", kind=MotionKind.SLIDE, direction=(-1.0, 0.0, 0.0), travel=400.0
)
LATCH = Latch(
    motion="drawer",
    module="a",
    type=ROWS.latches["finger catch"],
    panel="a/front",
    root=(510.0, 0.0, 199.5),
    normal=(1.0, 0.0, 0.0),
    throw=(0.0, 0.0, 1.0),
    striker=ROWS.strikers["lip striker"],
    striker_panel="a/top",
    strikes=(515.5, 0.0, 210.0),
)


def slides(key: str, contents_kg: float = 20.0) -> SlideDuty:
    return SlideDuty(
        name="a/drawer", slide=ROWS.slides[key], moving=("a/front",), contents_kg=contents_kg
    )


@pytest.fixture
def fronted(subject: Make, module: Make, panel: Make, board: Any) -> Make:
    """A front at 500 forward under a top at 210, and what else is given; its findings by code."""

    def look(
        *others: Any, latch: Latch | None = LATCH, tray: Any = None, bay: Any = None, **entries: Any
    ) -> dict[str, Any]:
        front = Panel(
            name="front",
            module="a",
            outline=Outline(rectangle(300.0, 190.0)),
            board=board,
            placement=across(500.0, -150.0, 8.0),
            holes=(
                Hole(136.5, 179.5, 4.5),
                Hole(163.5, 179.5, 4.5),
                Hole(150.0, 169.5, 20.0),
                Hole(132.5, 181.5, 4.5),
                Hole(167.5, 181.5, 4.5),
            ),
            moves="drawer",
        )
        holes = [Hole(x, y, 4.5) for x in (29.5, 31.5) for y in (183.0, 217.0)]
        top = panel("a/top", (490.0, 900.0), (-200.0, 200.0), 210.0, holes=tuple(holes))
        made = module(
            "a",
            front,
            top,
            *([] if tray is None else [tray]),
            motions=(DRAWN,),
            latches=() if latch is None else (latch,),
            **entries,
        )
        known = {} if bay is None else {"bay": bay}
        found = list(check_latches(subject(made, *others, **known)))
        return {f.code: f for f in found} | {"all": found}

    return look


def test_a_latch_that_meets_its_striker_passes_with_its_engagement(fronted: Make) -> None:
    found = fronted()
    assert [f.code for f in found["all"]] == ["latch", "latch room"]
    assert {f.severity for f in found["all"]} == {Severity.PASS}
    assert (found["latch"].value, found["latch"].limit, found["latch"].unit) == (6.0, 5.0, "mm")
    assert "reaches 6.0 mm behind the striker on a/top" in found["latch"].sentence


def test_a_bolt_that_reaches_too_little_fails_with_the_shortfall(fronted: Make) -> None:
    short = dataclasses.replace(LATCH.type, throw=8.5)
    found = fronted(latch=dataclasses.replace(LATCH, type=short))
    assert found["latch"].severity is Severity.FAIL
    assert found["latch"].margin == pytest.approx(-0.5)
    assert "reaches only 4.5 mm" in found["latch"].sentence


def test_each_fault_is_a_finding_and_nothing_else_is_said(fronted: Make) -> None:
    found = fronted(latch=dataclasses.replace(LATCH, striker_panel=""))
    (fault,) = found["all"]
    assert fault.severity is Severity.FAIL
    assert fault.sentence.startswith("The finger catch of a/drawer has no striker")


@pytest.mark.parametrize(
    ("key", "severity", "words"),
    [
        ("full extension 400", Severity.FAIL, "Nothing holds a/drawer shut"),
        ("heavy locking 400", Severity.PASS, "slides heavy locking 400, which lock in and out"),
    ],
)
def test_a_drawer_without_a_latch(fronted: Make, key: str, severity: Severity, words: str) -> None:
    (finding,) = fronted(latch=None, slides=(slides(key),))["all"]
    assert finding.severity is severity
    assert words in finding.sentence


def test_a_lid_without_a_latch_is_a_caution(subject: Make, module: Make, panel: Make) -> None:
    lid = panel("a/lid", (100.0, 400.0), (-100.0, 100.0), 200.0, moves="lid")
    for kind in (MotionKind.HINGE, MotionKind.REMOVE):
        motion = Motion(name="lid", module="a", kind=kind, direction=(0.0, 1.0, 0.0), travel=90.0)
        (finding,) = check_latches(subject(module("a", lid, motions=(motion,))))
        assert finding.severity is Severity.CAUTION
        assert "by its own weight alone" in finding.sentence.lower()


def test_what_is_lifted_off_a_module_is_one_caution(
    subject: Make, module: Make, panel: Make
) -> None:
    names = ("piece 1", "piece 2")
    lids = [
        panel(
            f"a/{name}", (100.0 + 400.0 * i, 400.0 + 400.0 * i), (-100.0, 100.0), 200.0, moves=name
        )
        for i, name in enumerate(names)
    ]
    lifts = tuple(
        Motion(
            name=name, module="a", kind=MotionKind.REMOVE, direction=(0.0, 0.0, 1.0), travel=60.0
        )
        for name in names
    )
    (finding,) = check_latches(subject(module("a", *lids, motions=lifts)))
    assert (finding.where, finding.severity) == ("a", Severity.CAUTION)
    assert "own weight alone lies: a/piece 1, a/piece 2." in finding.sentence


def test_what_is_bought_has_a_catch_of_its_own_that_was_not_looked_at(
    subject: Make, module: Make, item: Make
) -> None:
    fridge = item("a/fridge", (100.0, 400.0), (-100.0, 100.0), (0.0, 300.0), moves="lid")
    motion = Motion(
        name="lid", module="a", kind=MotionKind.HINGE, direction=(0.0, 1.0, 0.0), travel=90.0
    )
    (finding,) = check_latches(subject(module("a", fridge, motions=(motion,))))
    assert finding.severity is Severity.UNCHECKED


def test_what_lifts_out_as_a_whole_or_lies_in_a_void_needs_none(
    subject: Make, module: Make, panel: Make
) -> None:
    base = panel("a/base", (100.0, 400.0), (-100.0, 100.0), 200.0)
    lift = Motion(
        name="lift out", module="a", kind=MotionKind.REMOVE, direction=(0.0, 0.0, 1.0), travel=90.0
    )
    assert list(check_latches(subject(module("a", base, motions=(lift,))))) == []
    lid = dataclasses.replace(base, moves="drawer")
    outside = module("a", lid, motions=(DRAWN,), in_bay=False)
    assert list(check_latches(subject(outside))) == []


def test_the_bolt_holds_half_the_weight_of_drawer_and_contents(fronted: Make) -> None:
    """300 x 190 x 10 mm at 700 kg/m3 is 0.399 kg less holes; 61.2 kg hold 300 N at 0.5 g."""
    light = fronted(slides=(slides("full extension 400", 60.0),))["latch holds"]
    assert light.severity is Severity.PASS
    assert light.limit == pytest.approx(0.5 * 9.81 * 60.4, rel=1e-3)
    heavy = fronted(slides=(slides("full extension 400", 61.0),))["latch holds"]
    assert heavy.severity is Severity.FAIL
    unknown = dataclasses.replace(LATCH, type=dataclasses.replace(LATCH.type, rating_n=None))
    found = fronted(slides=(slides("full extension 400"),), latch=unknown)["latch holds"]
    assert found.severity is Severity.UNCHECKED
    assert "latch holds" not in fronted(slides=(slides("heavy locking 400"),))


@pytest.mark.parametrize(("gap", "severity"), [(1.4, Severity.FAIL), (1.6, Severity.PASS)])
def test_the_case_is_followed_on_its_way(
    fronted: Make, module: Make, panel: Make, gap: float, severity: Severity
) -> None:
    """A board behind the tailgate's line, under the way the case of 38 takes from 161.5 up."""
    board = panel("b/board", (300.0, 330.0), (-20.0, 20.0), 161.5 - gap - 10.0)
    finding = fronted(module("b", board))["latch room"]
    assert finding.severity is severity
    if severity is Severity.FAIL:
        assert finding.value == pytest.approx(gap)
        assert "The case of a/drawer's finger catch comes within 1.4 mm of b/board" in (
            finding.sentence
        )


@pytest.mark.parametrize(("top", "gap"), [(202.5, 1.0), (204.5, -1.0), (201.0, None)])
def test_what_runs_out_passes_under_the_lip(
    fronted: Make, panel: Make, top: float, gap: float | None
) -> None:
    """A tray behind the front; the lip's lower edge is at 203.5."""
    tray = panel("a/tray", (560.0, 800.0), (-100.0, 100.0), top - 10.0, moves="drawer")
    finding = fronted(tray=tray)["latch room"]
    assert finding.severity is (Severity.PASS if gap is None else Severity.FAIL)
    if gap is not None:
        assert finding.value == pytest.approx(gap)
        verb = "comes within 1.0 mm of" if gap > 0.0 else "runs 1.0 mm into"
        assert f"The lip of a/drawer's finger catch {verb} a/tray" in finding.sentence


# Its bolt lies 2 mm farther from the front than the catch's.
TURNED = dataclasses.replace(
    LATCH, type=ROWS.latches["turn latch"], passes=("a/front",), strikes=(517.5, 0.0, 210.0)
)


@pytest.mark.parametrize("gap", [1.0, 2.0])
def test_a_button_that_stands_out_keeps_from_the_shut_tailgate(fronted: Make, gap: float) -> None:
    """It stands 6 in front of the face at 500."""
    section = SectionSpec(at=Measured(0.0), widths={0.0: Measured(1200.0)}, roof=Measured(900.0))
    glass = TailgateSpec(inner_face={0.0: Measured(494.0 - gap), 900.0: Measured(494.0 - gap)})
    spec = BaySpec(sections=(section,), front_wall=Measured(1000.0), tailgate=glass)
    finding = fronted(latch=TURNED, bay=build_bay(spec))["latch room"]
    if gap >= 1.5:
        assert finding.severity is Severity.PASS
        return
    assert finding.severity is Severity.FAIL
    assert finding.value == pytest.approx(gap)
    assert "The button of a/drawer's turn latch comes within 1.0 mm of bay/tailgate" in (
        finding.sentence
    )


def test_a_button_that_no_hand_gets_at_fails(fronted: Make, module: Make, panel: Make) -> None:
    """It is at 177.5 up and wants 40 in front of 500: a board reaches 5 into that."""
    sill = panel("b/sill", (420.0, 465.0), (-10.0, 10.0), 140.0)
    found = fronted(module("b", sill), latch=TURNED)
    assert "latch hand room" not in found, "10 mm below"
    high = panel("b/sill", (420.0, 465.0), (-10.0, 10.0), 170.0)
    finding = fronted(module("b", high), latch=TURNED)["latch hand room"]
    assert finding.severity is Severity.FAIL
    assert finding.value == pytest.approx(-5.0)
    assert "b/sill stands 5.0 mm into the room they need" in finding.sentence


@pytest.mark.parametrize(
    ("modules", "words"),
    [
        ("fridge: {kind: fridge slide, item: fridge, slides: full extension}", "Take slides that"),
        ("drawers: {kind: drawers, slides: full extension, latch: none}", "Leave out `latch"),
        (
            "drawers: {kind: drawers, slides: full extension, width: 200, pull: finger hole}",
            "There is no room for its latch: make the front wider",
        ),
    ],
)
def test_what_a_builder_can_do_is_told(
    evaluated: Make, only: Make, modules: str, words: str
) -> None:
    failed = only(evaluated(modules), "latch", Severity.FAIL)
    assert failed
    assert all(words in finding.sentence for finding in failed)


def test_every_moving_part_of_a_design_is_held(evaluated: Make, only: Make) -> None:
    found = evaluated("drawers: {kind: drawers}", "fridge: {kind: fridge slide, item: fridge}")
    held = {f.where for f in only(found, "latch", Severity.PASS)}
    moved = {
        m.id
        for module in found.fitout.modules
        for m in module.motions
        if any(p.moves == m.name for p in module.parts())
    }
    assert moved <= held


def test_an_unknown_latch_is_told_with_the_nearest_name(design_text: Make, tmp_path: Any) -> None:
    from fitout import workflow
    from fitout.model.fault import DesignError

    path = tmp_path / "design.yaml"
    path.write_text(design_text("drawers: {kind: drawers, latch: turm latch}"), encoding="utf-8")
    with pytest.raises(DesignError) as caught:
        workflow.load(path)
    (fault,) = caught.value.faults
    assert fault.path == ("modules", "drawers", "latch")
    assert fault.line is not None
    assert "turn latch" in fault.hint


def test_a_row_of_a_latch_without_a_striker_is_told(evaluated: Make) -> None:
    from fitout.model.fault import DesignError

    more = "catalogue: {latches: {mine: {like: finger catch, striker: lip strikr}}}"
    with pytest.raises(DesignError) as caught:
        evaluated("drawers: {kind: drawers, latch: mine}", more=more)
    (fault,) = caught.value.faults
    assert fault.path == ("catalogue", "latches", "mine", "striker")
    assert "lip striker" in fault.hint
