"""Air, lids, hands and voids: the room they need is free, or who stands in it is told."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.zones import check_voids, check_zones
from fitout.model.design import BaySpec, SeatBackSpec, SectionSpec
from fitout.model.finding import Severity
from fitout.model.item import Zone, block
from fitout.model.module import Access, Joint, JointKind, Motion, MotionKind, VoidFit
from fitout.model.placement import flat
from fitout.model.spec import Measured
from fitout.survey.bay import build_bay

Make = Callable[..., Any]

AIR = Zone(name="air", piece=block(200.0, 50.0, 100.0, (0.0, 200.0, 0.0)))
LID = Zone(name="lid open", piece=block(200.0, 200.0, 150.0, (0.0, 0.0, 100.0)), when="out")


@pytest.fixture
def fridge(item: Make) -> Callable[..., Any]:
    """At 300 to 500 forward, 0 to 200 left, 100 to 200 up."""

    def make(*zones: Zone, moves: str | None = None) -> Any:
        return item(
            "a/fridge",
            (300.0, 500.0),
            (0.0, 200.0),
            (100.0, 200.0),
            zones=zones,
            moves=moves,
        )

    return make


def test_free_air(subject: Make, module: Make, fridge: Make) -> None:
    (finding,) = check_zones(subject(module("a", fridge(AIR))))
    assert finding.severity is Severity.PASS
    assert finding.where == "a/fridge: air"
    assert finding.sentence == "a/fridge: the room for air is free."


@pytest.mark.parametrize(("start", "depth"), [(230.0, 20.0), (249.0, 1.0)])
def test_a_board_in_the_air_is_told_by_how_far_it_reaches_in(
    subject: Make, module: Make, panel: Make, fridge: Make, start: float, depth: float
) -> None:
    """The air is 200 to 250 left and 100 high; the board lies 60 up in it, 10 thick."""
    board = panel("b/board", (200.0, 600.0), (start, 500.0), 160.0)
    (finding,) = check_zones(subject(module("a", fridge(AIR)), module("b", board)))
    expected = min(depth, 50.0)
    assert finding.severity is Severity.FAIL
    assert finding.value == pytest.approx(-expected)
    assert finding.margin == pytest.approx(-expected)
    assert finding.sentence.startswith(
        f"a/fridge: b/board stands {depth:.1f} mm in the room for air"
    )


def test_touching_the_room_is_allowed(
    subject: Make, module: Make, panel: Make, fridge: Make
) -> None:
    board = panel("b/board", (200.0, 600.0), (250.0, 500.0), 160.0)
    (finding,) = check_zones(subject(module("a", fridge(AIR)), module("b", board)))
    assert finding.severity is Severity.PASS


def test_what_the_item_is_joined_to_may_be_in_its_room(
    subject: Make, module: Make, panel: Make, fridge: Make
) -> None:
    strap = panel("a/strap", (300.0, 500.0), (200.0, 210.0), 150.0)
    joint = Joint("a/fridge", "a/strap", JointKind.RESTS)
    (alone,) = check_zones(subject(module("a", fridge(AIR), strap)))
    (joined,) = check_zones(subject(module("a", fridge(AIR), strap, joints=(joint,))))
    assert (alone.severity, joined.severity) == (Severity.FAIL, Severity.PASS)


def drawn(travel: float) -> Motion:
    return Motion(
        name="out", module="a", kind=MotionKind.SLIDE, direction=(-1.0, 0.0, 0.0), travel=travel
    )


@pytest.mark.parametrize(("travel", "severity"), [(500.0, Severity.PASS), (390.0, Severity.FAIL)])
def test_a_lid_opens_where_the_fridge_is_drawn_out_to(
    subject: Make,
    module: Make,
    panel: Make,
    fridge: Make,
    travel: float,
    severity: Severity,
) -> None:
    """Drawn out by 500 it stands behind the sill; by 390 a shelf 90 to 400 is 20 over it."""
    shelf = panel("b/shelf", (90.0, 400.0), (0.0, 200.0), 300.0)
    whole = module("a", fridge(LID, moves="out"), motions=(drawn(travel),))
    (finding,) = check_zones(subject(whole, module("b", shelf)))
    assert finding.severity is severity
    if severity is Severity.FAIL:
        # From -90 to 110: the shelf reaches in by 20 fore and aft, by its 10 upwards.
        assert finding.value == pytest.approx(-20.0)
        assert "(tailgate open)" in finding.sentence


def test_what_is_drawn_out_with_it_may_stand_there(
    subject: Make, module: Make, panel: Make, fridge: Make
) -> None:
    tray = panel("a/tray", (300.0, 500.0), (0.0, 200.0), 250.0, moves="out")
    whole = module("a", fridge(LID, moves="out"), tray, motions=(drawn(500.0),))
    assert next(check_zones(subject(whole))).severity is Severity.PASS


def test_a_hand_needs_its_room_in_one_state_of_the_vehicle(subject: Make, module: Make) -> None:
    """From 30 behind the sill: only with the tailgate open."""
    hand = Zone(name="hand", piece=block(80.0, 80.0, 80.0))
    reach = Access(zone=hand, placement=flat(-30.0, 0.0, 100.0))
    (finding,) = check_zones(subject(module("a", accesses=(reach,))))
    assert finding.severity is Severity.PASS
    assert finding.sentence == "a: the room for hand is free (tailgate open)."


def test_air_is_needed_in_every_state(subject: Make, module: Make, item: Make) -> None:
    """The same room, asked for by a vent, is taken by the shut tailgate: 30 deep."""
    vent = Zone(name="air", piece=block(40.0, 80.0, 80.0, (-40.0, 0.0, 0.0)))
    box = item("a/box", (10.0, 300.0), (0.0, 80.0), (100.0, 180.0), zones=(vent,))
    (finding,) = check_zones(subject(module("a", box)))
    assert finding.severity is Severity.FAIL
    assert finding.value == pytest.approx(-30.0)
    assert "bay/tailgate stands 30.0 mm" in finding.sentence
    assert "(tailgate shut)" in finding.sentence


def test_a_hand_reaches_in_when_the_seat_stands_upright(subject: Make, module: Make) -> None:
    """Of two notches one leaves the room free."""
    section = SectionSpec(at=Measured(0.0), widths={0.0: Measured(1200.0)}, roof=Measured(900.0))
    seat = SeatBackSpec(
        foot=Measured(1000.0), leans=Measured(30.0), notches=(0.0,), top=Measured(600.0)
    )
    bay = build_bay(BaySpec(sections=(section,), seat_back=seat))
    hand = Zone(name="hand", piece=block(80.0, 80.0, 80.0))
    at_top = Access(zone=hand, placement=flat(900.0, 0.0, 300.0))
    beyond = Access(zone=hand, placement=flat(960.0, 0.0, 300.0))
    free, taken = check_zones(subject(module("a", accesses=(at_top, beyond)), bay=bay))
    assert free.severity is Severity.PASS
    assert "seat at 0°" in free.sentence
    assert taken.severity is Severity.FAIL
    assert taken.value == pytest.approx(-40.0)


def test_what_has_no_place_in_the_bay_has_no_rooms_there(
    subject: Make, module: Make, fridge: Make
) -> None:
    assert list(check_zones(subject(module("a", fridge(AIR), in_bay=False)))) == []


def test_voids(subject: Make, module: Make) -> None:
    """Three findings, one a direction; what is needed beyond the void fails by as much."""
    void = VoidFit(
        name="tray in its void", needed=(300.0, 405.5, 80.0), available=(310.0, 400.0, 80.0)
    )
    found = list(check_voids(subject(module("tray", voids=(void,), in_bay=False))))
    assert [f.severity for f in found] == [Severity.PASS, Severity.FAIL, Severity.PASS]
    assert [f.margin for f in found] == [10.0, -5.5, 0.0]
    assert found[1].where == "tray in its void: across"
    assert "takes 405.5 mm across of the 400.0 mm" in found[1].sentence


def test_a_design_fails_when_the_fridges_air_is_taken(evaluated: Make, only: Make) -> None:
    """A kept-clear place beside the vent takes the air the fridge asks for."""
    slide = "slide: {kind: fridge slide, item: fridge}"
    good = evaluated(slide)
    assert {f.severity for f in only(good, "kept free")} == {Severity.PASS}
    zone = "{name: filler, side: left, from: 0, to: 900, reach: 420, above: 200, up_to: 320}"
    found = only(evaluated(slide, bay=f"keep_clear: [{zone}]"), "kept free", Severity.FAIL)
    assert [f.where for f in found] == ["slide/fridge: air at the left vent"]
    assert "bay/filler" in found[0].sentence


@pytest.mark.parametrize(("ahead", "free"), [(60.0, 60.0), (180.0, 150.0)])
def test_air_that_is_told_in_mm(
    subject: Make, module: Make, panel: Make, fridge: Make, ahead: float, free: float
) -> None:
    """50 are asked for; looked at three times as deep."""
    air = Zone(
        name="air at the left vent",
        piece=block(200.0, 50.0, 100.0, (0.0, 200.0, 0.0)),
        towards=(0.0, 1.0, 0.0),
    )
    wall = panel("a/wall", (300.0, 500.0), (200.0 + ahead, 500.0), 150.0)
    (finding,) = check_zones(subject(module("a", fridge(air), wall)))
    assert finding.severity is Severity.PASS
    assert finding.value == pytest.approx(free)
    assert finding.limit == pytest.approx(50.0)


def test_a_hand_needs_room_in_one_state_only(
    subject: Make, module: Make, fridge: Make, plain_bay: Any
) -> None:
    """Behind the fridge, within the shut tailgate: free once it is open."""
    deep = (-350.0, 0.0, 0.0)
    for hand, severity in ((True, Severity.PASS), (False, Severity.FAIL)):
        zone = Zone(name="a hand at the plug", piece=block(340.0, 90.0, 90.0, deep), hand=hand)
        (finding,) = check_zones(subject(module("a", fridge(zone))))
        assert finding.severity is severity
