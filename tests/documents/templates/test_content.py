"""What needs a template: fittings and contours, not what a rule and a square draw."""

import itertools

from fitout.cutting.cut_list import CutLine
from fitout.documents.templates.content import content
from fitout.model.outline import Loop, Outline, Vertex, polygon, rectangle, rounded, slot
from fitout.model.panel import Hole, Panel, Pocket
from fitout.model.placement import flat
from fitout.model.stock import Board


def line(board: Board, outline: Outline, **features: object) -> CutLine:
    panel = Panel(
        name="part", module="m", board=board, outline=outline, placement=flat(0, 0, 0), **features
    )
    return CutLine("P01", (panel,))


def test_a_rectangle_with_joints_needs_none(board: Board) -> None:
    joints = tuple(Hole(x, 6.0, 4.5, purpose="screw") for x in (50.0, 250.0, 450.0))
    assert content(line(board, Outline(rectangle(500, 300)), holes=joints)).spans == ()


def test_a_fittings_holes_and_no_groove(board: Board) -> None:
    found = content(
        line(
            board,
            Outline(rectangle(500, 300)),
            holes=(Hole(100.0, 150.0, 3.0, 10.0, "slide"),),
            pockets=(Pocket(rectangle(500.0, 6.5, 0.0, 10.0), 6.0),),
        )
    )
    assert found.contours == ()
    ((left, bottom, right, top),) = found.holes
    assert (left + right) / 2.0 == 100.0
    assert (bottom + top) / 2.0 == 150.0


def test_openings_and_pockets_are_shown_all_round(board: Board) -> None:
    bare = Outline(rectangle(500, 300), (slot(100, 150, 180, 150, 30),))
    spans = content(line(board, bare)).contours
    assert min(s[0] for s in spans) < 85.0
    assert max(s[2] for s in spans) > 195.0
    pocket = Pocket(rectangle(40.0, 40.0, 200.0, 100.0), 2.5)
    assert content(line(board, Outline(rectangle(500, 300)), pockets=(pocket,))).contours


def test_long_straight_and_small_round_things_are_left_to_rule_and_square(board: Board) -> None:
    notched = polygon([(0, 0), (500, 0), (500, 300), (300, 300), (300, 200), (0, 200)])
    assert content(line(board, Outline(notched))).spans == ()
    assert content(line(board, Outline(rounded(rectangle(500, 300), 4.0)))).spans == ()


def test_a_slanting_edge_is_shown_at_its_ends_a_scribed_one_all_along(board: Board) -> None:
    slanting = polygon([(0, 0), (500, 0), (500, 260), (0, 300)])
    spans = content(line(board, Outline(slanting))).contours
    assert {(round((s[0] + s[2]) / 2), round((s[1] + s[3]) / 2)) for s in spans} == {
        (500, 260),
        (0, 300),
    }
    bowed = Loop((Vertex(0, 0), Vertex(500, 0), Vertex(500, 260, 0.1), Vertex(0, 260)))
    xs = sorted((s[0] + s[2]) / 2.0 for s in content(line(board, Outline(bowed))).contours)
    assert xs[0] < 1.0
    assert xs[-1] > 499.0
    assert max(b - a for a, b in itertools.pairwise(xs)) <= 20.0 + 1e-6
