"""What stands open before a motion starts, and what of the vehicle is in its way."""

import dataclasses
from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.courses import course_of, held_states, opened_before, swing_course
from fitout.checks.motions import check_motions, played
from fitout.model.bay import Bay
from fitout.model.design import BaySpec, SeatBackSpec, SectionSpec
from fitout.model.finding import Severity
from fitout.model.item import block
from fitout.model.module import Motion, MotionKind
from fitout.model.spec import Measured, Size
from fitout.model.tailgate import DoorLoadSpec, HeadRestraintSpec, LedgeSpec, TailgateSpec
from fitout.survey.bay import build_bay

Make = Callable[..., Any]

OUT = Motion(
    name="out", module="a", kind=MotionKind.SLIDE, direction=(-1.0, 0.0, 0.0), travel=500.0
)


def lid(**rest: Any) -> Motion:
    """The upper 20 of a box from 300 to 500 forward, 0 to 200 left, 200 up; hinged at its front."""
    entries = {
        "of": "a/fridge",
        "pieces": (block(200.0, 200.0, 20.0, (0.0, 0.0, 80.0)),),
        "needs": ("a/out",),
        "point": (500.0, 0.0, 180.0),
        **rest,
    }
    return Motion(
        name="lid",
        module="a",
        kind=MotionKind.HINGE,
        direction=(0.0, 1.0, 0.0),
        travel=90.0,
        **entries,
    )


@pytest.fixture
def fridge(item: Make) -> Any:
    return item("a/fridge", (300.0, 500.0), (0.0, 200.0), (100.0, 200.0), moves="out")


def gated(seat: bool = False, **rest: Any) -> Bay:
    """1200 wide, 900 high, the tailgate upright, behind it what is given."""
    section = SectionSpec(at=Measured(0.0), widths={0.0: Measured(1200.0)}, roof=Measured(900.0))
    front: dict[str, Any] = {"front_wall": Measured(1000.0)}
    if seat:
        front = {
            "seat_back": SeatBackSpec(
                foot=Measured(1000.0),
                leans=Measured(15.0),
                notches=(10.0, 15.0, 25.0),
                top=Measured(500.0),
                folds=True,
                head_restraints=HeadRestraintSpec(raised=120.0),
            )
        }
    tailgate = TailgateSpec(inner_face={0.0: Measured(0.0)}, **rest)
    ledge = LedgeSpec(depth=100.0, top=-40.0)
    return build_bay(BaySpec(sections=(section,), tailgate=tailgate, ledge=ledge, **front))


def test_a_lid_opens_once_it_is_drawn_out_from_under_a_shelf(
    subject: Make, module: Make, panel: Make, fridge: Any
) -> None:
    """Drawn out by 500 it stands from 200 to 0 behind the sill, the shelf over where it was."""
    shelf = panel("b/shelf", (250.0, 600.0), (0.0, 200.0), 250.0)
    looked_at = subject(module("a", fridge, motions=(OUT, lid())), module("b", shelf))
    found = {f.where: f for f in check_motions(looked_at)}
    assert found["a/lid"].severity is Severity.PASS
    assert "with the tailgate open and a/out open" in found["a/lid"].sentence
    unasked = subject(module("a", fridge, motions=(OUT, lid(needs=()))), module("b", shelf))
    stuck = {f.where: f for f in check_motions(unasked)}["a/lid"]
    assert stuck.severity is Severity.FAIL
    # Its upper corner, 20 over the axis, rises from 200 to the shelf at 250.
    assert stuck.value is not None
    assert 10.0 < stuck.value < 20.0


def test_a_lid_hinged_across_turns_where_the_slide_has_drawn_it_to(
    subject: Make, module: Make, panel: Make, fridge: Any
) -> None:
    """Drawn out its axis is at 0, at 180 up: its rear edge, 200 off, would reach 380 there."""
    over = panel("b/shelf", (-60.0, 60.0), (0.0, 200.0), 350.0)
    looked_at = subject(module("a", fridge, motions=(OUT, lid())), module("b", over))
    found = {f.where: f for f in check_motions(looked_at)}["a/lid"]
    assert found.severity is Severity.FAIL
    assert found.value is not None
    # The rear upper corner, 20 over the axis and 200 off, is at 350 before 90 degrees.
    assert 45.0 < found.value < 75.0
    course = course_of(looked_at, lid())
    assert course is not None
    assert course.motion.point == (0.0, 0.0, 180.0)


def test_what_needs_what_is_opened_in_order(subject: Make, module: Make, fridge: Any) -> None:
    first = Motion(
        name="bar", module="b", kind=MotionKind.REMOVE, direction=(0.0, 0.0, 1.0), travel=50.0
    )
    motions = {"b/bar": first, "a/out": OUT, "a/lid": lid(needs=("a/out",))}
    slide = dataclasses.replace(OUT, needs=("b/bar",))
    motions["a/out"] = slide
    assert opened_before(motions, motions["a/lid"]) == [first, slide]


def test_what_is_taken_out_before_is_no_obstacle(
    subject: Make, module: Make, panel: Make, fridge: Any
) -> None:
    bar = panel("b/bar", (100.0, 120.0), (0.0, 200.0), 120.0, moves="bar")
    lift = Motion(
        name="bar", module="b", kind=MotionKind.REMOVE, direction=(0.0, 0.0, 1.0), travel=50.0
    )
    held = subject(module("a", fridge, motions=(OUT,)), module("b", bar, motions=(lift,)))
    assert {f.where: f.severity for f in check_motions(held)}["a/out"] is Severity.FAIL
    needs = dataclasses.replace(OUT, needs=("b/bar",))
    free = subject(module("a", fridge, motions=(needs,)), module("b", bar, motions=(lift,)))
    assert {f.where: f.severity for f in check_motions(free)}["a/out"] is Severity.PASS


def test_each_thing_behind_the_sill_has_its_own_finding(
    subject: Make, module: Make, fridge: Any
) -> None:
    """Drawn out 100 up, over a bumper 40 below the floor and under a leaf level at the roof."""
    looked_at = subject(module("a", fridge, motions=(OUT,)), bay=gated(thickness=50.0))
    found = {f.where: f for f in check_motions(looked_at)}
    assert found["a/out: bumper"].value == 100.0
    assert "keeps 100 mm or more from the bumper" in found["a/out: bumper"].sentence
    assert found["a/out: open tailgate"].severity is Severity.PASS
    assert "reaches 200 mm behind the sill" in found["a/out: open tailgate"].sentence


def test_a_door_on_the_left_with_its_load(subject: Make, module: Make, item: Make) -> None:
    """Opened square, its inner face is the plane of the left jamb, 600 left; a shelf on it, 150
    deep and 300 to 500 right of the hinge, stands in from it to 450 left."""
    load = DoorLoadSpec(name="table", size=Size(150.0, 200.0, 300.0), face="inner",
                        middle=200.0, above=100.0)  # fmt: skip
    bay = gated(opens="sideways", hinged="left", carries=(load,))
    far = dataclasses.replace(OUT, travel=750.0)
    box = item("a/fridge", (300.0, 500.0), (300.0, 440.0), (100.0, 200.0), moves="out")
    found = {f.where: f for f in check_motions(subject(module("a", box, motions=(far,)), bay=bay))}
    door = found["a/out: open tailgate"]
    assert door.severity is Severity.PASS
    assert door.value == pytest.approx(10.0, abs=1e-3)
    assert "bay/table on the tailgate" in door.sentence
    wide = item("a/fridge", (300.0, 500.0), (300.0, 460.0), (100.0, 200.0), moves="out")
    found = {f.where: f for f in check_motions(subject(module("a", wide, motions=(far,)), bay=bay))}
    assert found["a/out: open tailgate"].value == pytest.approx(-10.0, abs=1e-3)
    # From 300 ahead of the sill to the table, whose near side is 300 behind the hinge.
    assert found["a/out"].value == pytest.approx(600.0, abs=2e-3)
    assert "comes out by 600.0 of its 750 mm only" in found["a/out"].sentence


def test_a_door_with_a_shelf_inside_hits_what_stands_behind_it(
    subject: Make, module: Make, item: Make
) -> None:
    """A shelf on a leaf that opens upwards dips as it swings: what stands just under it is hit."""
    load = DoorLoadSpec(name="shelf", size=Size(200.0, 300.0, 20.0), face="inner", above=400.0)
    bay = gated(carries=(load,))
    clear = item("a/box", (20.0, 190.0), (-100.0, 100.0), (10.0, 200.0))
    low = {f.where: f for f in check_motions(subject(module("a", clear), bay=bay))}
    assert low["bay/tailgate"].severity is Severity.PASS
    under = item("a/box", (20.0, 190.0), (-100.0, 100.0), (200.0, 395.0))
    hit = {f.where: f for f in check_motions(subject(module("a", under), bay=bay))}
    assert hit["bay/tailgate"].severity is Severity.FAIL
    assert hit["bay/tailgate"].unit == "°"
    assert "bay/shelf on the tailgate meets a/box" in hit["bay/tailgate"].sentence
    within = item("a/box", (20.0, 190.0), (-100.0, 100.0), (200.0, 410.0))
    start = {f.where: f for f in check_motions(subject(module("a", within), bay=bay))}
    assert "blocked at its very start" in start["bay/tailgate"].sentence


def test_the_seat_folds_from_every_notch(subject: Make, module: Make, panel: Make) -> None:
    """A shelf over the back's upper edge: what folds up under it is told with its notch."""
    bay = gated(seat=True)
    assert [s.name for s in bay.swings if s.kind == "seat"] == [
        "seat back from 10°",
        "seat back from 15°",
        "seat back from 25°",
    ]
    shelf = panel("a/shelf", (700.0, 1000.0), (-300.0, 300.0), 560.0)
    looked_at = subject(module("a", shelf), bay=bay)
    found = {f.where: f for f in check_motions(looked_at)}
    assert found["bay/seat back from 10°"].severity is Severity.FAIL
    assert "a/shelf" in found["bay/seat back from 10°"].sentence
    courses = [swing_course(looked_at, s) for s in bay.swings if s.kind == "seat"]
    assert all(c.reaches < c.motion.travel for c in courses)
    high = panel("a/shelf", (700.0, 1000.0), (-300.0, 300.0), 760.0)
    free = {f.where: f for f in check_motions(subject(module("a", high), bay=bay))}
    assert all(free[f"bay/{s.name}"].severity is Severity.PASS for s in bay.swings)


def test_a_seat_in_the_way_is_told_with_the_notch(subject: Make, module: Make, panel: Make) -> None:
    """A lid that opens forward, 20 ahead of it where the back leans most."""
    bay = gated(seat=True)
    hinge = Motion(
        name="lid", module="a", kind=MotionKind.HINGE, direction=(0.0, 1.0, 0.0), travel=100.0,
        point=(800.0, 0.0, 310.0),
    )  # fmt: skip
    flap = panel("a/lid", (600.0, 800.0), (-100.0, 100.0), 300.0, moves="lid")
    (finding, *_) = check_motions(subject(module("a", flap, motions=(hinge,)), bay=bay))
    assert finding.severity is Severity.FAIL
    assert "(seat at 25°, tailgate open)" in finding.sentence
    assert set(held_states(subject(module("a", flap), bay=bay), hinge)) == {
        "seat at 15°, tailgate open",
        "seat at 10°, tailgate open",
        "seat at 25°, tailgate open",
        "seat folded, tailgate open",
    }


def test_packed_and_empty(subject: Make, module: Make, panel: Make, fridge: Any) -> None:
    """Bags stand on a deck 250 up: a drawer runs out below them, a lid must be cleared."""
    hinge = Motion(
        name="lid", module="b", kind=MotionKind.HINGE, direction=(0.0, 1.0, 0.0), travel=80.0,
        point=(900.0, 0.0, 250.0),
    )  # fmt: skip
    flap = panel("b/lid", (700.0, 900.0), (-300.0, -100.0), 240.0, moves="lid")
    bare = subject(module("a", fridge, motions=(OUT,)), module("b", flap, motions=(hinge,)))
    assert not any(f.code == "motion, packed" for f in check_motions(bare))
    decked = dataclasses.replace(bare, setting=dataclasses.replace(bare.setting, deck=250.0))
    found = {f.where: f.sentence for f in check_motions(decked)}
    assert found["a/out: packed"] == "a/out comes out with the deck packed as well."
    assert found["b/lid: packed"].startswith("b/lid needs the deck cleared over it")


def test_a_whole_module_taken_out_is_told_but_not_swept(
    subject: Make, module: Make, panel: Make
) -> None:
    lift = Motion(
        name="lift out", module="a", kind=MotionKind.REMOVE, direction=(-1.0, 0.0, 0.0), travel=9.0
    )
    looked_at = subject(module("a", panel("a/x", (1.0, 9.0), (0.0, 9.0)), motions=(lift,)))
    assert course_of(looked_at, lift) is None
    ((motion, course, parts),) = played(looked_at)
    assert (motion, course, [p.id for p in parts]) == (lift, None, ["a/x"])
