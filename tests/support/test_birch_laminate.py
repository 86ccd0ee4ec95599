from __future__ import annotations

import pytest

from tests.support.birch_laminate import birch, laminate


@pytest.mark.parametrize("plies", [3, 5, 9, 17])
def test_every_veneer_counts_one_way_or_the_other(plies: int) -> None:
    board = birch(plies)
    assert board.e_along_mpa + board.e_across_mpa == pytest.approx(17_500.0)


def test_more_plies_are_more_alike_both_ways() -> None:
    boards = [birch(plies) for plies in range(3, 19, 2)]
    shares = [board.e_along_mpa / board.e_across_mpa for board in boards]
    assert shares == sorted(shares, reverse=True)
    assert shares[-1] > 1.0


def test_three_equal_plies_by_hand() -> None:
    # The core takes 1/27 of the whole second moment; its surface lies at a third of the face's.
    board = laminate([1.0, 1.0, 1.0], 27_000.0, 54.0)
    assert board.thickness == 3.0
    assert board.e_along_mpa == pytest.approx(26_000.0)
    assert board.e_across_mpa == pytest.approx(1_000.0)
    assert board.strength_along_mpa == pytest.approx(52.0)
    assert board.strength_across_mpa == pytest.approx(6.0)


@pytest.mark.parametrize(
    ("plies", "e_mpa", "message"),
    [
        ([1.0, 1.0], 1.0, "odd number"),
        ([1.0], 1.0, "odd number"),
        ([1.0, -1.0, 1.0], 1.0, "above 0"),
        ([1.0, 1.0, 1.0], 0.0, "above 0"),
        ([1.0, 1.0, 1.2], 1.0, "same from either face"),
    ],
)
def test_what_is_no_plywood_is_refused(plies: list[float], e_mpa: float, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        laminate(plies, e_mpa, 70.0)
