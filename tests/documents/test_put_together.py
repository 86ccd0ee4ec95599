"""Panels told in another frame, corners relieved, gaps and masses reckoned again."""

import dataclasses

import pytest

from fitout.cutting.frame import Turn, reframed
from fitout.documents.put_together import told_in
from fitout.model.panel import Face


@pytest.mark.parametrize("turn", [Turn(0), Turn(3), Turn(1, flipped=True), Turn(2, flipped=True)])
def test_a_panel_is_told_in_the_frame_of_its_part(panel, turn):
    other = reframed(panel, turn, (3.0, 4.0))
    back = told_in(panel, other)
    assert back is not None
    for mine, theirs in zip(back.holes, other.holes, strict=True):
        assert (mine.x, mine.y) == pytest.approx((theirs.x, theirs.y), abs=1e-9)
        assert mine.face is theirs.face
    faces = [pocket.face for pocket in panel.pockets]
    if turn.flipped:
        faces = [Face.B if face is Face.A else Face.A for face in faces]
    assert [pocket.face for pocket in back.pockets] == faces
    assert back.outline.bounds == pytest.approx(other.outline.bounds, abs=1e-9)
    assert back.outline.area == pytest.approx(panel.outline.area)


def test_a_part_that_lies_elsewhere_or_is_thicker_is_not_the_panel(panel):
    x, y, z = panel.placement.w
    away = dataclasses.replace(panel, placement=panel.placement.moved(0.02 * x, 0.02 * y, 0.02 * z))
    assert told_in(panel, away) is None
    thick = dataclasses.replace(panel, board=dataclasses.replace(panel.board, thickness=12.0))
    assert told_in(panel, thick) is None
    aside = dataclasses.replace(panel, placement=panel.placement.moved(*panel.placement.u))
    told = told_in(panel, aside)
    assert told is not None
    assert told.holes[0].x == pytest.approx(panel.holes[0].x - 1.0)
