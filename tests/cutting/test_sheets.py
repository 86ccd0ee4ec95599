"""From layouts to true sizes."""

import dataclasses

from fitout.cutting.cut_list import cut_list
from fitout.cutting.layout import Laid, Layout
from fitout.cutting.plan import Placed, Rect
from fitout.cutting.sheets import blanks_of, sheet_of, too_large
from fitout.model.cutting import CuttingSpec

SPEC = CuttingSpec(by="saw", kerf=3.0, trim=10.0, keep_offcuts=(100.0, 400.0))


def test_a_layout_in_true_sizes(make, ply):
    """Grown by the kerf of 3, within a trim of 10."""
    (line,) = cut_list([make(700.0, 300.0)]).lines
    (blank,) = blanks_of(line, 3.0, routed=False)
    assert (blank.length, blank.width) == (703.0, 303.0)
    free = (Rect(703.0, 0.0, 1720.0, 103.0), Rect(703.0, 200.0, 1720.0, 102.0))
    sheet = sheet_of(Layout((Laid(blank, 0.0, 0.0, False),), free), "S01", ply, SPEC)
    assert sheet.placed == (Placed("P01", 1, 10.0, 10.0, 0),)
    # 100 wide is kept, 99 is waste.
    assert sheet.offcuts == (Rect(713.0, 10.0, 1717.0, 100.0),)
    short = dataclasses.replace(SPEC, keep_offcuts=(100.0, 1800.0))
    assert sheet_of(Layout((), free), "S01", ply, short).offcuts == ()


def test_the_size_that_lacks_least_is_told(make):
    (line,) = cut_list([make(700.0, 300.0)]).lines
    assert too_large(line, [(650.0, 400.0), (900.0, 300.0)]) is None
    large = too_large(line, [(650.0, 400.0), (900.0, 290.0)])
    assert (large.too_long, large.too_wide) == (0.0, 10.0)
