"""Views on paper at scales of ISO 5455."""

import numpy as np
import pytest

from fitout.documents.drawings.viewport import Port, Window, scale_for, told, window_of
from fitout.documents.view import SIDE


def test_a_point_of_the_bay_lands_to_scale():
    port = Port(SIDE, Window(-100.0, 0.0, 900.0, 500.0), 5.0, (20.0, 60.0))
    assert port.at((0.0, 77.0, 0.0)) == pytest.approx((40.0, 60.0))
    assert port.at((500.0, 0.0, 250.0)) == pytest.approx((140.0, 110.0))
    assert (port.right, port.top) == pytest.approx((220.0, 160.0))


def test_scales_are_those_of_the_standard_and_the_largest_that_fits():
    assert scale_for(1400.0, 950.0, (300.0, 200.0)) == 5.0
    assert scale_for(1501.0, 950.0, (300.0, 200.0)) == 10.0
    assert scale_for(10.0, 10.0, (300.0, 200.0)) == 1.0
    assert told(10.0) == "1:10"


def test_the_window_round_points():
    window = window_of([np.array([[1.0, 2.0], [5.0, 3.0]]), np.array([[0.0, 9.0]])])
    assert (window.left, window.bottom, window.width, window.height) == (0.0, 2.0, 5.0, 7.0)
