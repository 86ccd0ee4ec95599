"""The test piece for grooves: what it measures is taken off the grooves, and nothing else."""

import dataclasses

import pytest

from fitout.cutting.corners import relieved
from fitout.cutting.coupon import (
    MARGIN,
    SIZE,
    adapted,
    coupons,
    fitted,
    groove_errors,
    how_to_measure,
)
from fitout.cutting.cut_list import cut_list
from fitout.model.cutting import CuttingSpec
from fitout.model.design import BoardSpec
from fitout.model.fault import DesignError
from fitout.model.outline import Outline, polygon
from fitout.model.panel import Pocket
from fitout.model.placement import flat
from fitout.modules.joinery import groove


@pytest.fixture
def bottom(ply):
    return dataclasses.replace(ply, key="ply 6", nominal=6.5, thickness=6.4)


def bounds(panel):
    return Outline(panel.pockets[0].loop).bounds


def test_the_groove_is_drawn_narrower_by_what_came_out_too_wide(make, bottom):
    """6.6 is wanted; what came out at 6.75 is drawn at 6.45 about the same middle."""
    side = make(pockets=(groove(700.0, 12.0, bottom, 3.0), Pocket(polygon(TRIANGLE), 4.0)))
    (found,) = adapted([side], {"ply 6": 0.15})
    assert bounds(side) == pytest.approx((0.0, 12.0, 700.0, 18.6))
    assert bounds(found) == pytest.approx((0.0, 12.075, 700.0, 18.525))
    assert found.pockets[1] == side.pockets[1]
    again = dataclasses.replace(found, pockets=side.pockets)
    assert again == side
    assert tuple(adapted([side], {"ply 9": 0.15})) == (side,)


TRIANGLE = [(300.0, 100.0), (400.0, 100.0), (350.0, 180.0)]


def test_an_upright_groove_is_adapted_across(make, bottom):
    lying = groove(300.0, 12.0, bottom, 3.0)
    upright = dataclasses.replace(lying, loop=lying.loop.turned(1).moved(50.0, 0.0))
    (found,) = adapted([make(pockets=(upright,))], {"ply 6": -0.2})
    x0, y0, x1, y1 = bounds(found)
    assert (x1 - x0, y1 - y0) == pytest.approx((6.8, 300.0))


def test_the_error_is_what_was_measured_less_what_was_drawn(ply, bottom):
    wish = BoardSpec(sheet="ply 6", groove_measured=6.75)
    assert groove_errors({"bottom": wish}, {"bottom": bottom}) == pytest.approx({"ply 6": 0.15})
    assert groove_errors({"bottom": BoardSpec(sheet="ply 6")}, {"bottom": bottom}) == {}


def test_what_can_be_no_groove_is_a_fault(bottom):
    wish = BoardSpec(sheet="ply 6", groove_measured=11.9)
    with pytest.raises(DesignError) as caught:
        groove_errors({"bottom": wish}, {"bottom": bottom})
    (fault,) = caught.value.faults
    assert fault.path == ("boards", "bottom", "groove_measured")
    assert fault.expected == "a width within 1 of the 6.6 on the test piece"


def test_a_test_piece_for_each_board_held(make, ply, bottom):
    side = make(pockets=(groove(700.0, 12.0, bottom, 3.0),))
    (piece,) = coupons([side, make(), side], [ply, bottom])
    assert (piece.board, piece.outline.size) == (ply, (100.0, 60.0))
    (pocket,) = piece.pockets
    x0, y0, x1, y1 = bounds(piece)
    assert (x1 - x0, y1 - y0, pocket.depth) == pytest.approx((70.0, 6.6, 3.0))
    assert (y0 + y1) / 2.0 == pytest.approx(30.0)
    assert "groove 6.6" in how_to_measure(piece)


def cut(design, extra=""):
    from pathlib import Path

    from fitout import workflow

    text = (Path(__file__).parents[2] / "designs" / "small-hatch.yaml").read_text(encoding="utf-8")
    text = text.replace("  carcass: birch ply 9\n", f"  carcass: birch ply 9\n{extra}")
    path = design / "hatch.yaml"
    path.write_text(text + "\ncutting: {coupon: yes}\n", encoding="utf-8")
    evaluation = workflow.evaluate(workflow.load(path))
    setting = evaluation.setting
    return fitted(evaluation.fitout.panels(), evaluation.design, setting.boards)


@pytest.mark.parametrize("beneath", [False, True])
def test_its_groove_is_relieved_at_both_ends_alike(make, ply, bottom, beneath):
    """Whatever of the fit-out lies where its drawing begins."""
    side = make(pockets=(groove(700.0, 12.0, bottom, 3.0),))
    (piece,) = coupons([side], [ply, bottom])
    others = [make(50.0, 200.0, name="base", placement=flat(0.0, 0.0, 0.0))] if beneath else []
    spec = CuttingSpec(by="router", kerf=6.0)
    (line,) = relieved(cut_list([piece]), others, spec).lines
    (pocket,) = line.panel.pockets
    arcs = [v.x for v in pocket.loop.vertices if v.bulge]
    middle = (MARGIN + SIZE[0] - MARGIN) / 2.0
    assert len(arcs) == 4
    assert sum(x < middle for x in arcs) == 2
    assert line.by_hand == 0


def test_in_a_whole_design_only_grooves_change_and_by_the_measured_amount(tmp_path):
    before = cut(tmp_path)
    piece = before[-1]
    drawn = bounds(piece)[3] - bounds(piece)[1]
    entry = f"  bottom: {{sheet: birch ply 6.5, groove_measured: {drawn + 0.2:.2f}}}\n"
    after = cut(tmp_path, entry)
    assert [panel.id for panel in after] == [panel.id for panel in before]
    changed = 0
    for old, new in zip(before, after, strict=True):
        assert dataclasses.replace(new, pockets=()) == dataclasses.replace(old, pockets=())
        for was, now in zip(old.pockets, new.pockets, strict=True):
            if was.holds:
                changed += 1
                a, b = Outline(was.loop).bounds, Outline(now.loop).bounds
                across = 0 if a[2] - a[0] < a[3] - a[1] else 1
                assert (a[2 + across] - a[across]) - (b[2 + across] - b[across]) == pytest.approx(
                    0.2
                )
                along = 1 - across
                assert (a[along], a[2 + along]) == (b[along], b[2 + along])
                assert dataclasses.replace(now, loop=was.loop) == was
            else:
                assert now == was
    assert changed > 0
    # The test piece is drawn as ever, or it could not be measured again.
    assert after[-1] == piece
