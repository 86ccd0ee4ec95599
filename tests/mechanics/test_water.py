from __future__ import annotations

import numpy as np
import pytest

from fitout.mechanics.water import water_density_kg_m3


def test_water_is_densest_at_four_degrees() -> None:
    temperatures = np.arange(0.0, 100.1, 0.5)
    densities = [water_density_kg_m3(float(t)) for t in temperatures]
    assert temperatures[int(np.argmax(densities))] == 4.0


@pytest.mark.parametrize("temperature_c", [-0.1, 100.1, float("nan")])
def test_ice_and_steam_are_refused(temperature_c: float) -> None:
    with pytest.raises(ValueError, match="temperature_c"):
        water_density_kg_m3(temperature_c)
