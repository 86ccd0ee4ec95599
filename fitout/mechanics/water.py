"""Water: its density."""

from __future__ import annotations


def water_density_kg_m3(temperature_c: float) -> float:
    """Density of air-free water at atmospheric pressure, kg/m³; 0 to 100 °C.

    Raises:
        ValueError: outside 0 to 100 °C.

    Source: equation of Bettin and Spieweck (1990) in ITS-90 temperatures, as printed in the IP
    Standard Methods 1998, Appendix G; within ±0.006 kg/m³ of tables.
    """
    if not 0.0 <= temperature_c <= 100.0:
        raise ValueError(f"temperature_c: {temperature_c:g}; must be from 0 to 100")
    t = temperature_c
    top = (
        999.83952
        + 16.952577 * t
        - 7.9905127e-3 * t**2
        - 46.241757e-6 * t**3
        + 105.84601e-9 * t**4
        - 281.03006e-12 * t**5
    )
    return top / (1.0 + 16.887236e-3 * t)
