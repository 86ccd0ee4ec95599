"""The most valuable filling of one sheet."""

import itertools

import numpy as np
import pytest

from fitout.cutting import skyline, staged
from fitout.cutting.beam import Enough
from fitout.cutting.layout import Blank
from fitout.cutting.task import Stock, task
from tests.support.most_valuable import most_valuable


def job(*sizes, size=(100.0, 100.0)):
    return task([Blank(f"P{i}", 1, *each, False) for i, each in enumerate(sizes)], [Stock(*size)])


def test_value_counts_and_not_area():
    found = job((100.0, 60.0), (100.0, 50.0), (100.0, 45.0))
    for fill in (staged.fill, skyline.fill):
        best = most_valuable(found, np.array([9.0, 5.0, 5.0]), [fill], 10**6)
        assert best.counts.tolist() == [0, 1, 1]
        best = most_valuable(found, np.array([11.0, 5.0, 5.0]), [fill], 10**6)
        assert best.counts.tolist() == [1, 0, 0]


def test_in_one_direction_it_is_a_knapsack():
    widths, values = (41, 37, 29, 23, 17, 13, 11), (60, 57, 41, 36, 24, 19, 18)
    best = max(
        sum(values[i] for i in chosen)
        for count in range(8)
        for chosen in itertools.combinations(range(7), count)
        if sum(widths[i] for i in chosen) <= 100
    )
    found = job(*((100.0, float(width)) for width in widths))
    worth = np.array(values, dtype=float)
    assert (most_valuable(found, worth, [staged.fill], 10**6).counts * worth).sum() == best


def test_no_work_finds_nothing():
    with pytest.raises(Enough):
        most_valuable(job((50.0, 50.0)), np.array([1.0]), [staged.fill], 0)
