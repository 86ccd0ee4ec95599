"""Cuttings show all content whole, fit the paper, overlap or leave long gaps out."""

import itertools

import pytest

from fitout.documents.templates.content import Content, Span
from fitout.documents.templates.cuttings import OVERLAP, SKIP, Cutting, ways

MOST = (184.0, 250.0)


def hole(x: float, y: float, around: float = 10.0) -> Span:
    return x - around, y - around, x + around, y + around


def row(y: float, *xs: float) -> Content:
    return Content((), tuple(hole(x, y) for x in xs))


def shown(span: Span, found: tuple[Cutting, ...]) -> bool:
    return any(
        c.span[0] <= span[0]
        and c.span[1] <= span[1]
        and span[2] <= c.span[2]
        and span[3] <= c.span[3]
        for c in found
    )


@pytest.mark.parametrize("bounds", [(0.0, 0.0, 1200.0, 400.0), (0.0, 0.0, 400.0, 1200.0)])
def test_all_is_shown_on_what_fits_the_paper(bounds: Span) -> None:
    content = Content(
        tuple(hole(bounds[2] - 40.0, y, 5.0) for y in range(20, 390, 20)),
        tuple(hole(x, 30.0 + x / 3.0) for x in range(30, 380, 90)),
    )
    found = ways(content, bounds, MOST)
    assert found
    for way in found:
        assert all(shown(span, way) for span in content.spans)
        assert all(c.size[0] <= MOST[0] + 1e-9 and c.size[1] <= MOST[1] + 1e-9 for c in way)
        assert len({c.name for c in way}) == len(way)


def test_a_line_of_holes_is_one_band_of_overlapping_cuttings() -> None:
    xs = (60.0, 220.0, 380.0, 540.0, 640.0)
    along = next(
        way for way in ways(row(113.0, *xs), (0.0, 0.0, 700.0, 500.0), MOST) if not way[0].upright
    )
    assert [c.name for c in along] == [f"A{i}" for i in range(1, len(along) + 1)]
    for a, b in itertools.pairwise(along):
        assert a.goes_on
        assert b.follows
        assert a.span[2] - b.span[0] == pytest.approx(OVERLAP)
        assert a.span[1::2] == b.span[1::2]
    assert along[0].span[0] < 0.0 < 700.0 < along[-1].span[2]


def test_a_long_stretch_without_content_takes_no_paper() -> None:
    ends = row(30.0, 40.0, 80.0, 80.0 + SKIP + 40.0, 120.0 + SKIP + 40.0)
    (way, *_) = ways(ends, (0.0, 0.0, 500.0, 400.0), MOST)
    assert len(way) == 2
    assert not any(c.follows or c.goes_on for c in way)


def test_a_hole_alone_gets_paper_only_at_a_corner() -> None:
    bounds = (0.0, 0.0, 1000.0, 800.0)
    assert ways(row(400.0, 500.0), bounds, MOST) == ()
    for (corner,) in ways(row(50.0, 50.0), bounds, MOST):
        assert corner.span[0] < 0.0
        assert corner.span[1] < 0.0


def test_a_small_part_is_shown_whole_and_nothing_needs_nothing() -> None:
    ((whole,),) = ways(row(30.0, 40.0), (0.0, 0.0, 150.0, 100.0), MOST)
    assert whole.span[0] < 0.0 < 150.0 < whole.span[2]
    assert whole.span[1] < 0.0 < 100.0 < whole.span[3]
    assert ways(Content((), ()), (0.0, 0.0, 150.0, 100.0), MOST) == ()


def test_a_cutting_at_an_edge_shows_no_more_beyond_it_than_needed() -> None:
    ((one, *_), *_) = ways(row(20.0, 400.0, 440.0), (0.0, 0.0, 900.0, 700.0), MOST)
    assert one.span[1] == -5.0
    assert one.size[1] >= 60.0
