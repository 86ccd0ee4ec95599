"""Running dimensions of rows that lie close are told apart."""

import pytest

from fitout.documents.drawings.ordinates import ONE_LINE, Spot, distances, told_apart
from fitout.documents.wording import Wording

WORDS = Wording()


def _told(spots: list[Spot], axis: int = 1, scale: float = 0.2) -> list[str]:
    return list(told_apart(distances(spots, axis, 200.0), axis, scale, WORDS))


def test_each_distance_is_told_once_without_nought_and_the_whole() -> None:
    spots = [Spot(0.0, 0.0), Spot(5.0, 40.0), Spot(9.0, 40.04), Spot(5.0, 200.0), Spot(5.0, 90.0)]
    assert [one.value for one in distances(spots, 1, 200.0)] == [40.0, 90.0]
    assert len(distances(spots, 1, 200.0)[0].spots) == 2
    assert _told(spots) == ["40", "90"]


def test_rows_of_different_holes_get_their_letters() -> None:
    rows = [Spot(5.0, 50.9, "a"), Spot(80.0, 50.9, "a"), Spot(37.0, 51.1, "b"), Spot(5.0, 120.0)]
    assert _told(rows) == ["50.9 a", "51.1 b", "120"]


@pytest.mark.parametrize("letter", ["", "a"])
def test_rows_of_like_holes_say_where_along_the_other_edge_they_are(letter: str) -> None:
    rows = [Spot(6.0, 134.4, letter), Spot(272.0, 133.5, letter)]
    assert _told(rows) == ["133.5 (x 272)", "134.4 (x 6)"]
    turned = [Spot(s.y, s.x, s.letter) for s in rows]
    assert _told(turned, axis=0) == ["133.5 (y 272)", "134.4 (y 6)"]


def test_of_many_places_two_are_named() -> None:
    row = [Spot(x, 60.0) for x in (40.0, 10.0, 90.0)]
    assert _told([*row, Spot(200.0, 61.0)]) == ["60 (x 10, 40 …)", "61 (x 200)"]


def test_an_edge_beside_a_row_of_lettered_holes_says_where_it_is() -> None:
    assert _told([Spot(188.6, 207.5), Spot(48.0, 205.5, "a")]) == []
    assert _told([Spot(188.6, 107.5), Spot(48.0, 105.5, "a")]) == ["105.5 a", "107.5 (x 188.6)"]


def test_what_lies_apart_on_paper_needs_no_more() -> None:
    rows = [Spot(6.0, 100.0), Spot(272.0, 103.0)]
    assert ONE_LINE < 3.0
    assert _told(rows, scale=1.0) == ["100", "103"]
    assert _told(rows, scale=0.1) == ["100 (x 6)", "103 (x 272)"]
