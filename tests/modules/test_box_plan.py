"""How a box is parted into boxes and fields."""

import dataclasses
import itertools

import pytest

from fitout.model.bay import AnchorPoint
from fitout.model.module import Berth
from fitout.model.panel import Grain
from fitout.modules.box_plan import BOLT_ROOM, WIDEST_FIELD, WIDEST_LID, cells_of, grain_of
from fitout.modules.joinery import Draft

BERTH = Berth(x0=50.0, x1=700.0, y0=-400.0, y1=400.0, z0=0.0, z1=300.0)


def cells(setting, berth=BERTH, lid="none", dividers=0, reach=None):
    draft = Draft("box", "box", setting)
    return cells_of(draft, berth, berth.z1 - 12.0, reach or (berth.y0, berth.y1), lid, dividers)


@pytest.fixture
def setting(bays, setting_of):
    return setting_of(bays["van"], 12.0)


def test_one_box_fills_the_berth_with_even_fields(setting):
    (cell,) = cells(setting, dividers=3)
    assert cell.berth == BERTH
    assert (cell.right_side, cell.left_side) == ("right side", "left side")
    assert len(cell.fields) == len(cell.dividers) + 1 >= 4
    widths = [y1 - y0 for y0, y1 in cell.fields]
    assert widths == pytest.approx([widths[0]] * len(widths))
    assert sum(widths) == pytest.approx(800.0 - 12.0 * (len(widths) + 1))


def test_no_field_is_wider_than_a_top_bears(setting):
    for width in (300.0, 500.0, 900.0, 1300.0):
        berth = dataclasses.replace(BERTH, y0=-width / 2.0, y1=width / 2.0)
        for cell in cells(setting, berth):
            assert all(y1 - y0 <= WIDEST_FIELD for y0, y1 in cell.fields)


def test_lids_wider_than_a_hand_lifts_are_parted(setting):
    wide = dataclasses.replace(BERTH, y0=-WIDEST_LID / 2.0 - 1.0, y1=WIDEST_LID / 2.0)
    assert len(cells(setting, wide, lid="none")) == 1
    right, left = cells(setting, wide, lid="lift")
    assert (right.suffix, left.suffix) == (" right", " left")
    assert right.berth.y1 == left.berth.y0
    assert (right.berth.y0, left.berth.y1) == (wide.y0, wide.y1)


def test_a_top_that_reaches_out_further_than_a_sheet_is_parted(setting):
    """A top 2600 wide goes on no sheet of 2440 × 1220 less its edges."""
    parted = cells(setting, reach=(-1300.0, 1300.0))
    assert len(parted) == 2
    assert parted[0].berth.y1 == pytest.approx(0.0, abs=30.0)


def test_uprights_stand_beside_floor_bolts(bays, setting_of):
    """A known point right under where the middle divider would stand moves it aside."""
    plain = setting_of(bays["van"], 12.0)
    (before,) = cells(plain, dividers=1)
    (_, y), *_ = [u for u in before.uprights if u[0] in before.dividers]
    bolt = AnchorPoint(name="a", x=300.0, y=y + 6.0, z=0.0, thread="M8", below="clear")
    bolted = dataclasses.replace(bays["van"], anchors=(bolt,))
    (after,) = cells(setting_of(bolted, 12.0), dividers=1)
    for name, right in after.uprights:
        clear = max(right - bolt.y, bolt.y - (right + 12.0))
        assert clear >= BOLT_ROOM - 1e-9, name
    assert before.uprights != after.uprights
    assert all(b - a > 12.0 for (_, a), (_, b) in itertools.pairwise(after.uprights))


def test_grain_runs_from_upright_to_upright_where_the_sheet_is_wide_enough(setting):
    board = setting.boards["deck"]
    assert grain_of(board, board.width - 30.0) is Grain.ALONG_V
    assert grain_of(board, board.width - 29.0) is Grain.EITHER
