"""How far lids open past the opening's frame and under the roof, against their geometry."""

import dataclasses
import math

import pytest

from fitout.clearance.body import body_of, body_of_obstacle
from fitout.clearance.contact import contact
from fitout.clearance.sweep import swing
from fitout.model.module import Berth, MotionKind
from fitout.modules.box import BoxSpec, build
from fitout.modules.lid_swing import swing_deg
from fitout.survey.room import rear_face, roof_height


@pytest.fixture
def setting(bays, setting_of):
    return setting_of(bays["wagon"], 12.0)


def place(x0: float, half: float, z1: float) -> Berth:
    return Berth(x0=x0, x1=x0 + 400.0, y0=-half, y1=half, z0=z1 - 12.0, z1=z1)


def test_a_lid_with_room_opens_fully(setting):
    assert swing_deg(setting, place(400.0, 300.0, 200.0)) == 95.0


def test_the_roof_ends_it_where_the_edge_has_risen_to_it(setting):
    """The upper edge rises by 400 sin of the angle: under 200 of free room to 30° less the gap."""
    free = 200.0
    roof = roof_height(setting.bay, 400.0, 800.0, clear=setting.rules.moving)
    found = swing_deg(setting, place(400.0, 300.0, roof - free))
    assert found == math.floor(math.degrees(math.asin((free - 0.05) / 400.0)))


def test_a_lid_wider_than_the_opening_does_not_pass_its_leaning_frame(setting):
    """The edge starts level with the frame, which leans towards it faster than it draws back."""
    z1 = 500.0
    start = rear_face(setting.bay, z1 - 12.0, z1, clear=2.0)
    assert swing_deg(setting, place(start, 590.0, z1)) < 20.0
    assert swing_deg(setting, place(start, 300.0, z1)) > 20.0


@pytest.mark.parametrize("x0", [60.0, 90.0, 120.0])
@pytest.mark.parametrize("half", [380.0, 560.0])
def test_a_box_lid_clears_every_part_of_the_frame(setting, x0, half):
    """Its swept room against the solid jambs and header, with the kernel."""
    berth = Berth(x0=x0, x1=x0 + 520.0, y0=-half, y1=half, z0=0.0, z1=420.0)
    module = build("box", BoxSpec(lid="lift"), berth, setting)
    frame = [body_of_obstacle(o) for o in setting.bay.obstacles if o.kind == "aperture"]
    for motion in (m for m in module.motions if m.kind is MotionKind.HINGE):
        lid = body_of(next(p for p in module.panels if p.moves == motion.name))
        swept = swing(lid, motion.point, motion.direction, motion.travel)
        for obstacle in frame:
            gap = contact(swept, obstacle, 5.0)
            assert not gap.clashes
            assert gap.gap >= setting.rules.moving - 0.15


def test_a_lid_that_could_hardly_open_lifts_off_and_says_so(setting):
    z1 = 600.0
    start = rear_face(setting.bay, z1 - 12.0, z1, clear=2.0)
    berth = Berth(x0=start, x1=start + 500.0, y0=-590.0, y1=590.0, z0=0.0, z1=z1)
    module = build("box", BoxSpec(lid="lift"), berth, setting)
    assert {m.kind for m in module.motions} == {MotionKind.REMOVE}
    (note,) = [r.sentence for r in module.remarks if r.code == "box lid"]
    assert "lifts off" in note


def test_a_narrower_gap_lets_it_open_no_less(setting):
    rules = dataclasses.replace(setting.rules, moving=0.5)
    eased = dataclasses.replace(setting, rules=rules)
    lid = place(70.0, 590.0, 420.0)
    assert swing_deg(eased, lid) >= swing_deg(setting, lid)
