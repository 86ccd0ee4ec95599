"""The room of a sheet's sketch is the drawing space of ISO 5457 less the title block."""

from fitout.documents.drawings.sketch import KEPT, SPACE, TITLE_BLOCK
from fitout.documents.paper.frame import MARGIN, MARGIN_LEFT, TITLE, framed
from fitout.documents.paper.frame import SPACE as SHEET_SPACE
from fitout.documents.paper.room import lines_of


def test_a_sketch_fills_the_sheet_s_drawing_space() -> None:
    assert (0.0, 0.0, *SHEET_SPACE) == SPACE
    assert (SHEET_SPACE[0] - TITLE[0], 0.0, SHEET_SPACE[0], TITLE[1]) == TITLE_BLOCK


def test_what_is_kept_free_covers_the_frame_s_marks() -> None:
    """Every line of an empty sheet that reaches into the drawing space lies in a kept box."""
    for mark in framed((), (), "one").marks:
        for ends in lines_of(mark):
            points = [(x - MARGIN_LEFT, y - MARGIN) for x, y in ends]
            inside = [
                p for p in points if 1.0 < p[0] < SPACE[2] - 1.0 and 1.0 < p[1] < SPACE[3] - 1.0
            ]
            for x, y in inside:
                assert any(b[0] <= x <= b[2] and b[1] <= y <= b[3] for b in KEPT)
