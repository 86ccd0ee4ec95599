"""Loads on a flat board, by hand."""

import dataclasses

import pytest

from fitout import catalogue
from fitout.mechanics.boards import knee_on, pressure_mpa, strength_used
from fitout.mechanics.plates import PlateResult

PLY = catalogue.load().sheets["birch ply 12"]


def test_a_whole_knee_stands_on_a_wide_panel() -> None:
    knee = knee_on((400.0, 100.0))
    assert (knee.load_n, knee.size_u, knee.size_v) == (1000.0, 100.0, 100.0)


def test_a_narrow_panel_bears_its_share_of_a_knee() -> None:
    knee = knee_on((400.0, 40.0))
    assert (knee.load_n, knee.size_u, knee.size_v) == (400.0, 100.0, 40.0)


def test_pressure_is_the_boards_own_weight_and_what_lies_on_it() -> None:
    """12 mm of 680 kg/m³: 8.16 kg/m²; 20 kg on half a square metre: 40 kg/m²."""
    assert pressure_mpa(PLY, (1000.0, 500.0), 20.0) == pytest.approx(48.16 * 9.80665e-6)


def test_strength_is_that_of_the_grain_along_each_span() -> None:
    board = dataclasses.replace(PLY, strength_along_mpa=40.0, strength_across_mpa=30.0)
    bent = PlateResult(deflection=1.0, stress_u_mpa=12.0, stress_v_mpa=6.0)
    assert strength_used(board, bent, grain_along_u=True) == pytest.approx(12.0 / 40.0)
    assert strength_used(board, bent, grain_along_u=False) == pytest.approx(12.0 / 30.0)
    unknown = dataclasses.replace(board, strength_across_mpa=None)
    assert strength_used(unknown, bent, grain_along_u=True) is None
