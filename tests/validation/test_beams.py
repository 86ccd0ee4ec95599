"""Beams against the differential equation, solved by numerical integration."""

from __future__ import annotations

import numpy as np
import pytest

from fitout.mechanics.beams import centre_load, second_moment, uniform_load

SPAN, LOAD, STIFFNESS = 900.0, 400.0, 1.7e9


def integral(values: np.ndarray, x: np.ndarray) -> np.ndarray:
    """The running integral by the trapezium rule."""
    steps = np.diff(x) * (values[1:] + values[:-1]) / 2.0
    return np.concatenate([[0.0], np.cumsum(steps)])


def sag_on_two_supports(moment: np.ndarray, x: np.ndarray) -> float:
    """Largest deflection for a moment diagram: E I w'' = −M, w = 0 at both ends."""
    w = integral(integral(-moment / STIFFNESS, x), x)
    return float(np.abs(w - w[-1] * x / x[-1]).max())


def test_uniform_load_on_two_supports() -> None:
    """Euler-Bernoulli: M = q x (L − x) / 2."""
    x = np.linspace(0.0, SPAN, 4001)
    moment = LOAD / SPAN * x * (SPAN - x) / 2.0
    result = uniform_load(SPAN, LOAD, STIFFNESS)
    assert result.moment_nmm == pytest.approx(moment.max(), rel=1e-9)
    assert result.deflection == pytest.approx(sag_on_two_supports(moment, x), rel=1e-6)


def test_centre_load_on_two_supports() -> None:
    """Euler-Bernoulli: M = P x / 2 up to the middle."""
    x = np.linspace(0.0, SPAN, 4001)
    moment = LOAD / 2.0 * np.minimum(x, SPAN - x)
    result = centre_load(SPAN, LOAD, STIFFNESS)
    assert result.moment_nmm == pytest.approx(moment.max(), rel=1e-9)
    assert result.deflection == pytest.approx(sag_on_two_supports(moment, x), rel=1e-6)


@pytest.mark.parametrize(("width", "height", "wall"), [(25, 25, 2), (40, 20, 2), (40, 5, None)])
def test_second_moment(width: float, height: float, wall: float | None) -> None:
    """The integral of y² over the section, in strips."""
    edges = np.linspace(-height / 2.0, height / 2.0, 20_001)
    y = (edges[1:] + edges[:-1]) / 2.0
    metal = np.full_like(y, width)
    if wall is not None:
        metal[np.abs(y) < height / 2.0 - wall] = 2.0 * wall
    expected = float((y**2 * metal).sum() * (edges[1] - edges[0]))
    assert second_moment(width, height, wall) == pytest.approx(expected, rel=1e-3)
