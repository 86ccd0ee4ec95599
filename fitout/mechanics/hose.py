"""Water that runs from a tank through a hose by its own weight."""

from __future__ import annotations

import math
from collections.abc import Callable

from fitout.mechanics.boards import STANDARD_GRAVITY
from fitout.mechanics.water import water_density_kg_m3

HOSE_ROUGHNESS = 0.0015
"""Roughness of drawn plastic hose, mm (drawn tubing in the Moody chart, from memory)."""

LAMINAR_BELOW = 2300.0
TURBULENT_ABOVE = 4000.0
"""Reynolds numbers between which flow in a pipe may be either (common practice)."""


def water_viscosity_pa_s(temperature_c: float) -> float:
    """Dynamic viscosity of water, Pa·s; 0 to 100 °C.

    Raises:
        ValueError: outside 0 to 100 °C.

    Source: 2.414e-5 · 10^(247.8 / (T − 140)) with T in kelvin, within 2.5 % of tables (the
    usual Vogel form, from memory).
    """
    if not 0.0 <= temperature_c <= 100.0:
        raise ValueError(f"temperature_c: {temperature_c:g}; must be from 0 to 100")
    return 2.414e-5 * math.pow(10.0, 247.8 / (temperature_c + 273.15 - 140.0))


def friction_factor(reynolds: float, relative_roughness: float) -> float:
    """Darcy's friction factor of a round pipe.

    Laminar 64 / Re; turbulent by Colebrook and White, 1/√f = −2 log10(ε/3.7D + 2.51/(Re √f)),
    solved by iteration; between Re 2300 and 4000, where flow may be either, the larger counts.

    Raises:
        ValueError: unless Re is above 0 and ε/D from 0 to 0.05.

    Source: Colebrook (1939), as in the Moody chart.
    """
    if not reynolds > 0.0:
        raise ValueError(f"reynolds: {reynolds:g}; must be above 0")
    if not 0.0 <= relative_roughness <= 0.05:
        raise ValueError(f"relative_roughness: {relative_roughness:g}; must be from 0 to 0.05")
    laminar = 64.0 / reynolds
    if reynolds < LAMINAR_BELOW:
        return laminar
    root = 8.0
    for _ in range(50):
        after = -2.0 * math.log10(relative_roughness / 3.7 + 2.51 * root / reynolds)
        if abs(after - root) < 1e-12:
            break
        root = after
    turbulent = 1.0 / (root * root)
    return turbulent if reynolds > TURBULENT_ABOVE else max(laminar, turbulent)


def gravity_flow_l_min(
    head: float,
    length: float,
    bore: float,
    minor_losses: float,
    roughness: float = HOSE_ROUGHNESS,
    temperature_c: float = 20.0,
) -> float:
    """Flow through a hose that runs full, driven by `head` mm of water alone, l/min.

    The head is spent on friction and on `minor_losses` ΣK velocity heads (inlet, bends, tap and
    the velocity at the outlet, which counts 1): h = v²/2g (f L/D + ΣK). Lengths in mm. No head,
    no flow.

    Raises:
        ValueError: on a negative length, a bore or ΣK that is not above 0, or water that is none.

    Source: Darcy and Weisbach, with Colebrook's friction factor.
    """
    if length < 0.0 or not bore > 0.0 or not minor_losses > 0.0:
        raise ValueError(
            f"length {length:g} must not be negative, bore {bore:g} and minor_losses "
            f"{minor_losses:g} must be above 0"
        )
    if head <= 0.0:
        return 0.0
    bore_m, rough = bore / 1000.0, roughness / bore
    viscosity = water_viscosity_pa_s(temperature_c) / water_density_kg_m3(temperature_c)

    def losses(speed: float) -> float:
        friction = friction_factor(speed * bore_m / viscosity, rough) * length / bore
        return friction + minor_losses

    free = 2.0 * STANDARD_GRAVITY * head / 1000.0
    speed = _settled(losses, free, minor_losses)
    area_m2 = math.pi / 4.0 * bore_m**2
    return speed * area_m2 * 60_000.0


def _settled(losses: Callable[[float], float], free: float, minor: float) -> float:
    """The speed v at which v² times its losses is `free`, 2 g h in m²/s².

    Losses change little with speed, so that trying v = √(free / losses(v)) again soon settles;
    where it does not, between two kinds of flow, the speed is found by halving.
    """
    speed = high = math.sqrt(free / minor)
    for _ in range(20):
        after = math.sqrt(free / losses(speed))
        if abs(after - speed) <= 1e-12 * speed:
            return after
        speed = after
    low = 0.0
    for _ in range(60):
        middle = (low + high) / 2.0
        if middle * middle * losses(middle) < free:
            low = middle
        else:
            high = middle
    return low


STEPS = 16
"""Pairs of intervals in which a falling head is followed: a doubling changes less than 0.1 %."""


def drawing_time_s(
    litres: float, area_m2: float, head: float, length: float, bore: float, minor_losses: float
) -> float:
    """Seconds to draw `litres` from a tank of plan area `area_m2` while its level falls.

    `head` is the height of the surface above the outlet at the start, mm. Infinite if the
    surface comes down to the outlet before that.

    Raises:
        ValueError: on litres that are negative or an area that is not above 0, and as
            `gravity_flow_l_min`.

    Source: dt = dV / Q(h), h falling by V / A, summed by Simpson's rule.
    """
    if litres < 0.0 or not area_m2 > 0.0:
        raise ValueError(f"litres {litres:g} must not be negative, area_m2 {area_m2:g} above 0")
    if head - litres / area_m2 <= 0.0:
        return math.inf
    step = litres / (2 * STEPS)
    total = 0.0
    for k in range(2 * STEPS + 1):
        flow = gravity_flow_l_min(head - k * step / area_m2, length, bore, minor_losses)
        weight = 1.0 if k in (0, 2 * STEPS) else 4.0 if k % 2 else 2.0
        total += weight / flow
    return total * step / 3.0 * 60.0
