"""Whether a panel goes on its sheet, by hand: a sheet of 2440 × 1220 trimmed by 10."""

import pytest

from fitout.cutting.cut_list import cut_list
from fitout.cutting.fits import excess, usable_size
from fitout.cutting.nest import nest
from fitout.model.cutting import CuttingSpec
from fitout.model.panel import Grain

SAW = CuttingSpec(by="saw", kerf=3.2, trim=10.0)


def test_the_trim_is_lost_on_both_sides(ply):
    assert usable_size(ply, SAW) == (2420.0, 1200.0)


@pytest.mark.parametrize(
    ("size", "grain", "over"),
    [
        ((2420.0, 1200.0), Grain.ALONG_U, None),
        ((2420.1, 1200.0), Grain.ALONG_U, (0.1, 0.0)),
        # Its grain runs along its short side, so it must lie the other way round.
        ((1200.0, 2420.0), Grain.ALONG_U, (0.0, 1220.0)),
        ((1200.0, 2420.0), Grain.ALONG_V, None),
        ((1200.0, 2420.0), Grain.EITHER, None),
        ((1250.0, 2500.0), Grain.EITHER, (80.0, 50.0)),
    ],
)
def test_excess_in_the_best_turn(make, size, grain, over):
    panel = make(*size, grain=grain)
    found = excess(panel, [usable_size(panel.board, SAW)])
    assert found == (over if over is None else pytest.approx(over))
    # The nesting says the same of the part as it is drawn.
    (unplaced,) = nest(cut_list([panel]), SAW).unplaced or (None,)
    assert (unplaced is None) == (over is None)
    if unplaced is not None:
        assert (unplaced.too_long, unplaced.too_wide) == pytest.approx(over)
