"""The barrier's shelf: where it goes, its brackets, its lip."""

import pytest

from fitout.model.module import Berth
from fitout.model.placement import across_face_rear
from fitout.modules.barrier_frame import Frame
from fitout.modules.barrier_shelf import Shelf, bracket_middles, build_shelf, place_shelf
from fitout.modules.joinery import Draft
from fitout.survey.room import clear_width, rear_face, roof_height

PANEL = Berth(x0=1500.0, x1=1512.0, y0=-650.0, y1=650.0, z0=200.0, z1=1150.0)


@pytest.fixture
def draft(bays, setting_of):
    return Draft("barrier", "barrier", setting_of(bays["van"], 12.0))


@pytest.fixture
def frame(draft):
    section = draft.setting.catalogue.sections["steel flat 40 x 5"]
    return Frame(
        section=section,
        x0=1512.0,
        x1=1552.0,
        foot=0.0,
        top=1100.0,
        posts=((-600.0, -560.0), (560.0, 600.0)),
        rails=(("lower rail", 300.0), ("upper rail", 1000.0)),
    )


def shelf(**entries):
    usual = {"x0": 1250.0, "x1": 1500.0, "y0": -640.0, "y1": 640.0, "z0": 788.0, "z1": 800.0}
    usual |= {"lip": 50.0, "leg": 160.0, "between": (-560.0, 560.0), "load_kg": 8.0}
    return Shelf(**{**usual, **entries})


def test_a_shelf_where_there_is_room_for_it(draft, frame):
    made = place_shelf(draft, PANEL, frame, (250.0, 50.0, 8.0), 800.0)
    assert (made.x0, made.x1) == (1250.0, 1500.0)
    assert (made.z0, made.z1) == (788.0, 800.0)
    assert (made.lip, made.leg, made.load_kg) == (50.0, 160.0, 8.0)
    y0, y1 = clear_width(draft.setting.bay, (1250.0, 1500.0), (788.0, 850.0), clear=3.0)
    assert (made.y0, made.y1) == (max(y0, -650.0), min(y1, 650.0))


def test_it_ends_short_of_tailgate_and_roof(draft, frame):
    bay = draft.setting.bay
    deep = place_shelf(draft, PANEL, frame, (5000.0, 50.0, 8.0), 800.0)
    assert deep.x0 == pytest.approx(rear_face(bay, 788.0, 850.0, clear=3.0))
    roof = roof_height(bay, 1250.0, 1500.0, clear=3.0)
    high = place_shelf(draft, PANEL, frame, (250.0, 50.0, 8.0), roof - 20.0)
    assert high.lip == pytest.approx(20.0)
    assert place_shelf(draft, PANEL, frame, (250.0, 50.0, 8.0), roof + 5.0).lip == 0.0


def test_brackets_clear_the_lower_rail(draft, frame):
    """The rail ends at 340; 10 above it and below the shelf 88 are left."""
    low = place_shelf(draft, PANEL, frame, (250.0, 50.0, 8.0), 450.0)
    assert low.leg == 450.0 - 12.0 - 300.0 - frame.section.width - 10.0


def test_brackets_stand_between_the_posts():
    """30 in from the posts; a third between two further apart than 700."""
    assert bracket_middles(shelf()) == (-530.0, 0.0, 530.0)
    assert bracket_middles(shelf(y0=-370.0, y1=370.0)) == (-340.0, 340.0)


def test_its_parts(draft):
    draft.panel("panel", draft.board("barrier"), (1300.0, 950.0), draft_place(PANEL))
    build_shelf(draft, shelf())
    brackets = [n for n in draft.panels if n.startswith("shelf bracket")]
    assert len(brackets) == 3
    assert draft.panels["shelf lip"].outline.size == (1280.0, 50.0)
    (duty,) = draft.plates
    assert (duty.spans, duty.load_kg, duty.edges) == ((250.0, 530.0), 8.0, "v ends")
    reach, leg = draft.panels[brackets[0]].outline.size
    assert (reach, leg) == pytest.approx((0.7 * 250.0, 160.0))


def test_a_lip_no_higher_than_the_board_is_thick_is_left_out(draft):
    draft.panel("panel", draft.board("barrier"), (1300.0, 950.0), draft_place(PANEL))
    build_shelf(draft, shelf(lip=12.0))
    assert "shelf lip" not in draft.panels


def draft_place(panel):
    return across_face_rear(panel.x1, panel.y1, panel.z0)
