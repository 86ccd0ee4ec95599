"""Load duration, creep and levers against published factors and worked numbers."""

import pytest

from fitout.mechanics.beams import second_moment, uniform_load
from fitout.mechanics.slides import row_forces_n
from fitout.mechanics.timber import GAMMA_M, K_MOD, final_factor

G = 9.80665


def test_k_mod_of_plywood() -> None:
    """EN 1995-1-1 Table 3.1, plywood, service class 1, as in the ICE Manual of Structural Design
    Table 19.9."""
    assert tuple(K_MOD["plywood"].values()) == (0.60, 0.70, 0.80, 0.90, 1.10)


def test_k_mod_of_mdf() -> None:
    """EN 1995-1-1 Table 3.1, MDF, service class 1, from the same table."""
    assert tuple(K_MOD["mdf"].values()) == (0.20, 0.40, 0.60, 0.80, 1.10)


def test_gamma_m() -> None:
    """EN 1995-1-1 Table 2.3, plywood."""
    assert GAMMA_M["plywood"] == 1.2


@pytest.mark.parametrize(("service_class", "factor"), [(1, 1.8), (2, 2.0), (3, 3.5)])
def test_k_def_of_plywood_from_memory(service_class: int, factor: float) -> None:
    """EN 1995-1-1 Table 3.2, plywood, from memory; the goods stay for good."""
    assert final_factor("plywood", 1.0, service_class) == pytest.approx(factor)


def test_a_shelf_at_once_and_in_the_end() -> None:
    """900 × 400 × 18, E 9 000, 40 kg spread and its own 680 kg/m³, by EN 1995-1-1 2.2.3."""
    load_n = (40.0 + 680.0e-9 * 900.0 * 400.0 * 18.0) * G
    sag = uniform_load(900.0, load_n, 9_000.0 * second_moment(400.0, 18.0)).deflection
    assert sag == pytest.approx(2.363, abs=1e-3)
    assert sag * final_factor("plywood", 1.0, 1) == pytest.approx(4.253, abs=1e-3)


def test_a_drawer_on_two_bearings() -> None:
    """60 kg, 350 ahead of the front one of two bearings 300 apart, by moments: 1 275 and 686 N."""
    front, rear = row_forces_n(60.0 * G, -350.0, [0.0, 300.0])
    assert (front, rear) == pytest.approx((1_275.0, -686.0), abs=0.5)
