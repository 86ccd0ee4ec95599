"""Bolts, screws, sheet steel and stopping against published values; each source at its test."""

import math

import pytest

from fitout.mechanics import bolts, fasteners, impact

INCH, POUND = 25.4, 4.4482216152605
KSI = 6.894757293168


@pytest.mark.parametrize(
    ("thread", "area", "loads"),
    [
        ("M5", 14.2, {"4.8": 4400, "8.8": 8230, "10.9": 11800}),
        ("M6", 20.1, {"4.8": 6230, "8.8": 11600, "10.9": 16700}),
        ("M8", 36.6, {"4.8": 11400, "8.8": 21200, "10.9": 30400}),
        ("M10", 58.0, {"4.8": 18000, "8.8": 33700, "10.9": 48100}),
        ("M12", 84.3, {"4.8": 26100, "8.8": 48900, "10.9": 70000}),
    ],
)
def test_proof_loads(thread: str, area: float, loads: dict[str, float]) -> None:
    """ISO 898-1, tables of stress areas and proof loads; printed to three digits, some
    rounded down."""
    assert bolts.stress_area(thread) == pytest.approx(area, abs=0.05)
    for grade, load in loads.items():
        assert bolts.proof_load_n(thread, grade) == pytest.approx(load, rel=0.008)


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
    """ISO 3506-1: A2-70 has 700 and 450 N/mm²; on an M8's 36.6 mm² 25.6 and 16.5 kN."""
    assert bolts.ultimate_load_n("M8", "A2-70") == pytest.approx(25_600, rel=0.002)
    assert bolts.proof_load_n("M8", "A2-70") == pytest.approx(16_500, rel=0.003)


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


@pytest.mark.parametrize(
    ("d", "t", "allowed"),
    [
        (0.190, 0.036, 87),
        (0.190, 0.048, 116),
        (0.190, 0.060, 145),
        (0.190, 0.075, 182),
        (0.250, 0.060, 191),
        (0.250, 0.125, 398),
    ],
)
def test_pull_out_of_sheet(d: float, t: float, allowed: float) -> None:
    """AISI S100 pull-out, rows of an evaluation report's table: F_u 45 ksi, safety 3.0, lbf."""
    nominal = fasteners.sheet_pull_out_n(t * INCH, d * INCH, 45.0 * KSI) / POUND
    assert nominal / fasteners.AISI_SAFETY == pytest.approx(allowed, abs=0.6)


def test_pull_over_counts_no_washer_wider_than_half_an_inch() -> None:
    """AISI S100 pull-over: 1.5 t d_w F_u with d_w at most 1/2 in."""
    wide = fasteners.sheet_pull_over_n(0.8, 24.0, 310.0)
    assert wide == pytest.approx(1.5 * 0.8 * 12.7 * 310.0)


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


@pytest.mark.parametrize(("speed", "distance", "time"), [(48.0, 453.0, 68.0), (50.0, 492.0, 70.8)])
def test_stopping_at_20_g(speed: float, distance: float, time: float) -> None:
    """Identities v²/2a and v/a, as printed to three digits."""
    assert impact.stopping_distance(speed, 20.0) == pytest.approx(distance, abs=0.5)
    assert impact.stopping_time_ms(speed, 20.0) == pytest.approx(time, abs=0.05)


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
