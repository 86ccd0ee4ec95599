"""Bearers under a deck's piece: which way they run, how high they are, what is in their way."""

import dataclasses
import itertools

import pytest

from fitout.model.item import Zone, block
from fitout.model.module import Access, Berth, Module, Motion, MotionKind
from fitout.model.placement import Placement, across, along, flat
from fitout.modules.deck_bearers import (
    HEIGHTS,
    Bearers,
    Cleat,
    Lack,
    bearers_under,
    held_sides,
    make_bearers,
)
from fitout.modules.joinery import Draft
from fitout.modules.knee import bears_knee, edge_bears_knee

T = 12.0
ROOM = Berth(x0=300.0, x1=800.0, y0=-400.0, y1=400.0, z0=488.0, z1=500.0)
LOW = Berth(x0=300.0, x1=800.0, y0=-300.0, y1=300.0, z0=0.0, z1=200.0)


def cleat(side, height):
    """A cleat along the whole of a side of the piece's room; those across stand between."""
    x0, x1 = {"rear": (298.0, 310.0), "front": (790.0, 802.0)}.get(side, (300.0, 800.0))
    y0, y1 = {"right": (-402.0, -390.0), "left": (390.0, 402.0)}.get(side, (-386.0, 386.0))
    box = Berth(x0=x0, x1=x1, y0=y0, y1=y1, z0=488.0 - height, z1=488.0)
    return Cleat(side=side, box=box, panel=f"{side}/side")


@pytest.fixture
def draft_over(bays, setting_of):
    """A draft in the van, another module in the given berth below the piece."""

    def make(below=None, boards=None, **entries):
        setting = setting_of(bays["van"], T)
        berths = {} if below is None else {"low": below}
        built = {n: Module(name=n, kind="box", berth=b, **entries) for n, b in berths.items()}
        changed = {
            role: dataclasses.replace(setting.boards[role], **values)
            for role, values in (boards or {}).items()
        }
        setting = dataclasses.replace(
            setting, berths=berths, built=built, boards={**setting.boards, **changed}
        )
        return Draft("deck", "deck", setting)

    return make


def under(draft, *sides):
    cleats = {h: [cleat(side, h) for side in sides] for h in HEIGHTS}
    return bearers_under(draft, ROOM, cleats, frozenset(sides))


def test_they_run_between_the_two_sides_that_have_cleats(draft_over):
    """As low as bears the knee over 780 between the cleats; one lies along each bare edge."""
    draft = draft_over()
    found = under(draft, "right", "left")
    assert isinstance(found, Bearers)
    assert found.way == "y"
    board = draft.board("carcass")
    lower = max(h for h in HEIGHTS if h < found.height)
    assert edge_bears_knee(board, found.height, 780.0)
    assert not edge_bears_knee(board, lower, 780.0)
    assert (found.boxes[0].x0, found.boxes[-1].x1) == (300.0, 800.0)
    assert {(b.y0, b.y1) for b in found.boxes} == {(-390.0, 390.0)}
    assert {b.z1 for b in found.boxes} == {488.0}


def test_every_field_between_them_bears_a_knee(draft_over):
    draft = draft_over()
    found = under(draft, "rear", "front")
    assert isinstance(found, Bearers)
    assert found.way == "x"
    gaps = [b.y0 - a.y1 for a, b in itertools.pairwise(found.boxes)]
    assert max(gaps) == pytest.approx(found.field[1])
    assert found.field[0] == pytest.approx(790.0 - 310.0)
    assert bears_knee(draft.board("deck"), found.field, "all")


def test_held_all_round_they_take_least_board_and_no_edge_needs_one(draft_over):
    draft = draft_over(boards={"deck": {"thickness": 6.5}})
    found = under(draft, "rear", "front", "right", "left")
    assert isinstance(found, Bearers)
    assert found.way == "x"
    assert found.boxes[0].y0 > -380.0
    assert found.boxes[-1].y1 < 380.0


def test_what_stands_too_high_below_is_told(draft_over):
    """To 430 it leaves 58 below the piece, of the 82 or 102 that bearers and 2 mm want."""
    found = under(draft_over(dataclasses.replace(LOW, z1=430.0)), "right", "left")
    assert isinstance(found, Lack)
    assert found.free == pytest.approx(58.0)
    assert found.wanted in (82.0, 102.0)
    enough = dataclasses.replace(LOW, z1=488.0 - found.wanted)
    assert isinstance(under(draft_over(enough), "right", "left"), Bearers)


def test_a_bearer_passes_beside_what_ends_just_inside_an_edge(draft_over):
    """What reaches to 350: the rear bearer stands 60 inside its edge at 300."""
    low = dataclasses.replace(LOW, x0=0.0, x1=350.0, z1=480.0)
    found = under(draft_over(low), "right", "left")
    assert isinstance(found, Bearers)
    assert found.boxes[0].x0 == 360.0
    far = dataclasses.replace(low, x1=450.0)
    assert isinstance(under(draft_over(far), "right", "left"), Lack)


def test_the_way_of_what_slides_out_below_is_kept_free(draft_over):
    low = dataclasses.replace(LOW, x0=900.0, x1=1200.0, z1=480.0)
    assert isinstance(under(draft_over(low), "right", "left"), Bearers)
    slide = Motion(
        name="out", module="low", kind=MotionKind.SLIDE, direction=(-1.0, 0.0, 0.0), travel=600.0
    )
    assert isinstance(under(draft_over(low, motions=(slide,)), "right", "left"), Lack)


def test_a_lid_below_needs_the_room_above_it(draft_over):
    assert isinstance(under(draft_over(LOW), "right", "left"), Bearers)
    swing = Motion(
        name="lid", module="low", kind=MotionKind.HINGE, direction=(0.0, 1.0, 0.0), travel=90.0
    )
    assert isinstance(under(draft_over(LOW, motions=(swing,)), "right", "left"), Lack)


def test_room_for_a_hand_stays_free(draft_over):
    zone = Zone(name="hand", piece=block(600.0, 100.0, 100.0))
    inside = Access(zone=zone, placement=Placement((250.0, 0.0, 380.0)))
    above = Access(zone=zone, placement=Placement((250.0, 0.0, 495.0)))
    assert isinstance(under(draft_over(LOW, accesses=(inside,)), "right", "left"), Lack)
    assert isinstance(under(draft_over(LOW, accesses=(above,)), "right", "left"), Bearers)


def test_without_cleats_as_high_there_are_none(draft_over):
    low = {h: [cleat("right", h), cleat("left", h)] for h in HEIGHTS if h < 60.0}
    assert bearers_under(draft_over(), ROOM, low, frozenset({"right", "left"})) is None
    assert under(draft_over(), "right", "rear") is None


def test_of_unknown_stiffness_they_are_80_high(draft_over):
    found = under(draft_over(boards={"carcass": {"e_along_mpa": None}}), "right", "left")
    assert isinstance(found, Bearers)
    assert found.height == 80.0


@pytest.mark.parametrize("sides", [("right", "left"), ("rear", "front")])
def test_as_built_they_end_at_their_cleats_and_carry_the_piece(draft_over, faults_of, sides):
    draft = draft_over()
    found = under(draft, *sides)
    assert isinstance(found, Bearers)
    piece = draft.panel("piece 3", draft.board("deck"), (500.0, 800.0), flat(300.0, -400.0, 488.0))
    for end in found.cleats:
        b, name = end.box, f"cleat {end.side}"
        turned = sides[0] == "rear"
        place = across(b.x0, b.y0, b.z0) if turned else along(b.x0, b.y1, b.z0)
        size = (b.size[1 if turned else 0], found.height)
        draft.panel(name, draft.board("carcass"), size, place)
        draft.rest(piece.name, name)
    make_bearers(draft, piece, found, (f"cleat {sides[0]}", f"cleat {sides[1]}"))
    module = draft.finish(None)
    assert [p.name for p in module.panels if "bearer" in p.name] == [
        f"bearer 3 {i}" for i in range(1, len(found.boxes) + 1)
    ]
    assert faults_of(module, draft.setting) == []


def test_a_side_with_a_long_stretch_bare_does_not_hold():
    right, rear = cleat("right", 20.0), cleat("rear", 20.0)
    assert held_sides([right, rear], ROOM, 100.0) == {"right", "rear"}
    part = dataclasses.replace(rear, box=dataclasses.replace(rear.box, y0=-250.0))
    assert held_sides([right, part], ROOM, 100.0) == {"right"}
    rest = dataclasses.replace(rear, box=dataclasses.replace(rear.box, y1=-260.0))
    assert held_sides([part, rest], ROOM, 100.0) == {"rear"}
