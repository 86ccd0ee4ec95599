"""Bolts: what they refuse, and how tension and shear go together."""

import pytest

from fitout.mechanics.bolts import (
    GRADES,
    diameter,
    shear_n,
    stress_area,
    tension_and_shear,
    tension_n,
    ultimate_load_n,
)


@pytest.mark.parametrize("ask", [stress_area, diameter])
def test_an_unknown_thread(ask) -> None:
    with pytest.raises(ValueError, match="thread: M7; must be one of M4, M5"):
        ask("M7")


def test_an_unknown_grade() -> None:
    with pytest.raises(ValueError, match=r"grade: 9\.9; must be one of 4\.8, 8\.8, 10\.9"):
        ultimate_load_n("M8", "9.9")


@pytest.mark.parametrize("name", GRADES)
def test_working_is_less_than_what_breaks(name: str) -> None:
    for holds in (tension_n, shear_n):
        assert holds("M8", name, "working") < holds("M8", name, "ultimate")
    assert shear_n("M8", name, "ultimate") < tension_n("M8", name, "ultimate")


def test_tension_with_shear() -> None:
    assert tension_and_shear(0.0, 5.0, 10.0, 10.0) == pytest.approx(0.5)
    assert tension_and_shear(10.0, 0.0, 10.0, 10.0) == pytest.approx(1.0)
    assert tension_and_shear(7.0, 5.0, 10.0, 10.0) == pytest.approx(1.0)


@pytest.mark.parametrize("bad", [(-1.0, 0.0, 1.0, 1.0), (0.0, 0.0, 0.0, 1.0)])
def test_refused(bad) -> None:
    with pytest.raises(ValueError, match="must"):
        tension_and_shear(*bad)
