"""The A3 sheet's frame and title block (ISO 5457, ISO 7200), as poppler sees them."""

from pathlib import Path

import numpy as np
import pytest
from poppler import MM_PER_INCH, Dots, dots

from fitout.documents.paper.frame import SPACE, TITLE, Cell, framed, projection_symbol
from fitout.documents.paper.marks import Arc, Page, Stroke, Text
from fitout.documents.paper.pdf import pdf
from fitout.documents.paper.room import extent, overlaps

DPI = 300
MM = MM_PER_INCH / DPI

ROWS = (
    (11.0, (Cell("Material", "birch ply 12", 120.0), Cell("", "", 60.0))),
    (45.0, (Cell("Title", "Drawer side", 180.0, 5.0, bold=True),)),
)


@pytest.fixture(scope="module")
def seen(tmp_path_factory: pytest.TempPathFactory) -> Dots:
    page = framed((), ROWS, "one", "third angle")
    return dots(pdf([page], "frame"), tmp_path_factory.mktemp("pdf"), dpi=DPI)


def _bands(dark: np.ndarray) -> list[tuple[float, float]]:
    """Where a row of dots is dark: from and to, mm."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], dark.astype(int), [0]])))
    return [(a * MM, b * MM) for a, b in edges.reshape(-1, 2)]


def test_the_frame_leaves_a_drawing_space_of_390_by_277(seen: Dots) -> None:
    """ISO 5457:1999, 4.3 and Table 1: 20 mm at the left, 10 mm elsewhere, lines of 0.7 mm."""
    assert SPACE == (390.0, 277.0)
    dark = seen < 128
    # Across at 70 mm below the upper edge, and up at 100 mm from the left: clear of all else.
    across = [band for band in _bands(dark[int(70.0 / MM)]) if band[1] - band[0] > 0.5]
    assert [sum(band) / 2.0 for band in across] == pytest.approx([20.0, 410.0], abs=0.1)
    up = [band for band in _bands(dark[:, int(100.0 / MM)]) if band[1] - band[0] > 0.5]
    assert [sum(band) / 2.0 for band in up] == pytest.approx([10.0, 287.0], abs=0.1)
    for start, end in (*across, *up):
        assert end - start == pytest.approx(0.7, abs=0.1)


def test_centring_marks_lie_on_the_sheet_s_axes(seen: Dots) -> None:
    dark = seen < 128
    marks = [b for b in _bands(dark[int(5.5 / MM)]) if b[1] - b[0] > 0.5]
    assert [sum(b) / 2.0 for b in marks] == pytest.approx([210.0], abs=0.1)
    marks = [b for b in _bands(dark[:, int(414.3 / MM)]) if b[1] - b[0] > 0.5]
    assert [sum(b) / 2.0 for b in marks] == pytest.approx([148.5], abs=0.1)


def test_the_title_block_is_180_wide_in_the_lower_right_corner(seen: Dots) -> None:
    """ISO 7200:2004, 5: 180 mm wide."""
    dark = seen < 128
    row = int((297.0 - 18.0) / MM)
    lines = [sum(b) / 2.0 for b in _bands(dark[row]) if 0.5 < b[1] - b[0] < 1.0]
    assert pytest.approx(min(x for x in lines if x > 100.0), abs=0.1) == 410.0 - 180.0
    assert TITLE[0] == 180.0


def test_the_grid_reference_has_eight_numerals_and_six_letters() -> None:
    """ISO 5457:1999, 4.5: fields of 50 mm from the middle, no I and no O."""
    page = framed((), (), "one")
    told = [m for m in page.marks if isinstance(m, Text)]
    assert sorted({m.text for m in told}) == [*"12345678", *"ABCDEF"]
    assert len(told) == 28
    columns = sorted(m.at[0] for m in told if m.text in "234")
    assert columns == pytest.approx([85.0, 85.0, 135.0, 135.0, 185.0, 185.0])
    letters = {m.text: m.at[1] for m in told}
    assert letters["A"] > letters["F"]


@pytest.mark.parametrize("value", ["Drawer side", "a very long title " * 12, "🧰", "", "\n"])
def test_values_stay_in_their_fields(value: str) -> None:
    rows = ((20.0, (Cell("Title", value, 60.0, 5.0, bold=True), Cell("Scale", "1:5", 120.0))),)
    page = framed((), rows, "one")
    assert overlaps(page.marks) == []
    assert extent(page.marks) == pytest.approx((15.0, 5.0, 415.0, 292.0), abs=0.01)


def test_the_view_from_the_left_lies_right_in_first_angle_and_left_in_third() -> None:
    """ISO 128-3: the rings are the cone seen on its small end, which looks to the left."""
    for projection, side in (("first angle", 1.0), ("third angle", -1.0)):
        marks = projection_symbol(projection)  # type: ignore[arg-type]
        (cone,) = [m for m in marks if isinstance(m, Stroke) and m.closed]
        rings = [m for m in marks if isinstance(m, Arc)]
        assert all(ring.centre[0] * side > 0.0 for ring in rings)
        left = min(x for x, _ in cone.points)
        ends = {x == left: abs(y) for x, y in cone.points}
        assert ends[True] == min(r.radius for r in rings)
        assert ends[False] == max(r.radius for r in rings)


def test_a_sheet_holds_what_it_was_given(tmp_path: Path) -> None:
    page = framed([Text((0.0, 0.0), "here", 5.0)], (), "one")
    assert isinstance(page, Page)
    assert [m.at for m in page.marks if isinstance(m, Text) and m.text == "here"] == [(20.0, 10.0)]
