"""Water's density against a widely reprinted table."""

from __future__ import annotations

import pytest

from fitout.mechanics.water import water_density_kg_m3


@pytest.mark.parametrize(
    ("temperature_c", "density_kg_m3", "tolerance"),
    [
        (0, 999.8395, 0.01),
        (4, 999.9720, 0.01),
        (10, 999.7026, 0.01),
        (20, 998.2071, 0.01),
        (25, 997.0479, 0.01),
        (30, 995.6502, 0.01),
        (40, 992.2, 0.05),
    ],
)
def test_the_common_table(temperature_c: float, density_kg_m3: float, tolerance: float) -> None:
    """The table of air-free water's density reprinted in most handbooks, kg/m³.

    The equation's own stated uncertainty is 0.006 kg/m³.
    """
    assert water_density_kg_m3(temperature_c) == pytest.approx(density_kg_m3, abs=tolerance)
