"""The deck: every hollow between the modules found, covered, and carried by something."""

import dataclasses
import math

import pytest

from fitout.model.module import Berth, JointKind, Module
from fitout.model.panel import Panel
from fitout.modules.assemble import assemble
from fitout.modules.barrier import BarrierSpec
from fitout.modules.deck import KIND, DeckSpec, hollows, needs
from fitout.modules.deck_piece import CLEAT_HEIGHT, LONGEST_OVERHANG, Hollow
from fitout.modules.drawers import DrawersSpec
from fitout.modules.kind import Setting
from fitout.modules.neighbours import box_of
from fitout.modules.side_bin import SideBinSpec
from fitout.survey.room import front_face, half_width

DECK = 400.0
GAP = 2.0


def berth(x0: float, x1: float, y0: float, y1: float, top: float = DECK) -> Berth:
    return Berth(x0=x0, x1=x1, y0=y0, y1=y1, z0=0.0, z1=top)


def placed(setting: Setting, **berths: Berth) -> Setting:
    """A setting with a deck over drawers in the given berths."""
    specs = {name: DrawersSpec(columns=1) for name in berths}
    return dataclasses.replace(
        setting, specs={**specs, "deck": DeckSpec()}, berths=berths, deck=DECK
    )


def deck_of(setting: Setting) -> tuple[Module, dict[str, Panel]]:
    fitout = assemble("test", setting)
    (module,) = [m for m in fitout.modules if m.kind == "deck"]
    return module, {p.name: p for p in module.panels}


@pytest.fixture
def wagon(bays, setting_of):
    return lambda thickness=12.0: setting_of(bays["wagon"], thickness)


def front_of(setting: Setting) -> float:
    thickness = setting.boards["deck"].thickness
    return front_face(setting.bay, DECK - thickness, DECK, clear=setting.rules.seat)


def test_the_deck_takes_no_berth(wagon):
    assert needs(DeckSpec(), wagon()) is None
    assert KIND.kind == "deck"


def test_hollows_are_what_no_module_covers(wagon):
    setting = placed(
        wagon(), left=berth(60.0, 800.0, 100.0, 500.0), right=berth(60.0, 800.0, -500.0, -100.0)
    )
    front = front_of(setting)
    assert hollows(setting) == [
        Hollow(60.0, 800.0, None, -500.0),
        Hollow(60.0, 800.0, -100.0, 100.0),
        Hollow(60.0, 800.0, 500.0, None),
        Hollow(800.0, pytest.approx(front), None, None),
    ]


def test_stretches_alike_are_one_hollow(wagon):
    setting = placed(
        wagon(), left=berth(60.0, 700.0, 0.0, 500.0), right=berth(60.0, 500.0, -500.0, 0.0)
    )
    found = hollows(setting)
    assert Hollow(60.0, 700.0, 500.0, None) in found
    assert Hollow(500.0, 700.0, None, 0.0) in found
    assert Hollow(60.0, 500.0, None, -500.0) in found


def test_a_module_below_the_deck_leaves_its_place_open(wagon):
    setting = placed(
        wagon(),
        left=berth(60.0, 800.0, 100.0, 500.0),
        low=berth(60.0, 800.0, -300.0, 90.0, top=350.0),
    )
    assert Hollow(60.0, 800.0, None, 100.0) in hollows(setting)


def test_a_side_bin_covers_up_to_its_wall(wagon):
    setting = placed(
        wagon(), bin=berth(60.0, 800.0, 400.0, 590.0), drawers=berth(60.0, 800.0, -390.0, 390.0)
    )
    setting = dataclasses.replace(
        setting, specs={**setting.specs, "bin": SideBinSpec(sides="left")}
    )
    found = hollows(setting)
    assert not [h for h in found if h.y1 is None and h.x0 == 60.0]
    mirrored = dataclasses.replace(
        setting,
        specs={**setting.specs, "bin": SideBinSpec(sides="right")},
        berths={**setting.berths, "bin": berth(60.0, 800.0, -590.0, -400.0)},
    )
    for hollow in (*found, *hollows(mirrored)):
        for y in (hollow.y0, hollow.y1):
            assert y is None or not math.isinf(y)
    assert not [h for h in hollows(mirrored) if h.y0 is None and h.x0 == 60.0]


def test_without_a_module_at_its_height_there_is_no_deck(wagon):
    setting = placed(wagon(), low=berth(60.0, 800.0, -300.0, 300.0, top=300.0))
    assert hollows(setting) == []
    module, panels = deck_of(setting)
    assert panels == {}
    assert [r.code for r in module.remarks] == ["open deck"]


def test_a_deck_by_itself_says_what_it_lacks(wagon):
    module, panels = deck_of(dataclasses.replace(wagon(), specs={"deck": DeckSpec()}, deck=0.0))
    assert panels == {}
    (said,) = module.remarks
    assert said.code == "open deck"
    assert "side bin" in said.sentence


def test_the_deck_reaches_to_the_barrier(wagon):
    setting = placed(wagon(), drawers=berth(60.0, 700.0, -400.0, 400.0))
    setting = dataclasses.replace(
        setting,
        specs={"barrier": BarrierSpec(), **setting.specs},
        berths={"barrier": berth(880.0, 960.0, -560.0, 560.0, top=840.0), **setting.berths},
    )
    assert max(h.x1 for h in hollows(setting)) == 880.0


@pytest.mark.parametrize("thickness", [11.7, 12.0, 18.0])
def test_a_strip_between_two_modules_lies_on_two_cleats(wagon, thickness):
    setting = placed(
        wagon(thickness),
        left=berth(60.0, 800.0, 150.0, 500.0),
        right=berth(60.0, 800.0, -500.0, -150.0),
    )
    module, panels = deck_of(setting)
    (number,) = [n for n in panels if n.startswith("piece") and abs(box_of(panels[n]).y0) < 200]
    strip = box_of(panels[number])
    assert (strip.y0, strip.y1) == pytest.approx((-150.0 + GAP, 150.0 - GAP))
    assert (strip.x0, strip.x1) == pytest.approx((60.0 + GAP, 800.0 - GAP))
    assert (strip.z0, strip.z1) == pytest.approx((DECK - thickness, DECK))
    carried = {j.b for j in module.joints if j.a == f"deck/{number}"}
    assert len(carried) == 2
    for cleat in (panels[c.removeprefix("deck/")] for c in carried):
        box = box_of(cleat)
        assert box.z1 == pytest.approx(strip.z0)
        assert box.z1 - box.z0 == pytest.approx(CLEAT_HEIGHT)
        (held,) = {j.b for j in module.joints if j.a == cleat.id and j.kind is JointKind.SCREWED}
        assert held in ("left/right side", "right/left side")


def test_a_strip_lifts_off_by_a_hole_near_its_rear_edge(wagon):
    setting = placed(
        wagon(), left=berth(60.0, 800.0, 150.0, 500.0), right=berth(60.0, 800.0, -500.0, -150.0)
    )
    module, panels = deck_of(setting)
    (duty,) = [d for d in module.plates if d.patch]
    panel = panels[duty.panel.removeprefix("deck/")]
    (hole,) = panel.outline.inner
    x0, y0, x1, y1 = hole.bounds
    assert (x1 - x0, y1 - y0) == pytest.approx((32.0, 100.0))
    assert x1 < 120.0
    assert duty.edges == "v ends"
    # Free from cleat to cleat: the strip's width less the two cleats' thickness.
    assert duty.spans[1] == pytest.approx(300.0 - 2.0 * 12.0)
    assert not [h for h in module.hardware if h.purpose == "deck piece to cleat"]


def test_a_narrow_piece_by_the_wall_hangs_on_one_cleat_and_is_screwed(wagon):
    setting = wagon()
    wall = half_width(setting.bay, "left", (60.0, 800.0), (DECK - 12.0, DECK))
    module, panels = deck_of(placed(setting, drawers=berth(60.0, 800.0, -400.0, wall - 60.0)))
    pieces = [p for n, p in panels.items() if n.startswith("piece") and box_of(p).y0 > 0.0]
    (piece,) = pieces
    box = box_of(piece)
    assert piece.scribed
    assert box.y0 == pytest.approx(wall - 60.0 + GAP)
    assert box.y1 <= half_width(setting.bay, "left", (798.0, 798.0), (DECK, DECK)) - 2.0
    assert [h.quantity for h in module.hardware if h.purpose == "deck piece to cleat"] == [4]
    assert not [d for d in module.plates if d.panel == piece.id]


def test_a_wide_piece_that_nothing_carries_stays_open_and_is_told(wagon):
    setting = wagon()
    wall = half_width(setting.bay, "left", (60.0, 800.0), (DECK - 12.0, DECK))
    far = wall - LONGEST_OVERHANG - 40.0
    module, panels = deck_of(placed(setting, drawers=berth(60.0, 800.0, -far, far)))
    assert not [n for n, p in panels.items() if abs(box_of(p).y0) > far - 20.0]
    assert {r.code for r in module.remarks} == {"open deck"}
    assert any("60 to 800" in s or "62 to 798" in s for s in (r.sentence for r in module.remarks))
    assert not module.hardware, "no screws for cleats that are not made"


def test_a_gap_too_narrow_for_a_piece_is_left(wagon):
    setting = placed(
        wagon(), left=berth(60.0, 800.0, 12.0, 500.0), right=berth(60.0, 800.0, -500.0, -12.0)
    )
    _, panels = deck_of(setting)
    assert not [p for p in panels.values() if abs(box_of(p).y0) < 20.0]


@pytest.mark.parametrize("carcass", [9.0, 12.0, 17.6])
@pytest.mark.parametrize("deck", [9.2, 14.6, 18.0])
def test_pieces_and_cleats_keep_clear_of_everything_not_joined(wagon, faults_of, carcass, deck):
    setting = wagon(carcass)
    thick = dataclasses.replace(setting.boards["deck"], thickness=deck)
    setting = dataclasses.replace(setting, boards={**setting.boards, "deck": thick})
    setting = placed(
        setting,
        left=berth(60.0, 800.0, 150.0, 480.0),
        right=berth(60.0, 700.0, -480.0, -100.0),
    )
    fitout = assemble("test", setting)
    # Everything as one module, so that bodies of different modules are compared too.
    whole = Module(
        name="all",
        kind="deck",
        berth=None,
        panels=tuple(fitout.panels()),
        items=tuple(i for m in fitout.modules for i in m.items),
        joints=tuple(fitout.all_joints()),
    )
    assert faults_of(whole, setting) == []


def test_cleats_of_one_hollow_do_not_meet(wagon):
    setting = placed(
        wagon(),
        left=berth(60.0, 800.0, 150.0, 480.0),
        right=berth(60.0, 800.0, -480.0, -150.0),
        front=berth(812.0, 900.0, -480.0, 480.0),
    )
    _, panels = deck_of(setting)
    cleats = [box_of(p) for n, p in panels.items() if n.startswith("cleat")]
    for i, a in enumerate(cleats):
        for b in cleats[i + 1 :]:
            apart = max(a.x0 - b.x1, b.x0 - a.x1, a.y0 - b.y1, b.y0 - a.y1)
            assert apart >= 1.0
