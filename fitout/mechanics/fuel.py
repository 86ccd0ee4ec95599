"""How far fuel goes."""

from __future__ import annotations


def fuel_used_l(km: float, l_per_100_km: float) -> float:
    """Litres for a distance.

    Raises:
        ValueError: on a negative distance or a consumption that is not above 0.
    """
    if km < 0.0 or not l_per_100_km > 0.0:
        raise ValueError(f"km {km:g} must not be negative, l_per_100_km {l_per_100_km:g} above 0")
    return km * l_per_100_km / 100.0


def range_km(litres: float, reserve_l: float, l_per_100_km: float) -> float:
    """How far one goes until only the reserve is left, km; 0 if less is there.

    Raises:
        ValueError: when the consumption is not above 0.
    """
    if not l_per_100_km > 0.0:
        raise ValueError(f"l_per_100_km: {l_per_100_km:g}; must be above 0")
    return max(0.0, litres - reserve_l) / l_per_100_km * 100.0
