"""The code's area covers its dark squares and nothing else."""

import pytest

from fitout.documents.labels.code import code, squares


def inside(x: float, y: float, rings: tuple[tuple[tuple[float, float], ...], ...]) -> bool:
    """Even-odd rule over all rings."""
    crossings = 0
    for ring in rings:
        for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True):
            if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
                crossings += 1
    return crossings % 2 == 1


@pytest.mark.parametrize("text", ["P01", "B12", "P1234"])
def test_every_square_is_filled_as_the_code_says(text: str) -> None:
    area = code(text, (10.0, 20.0), 0.5)
    rows = squares(text)
    for row, cells in enumerate(rows):
        for column, dark in enumerate(cells):
            x = 10.0 + (column + 0.5) * 0.5
            y = 20.0 + (len(rows) - row - 0.5) * 0.5
            assert inside(x, y, area.rings) is dark


def test_part_numbers_take_the_smallest_code() -> None:
    assert len(squares("P01")) == len(squares("P1234")) == 21


def test_straight_lines_have_no_points_between() -> None:
    for ring in code("P01", (0.0, 0.0), 1.0).rings:
        around = zip((ring[-1], *ring[:-1]), ring, (*ring[1:], ring[0]), strict=True)
        assert all((b[0] == a[0]) != (c[0] == b[0]) for a, b, c in around)
