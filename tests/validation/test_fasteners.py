"""Bolts, screws, sheet steel and stopping against published values; each source at its test."""

import math

import pytest

from fitout.mechanics import bolts, fasteners, impact

INCH, POUND = 25.4, 4.4482216152605
KSI = 6.894757293168


@pytest.mark.parametrize(
    ("thread", "area"),
    [
        ("M5", 14.2),
        ("M6", 20.1),
        ("M8", 36.6),
        ("M10", 58.0),
        ("M12", 84.3),
    ],
)
def test_stress_areas(thread: str, area: float) -> None:
    """ISO 898-1, table of stress areas; printed to three digits."""
    assert bolts.stress_area(thread) == pytest.approx(area, abs=0.05)


@pytest.mark.parametrize(
    ("thread", "strong", "stronger"),
    [
        ("M5", 11350, 14800),
        ("M6", 16100, 20900),
        ("M8", 29200, 38100),
        ("M10", 46400, 60300),
        ("M12", 67400, 87700),
    ],
)
def test_ultimate_loads(thread: str, strong: float, stronger: float) -> None:
    """ISO 898-1, tables of least ultimate loads, classes 8.8 and 10.9."""
    assert bolts.ultimate_load_n(thread, "8.8") == pytest.approx(strong, rel=0.005)
    assert bolts.ultimate_load_n(thread, "10.9") == pytest.approx(stronger, rel=0.005)


def test_stainless() -> None:
    """ISO 3506-1: A2-70 has 700 N/mm²; on an M8's 36.6 mm² 25.6 kN."""
    assert bolts.ultimate_load_n("M8", "A2-70") == pytest.approx(25_600, rel=0.002)


def test_design_shear() -> None:
    """EN 1993-1-8 Table 3.4 (from memory): 0.6 x 800 x 36.6 / 1.25 is 14.05 kN for M8, 8.8."""
    assert bolts.shear_n("M8", "8.8", "working") == pytest.approx(14_050, rel=0.001)


def test_yield_moment() -> None:
    """EN 1995-1-1 eq. 8.30: M8 of 800 N/mm²."""
    assert fasteners.yield_moment_nmm(800.0, 8.0) == pytest.approx(53_487, rel=1e-4)


def test_wood_screw() -> None:
    """Wood Handbook ch. 8, 15 700 G² D L: No 8 (0.164 in), 1 in deep, G 0.70 holds 1 262 lbf."""
    found = fasteners.withdrawal_n(0.70, 0.164 * INCH, INCH) / POUND
    assert found == pytest.approx(1262.0, abs=1.0)


def test_wood_screw_allowed() -> None:
    """NDS rule: No 10 (0.190 in), G 0.45 may bear 109.65 lbf an inch (printed as 109)."""
    ultimate = fasteners.withdrawal_n(0.45, 0.190 * INCH, INCH) / POUND
    assert ultimate / fasteners.SCREW_RESERVE == pytest.approx(109.65, rel=0.003)


def test_washer_in_wood() -> None:
    """EN 1995-1-1 10.4.3(2): M8, washer 24, f_c,90 2.5 N/mm²: 3 x 2.5 x π/4 (24² − 9²)."""
    assert fasteners.washer_n(2.5, 24.0, 8.0) == pytest.approx(2916.0, abs=0.5)


def test_embedment_of_birch_plywood() -> None:
    """EN 1995-1-1 eq. 8.36 (from memory): ρ_k 630, M8: 63.8 N/mm²; on 12 mm 6.12 kN."""
    stress = fasteners.bolt_embedment_mpa(630.0, 8.0)
    assert stress == pytest.approx(63.8, abs=0.05)
    assert stress * 12.0 * 8.0 == pytest.approx(6120, abs=5)


def test_a_seat_of_25_kg() -> None:
    """49 CFR 571.207 S4.2: 20 x mass x 9.8: 4 900 N for 25 kg (9.80665 gives 4 903)."""
    assert impact.force_n(25.0, 20.0) * 9.8 / 9.80665 == pytest.approx(4900.0)


@pytest.mark.parametrize(("speed", "distance"), [(48.0, 453.0), (50.0, 492.0)])
def test_stopping_at_20_g(speed: float, distance: float) -> None:
    """The identity v²/2a, as printed to three digits."""
    assert impact.stopping_distance(speed, 20.0) == pytest.approx(distance, abs=0.5)


def test_sixty_kilograms_at_20_g() -> None:
    """60 kg at 20 g is 11 768 N, 2.94 kN on each of four bolts; 5 333 and 5 787 J at 48 and 50."""
    assert impact.force_n(60.0, 20.0) == pytest.approx(11_768, abs=0.5)
    assert impact.force_n(60.0, 20.0) / 4.0 == pytest.approx(2940, abs=5)
    assert impact.energy_j(60.0, 48.0) == pytest.approx(5333, abs=0.5)
    assert impact.energy_j(60.0, 50.0) == pytest.approx(5787, abs=0.5)


def test_a_block_on_the_road() -> None:
    """EN 12195-1, F = c m g: 300 kg at 0.8 g is 2 354 N."""
    assert impact.force_n(300.0, 0.8) == pytest.approx(2354, abs=0.5)
    assert math.isclose(impact.energy_j(60.0, 48.0), impact.force_n(60.0, 20.0)
                        * impact.stopping_distance(48.0, 20.0) / 1000.0)  # fmt: skip
