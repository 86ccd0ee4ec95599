"""A piece of the deck: its cleats' and its own screw holes, its bearers, its finger hole."""

import dataclasses

import pytest

from fitout.model.module import Berth, MotionKind
from fitout.model.placement import across_face_rear, along, along_face_left, flat
from fitout.modules.deck_piece import CLEAT_HEIGHT, Hollow, add_piece
from fitout.modules.joinery import Draft
from fitout.modules.neighbours import box_of

DECK = 400.0
T = 12.0


@pytest.fixture
def between(bays, setting_of):
    """A deck's draft in the van, boards of 12, and walls that stand around a hollow."""

    def make(low=None, **walls):
        setting = dataclasses.replace(setting_of(bays["van"], T), deck=DECK)
        beside = Draft("beside", "box", setting)
        board = beside.board("carcass")
        for side, (start, end, at) in walls.items():
            placement = {
                "left": along(start, at + T, 0.0),
                "right": along_face_left(end, at - T, 0.0),
                "rear": across_face_rear(at, end, 0.0),
                "front": across_face_rear(at + T, end, 0.0),
            }[side]
            beside.panel(f"{side} wall", board, (end - start, DECK), placement)
        berths = {"beside": Berth(x0=0.0, x1=10.0, y0=0.0, y1=10.0, z0=0.0, z1=DECK)}
        if low is not None:
            berths["beside"] = low
        built = {"beside": beside.finish(berths["beside"])}
        setting = dataclasses.replace(setting, berths=berths, built=built)
        return Draft("deck", "deck", setting)

    return make


def boxes(draft, word):
    return {n: box_of(p) for n, p in draft.panels.items() if n.startswith(word)}


def test_a_cleat_is_drilled_for_its_screws(between):
    """300 long less 30 at both ends: three holes 120 apart at mid-height, three screws."""
    draft = between(left=(100.0, 400.0, 200.0), right=(100.0, 400.0, -50.0))
    assert add_piece(draft, Hollow(100.0, 400.0, -50.0, 200.0), 1) == []
    for cleat in ("cleat 1 left", "cleat 1 right"):
        holes = draft.panels[cleat].holes
        length = draft.panels[cleat].outline.size[0]
        assert [h.x for h in holes] == pytest.approx([30.0, length / 2.0, length - 30.0])
        assert {(h.y, h.diameter, h.depth) for h in holes} == {(CLEAT_HEIGHT / 2.0, 4.0, None)}
    bought = {h.purpose: h.quantity for h in draft.finish(None).hardware}
    assert bought == {"cleats": 6}


def test_a_cleats_screws_miss_those_of_a_top_in_the_same_board(between):
    """The cleat's holes at 132, 250 and 368 forward; a top's screws stand in the left wall."""
    plain = between(left=(100.0, 400.0, 200.0), right=(100.0, 400.0, -50.0))
    top = Draft("over", "box", plain.setting)
    top.panel("top", top.board("carcass"), (300.0, T), flat(100.0, 200.0, DECK))
    places = (134.0, 252.0, 300.0)
    top.drill_at("top", [(x, 206.0, DECK) for x in places], 4.5, "screw")
    berth = Berth(x0=100.0, x1=400.0, y0=200.0, y1=200.0 + T, z0=DECK, z1=DECK + T)
    built = {**plain.setting.built, "over": top.finish(berth)}
    draft = Draft("deck", "deck", dataclasses.replace(plain.setting, built=built))
    assert add_piece(draft, Hollow(100.0, 400.0, -50.0, 200.0), 1) == []
    holes = {
        side: sorted(panel.placement.at(h.x, h.y)[0] for h in panel.holes)
        for side in ("left", "right")
        for panel in [draft.panels[f"cleat 1 {side}"]]
    }
    assert holes["right"] == pytest.approx([132.0, 250.0, 368.0])
    assert holes["left"] == pytest.approx([126.0, 244.0, 368.0])


def test_a_hung_piece_is_drilled_over_its_cleat(between):
    """The cleat's 12 begin 2 beyond the piece's edge: screws 5 inside that."""
    draft = between(right=(100.0, 400.0, 150.0))
    assert add_piece(draft, Hollow(100.0, 400.0, 150.0, 230.0), 3) == []
    holes = draft.panels["piece 3"].holes
    assert len(holes) == 4
    assert {round(h.y, 6) for h in holes} == {5.0}
    bought = {h.purpose: h.quantity for h in draft.finish(None).hardware}
    assert bought["deck piece to cleat"] == 4


def test_a_piece_held_at_one_side_alone_and_too_wide_stays_open(between):
    draft = between(right=(100.0, 400.0, 150.0))
    (told,) = add_piece(draft, Hollow(100.0, 400.0, 150.0, 300.0), 3)
    assert told.code == "open deck"
    assert "102 to 398 forward" in told.sentence
    assert not draft.panels
    assert not draft.finish(None).hardware


def test_a_large_piece_gets_bearers_between_its_cleats(between, faults_of):
    draft = between(left=(100.0, 700.0, 450.0), right=(100.0, 700.0, -450.0))
    assert add_piece(draft, Hollow(100.0, 700.0, -450.0, 450.0), 2) == []
    bearers = boxes(draft, "bearer")
    assert len(bearers) >= 2
    heights = {b.size[2] for b in bearers.values()}
    cleats = boxes(draft, "cleat")
    assert {b.size[2] for b in cleats.values()} == heights
    assert {(b.y0, b.y1) for b in bearers.values()} == {(-438.0, 438.0)}
    (duty,) = draft.plates
    assert duty.edges == "all"
    assert duty.spans[1] == pytest.approx(876.0)
    # No screw of a cleat is where a bearer ends.
    for name in cleats:
        panel = draft.panels[name]
        mounting = [h for h in panel.holes if h.y == panel.outline.size[1] / 2.0]
        assert mounting
        for hole in mounting:
            x = panel.placement.at(hole.x, hole.y)[0]
            assert all(x <= b.x0 - 8.0 + 1e-6 or x >= b.x1 + 8.0 - 1e-6 for b in bearers.values())
    assert faults_of(draft.finish(None), draft.setting) == []


def test_a_narrow_piece_lies_on_one_bearer_along_its_middle(between, faults_of):
    """50 across 800 long: 46 wide, and nothing to reckon beyond the bearer."""
    draft = between(left=(100.0, 150.0, 400.0), right=(100.0, 150.0, -400.0))
    assert add_piece(draft, Hollow(100.0, 150.0, -400.0, 400.0), 2) == []
    ((x0, x1),) = {(b.x0, b.x1) for b in boxes(draft, "bearer").values()}
    assert (x0, x1) == pytest.approx((119.0, 131.0))
    assert draft.plates == []
    assert faults_of(draft.finish(None), draft.setting) == []


def test_its_finger_hole_is_clear_of_the_bearers(between):
    draft = between(left=(100.0, 700.0, 450.0), right=(100.0, 700.0, -450.0))
    add_piece(draft, Hollow(100.0, 700.0, -450.0, 450.0), 2)
    piece = draft.panels["piece 2"]
    (hole,) = piece.outline.inner
    x0, y0, x1, y1 = hole.bounds
    low, high = piece.placement.at(x0, y0), piece.placement.at(x1, y1)
    for b in boxes(draft, "bearer").values():
        assert max(b.x0 - high[0], low[0] - b.x1, b.y0 - high[1], low[1] - b.y1) >= 10.0 - 1e-6


def test_a_piece_with_a_finger_hole_lifts_off_and_a_screwed_one_does_not(between):
    draft = between(left=(100.0, 400.0, 200.0), right=(100.0, 400.0, -50.0))
    assert add_piece(draft, Hollow(100.0, 400.0, -50.0, 200.0), 1) == []
    (lift,) = draft.motions
    piece = draft.panels["piece 1"]
    assert (lift.kind, lift.direction) == (MotionKind.REMOVE, (0.0, 0.0, 1.0))
    assert lift.travel == pytest.approx(piece.thickness + 50.0)
    assert piece.moves == lift.name
    assert {p.moves for n, p in draft.panels.items() if n != "piece 1"} == {None}
    hung = between(right=(100.0, 400.0, 150.0))
    assert add_piece(hung, Hollow(100.0, 400.0, 150.0, 230.0), 3) == []
    assert hung.motions == []
    assert hung.panels["piece 3"].moves is None


def test_what_leaves_no_room_for_bearers_is_told(between):
    low = Berth(x0=90.0, x1=710.0, y0=-400.0, y1=400.0, z0=0.0, z1=370.0)
    draft = between(low, left=(100.0, 700.0, 450.0), right=(100.0, 700.0, -450.0))
    (told,) = add_piece(draft, Hollow(100.0, 700.0, -450.0, 450.0), 2)
    assert told.code == "open deck"
    assert "over 876 mm" in told.sentence
    assert "18 are free" in told.sentence
    assert not draft.panels


def test_held_all_round_a_piece_bears_more(between):
    """450 wide it bears a knee between two cleats by itself, 600 × 600 only between four."""
    sides = {"left": (100.0, 700.0, 300.0), "right": (100.0, 700.0, -300.0)}
    two = between(**sides)
    add_piece(two, Hollow(100.0, 700.0, -300.0, 300.0), 1)
    assert boxes(two, "bearer")
    four = between(**sides, rear=(-300.0, 300.0, 100.0), front=(-300.0, 300.0, 700.0))
    add_piece(four, Hollow(100.0, 700.0, -300.0, 300.0), 1)
    assert not boxes(four, "bearer")
    (duty,) = four.plates
    assert duty.edges == "all"
    assert duty.spans == pytest.approx((576.0, 576.0))
