"""Levelling nets against published adjustments.

1. The sample output of GNU Gama (gama-local, the free geodetic adjustment program, example of
   a levelling loop): eight height differences of equal weight between one fixed and three
   unknown points, a-priori standard deviation 5.00 mm. Printed: heights to 0.01 mm, [pvv]
   146.625, a-posteriori 5.42 mm, standard deviations of the heights, largest normalised
   residual 1.68 at observation 6.
2. The same with 30 mm added to observation 6: worked out by hand from the same equations, with
   the critical value 3.29 of the two-sided normal test at 0.001.
3. Ghilani & Wolf, Adjustment Computations, chapter on level nets: seven differences between two
   bench marks and three stations, unit weights (from memory; heights to 1 mm, S0 to 1 mm).
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np
import pytest
from scipy import stats

from fitout.survey.adjustment import Adjustment, Array, Observation, adjust
from fitout.survey.snooping import snoop

Rises = Sequence[tuple[str, str, float]]

GAMA: Rises = (
    ("1a", "4", -1.225),
    ("4", "3", -0.848),
    ("3", "2", 1.342),
    ("2", "1a", 0.720),
    ("1a", "2", -0.724),
    ("2", "3", -1.335),
    ("3", "4", 0.842),
    ("4", "1a", 1.231),
)
GAMA_FIXED = {"1a": 1000.0}
GAMA_NAMES = ("4", "3", "2")
GAMA_U = 0.005

GHILANI: Rises = (
    ("BMX", "A", 5.10),
    ("A", "BMY", 2.34),
    ("BMY", "C", -1.25),
    ("C", "BMX", -6.13),
    ("A", "B", -0.68),
    ("BMY", "B", -3.00),
    ("B", "C", 1.70),
)


def net(
    rises: Rises, fixed: Mapping[str, float], names: Sequence[str], u: float
) -> list[Observation]:
    """Height differences, in metres, as notes."""

    def note(number: int, a: str, b: str, rise: float) -> Observation:
        def height(x: Array, point: str) -> float:
            return fixed[point] if point in fixed else float(x[names.index(point)])

        return Observation(
            name=str(number),
            path=(),
            value=rise,
            u=u,
            predict=lambda x: height(x, b) - height(x, a),
            on=tuple(names.index(point) for point in (a, b) if point not in fixed),
        )

    return [note(i + 1, *rise) for i, rise in enumerate(rises)]


def gama(error: float = 0.0) -> list[Observation]:
    """The eight observations, the sixth with an error added, in metres."""
    rises = [(a, b, rise + (error if i == 5 else 0.0)) for i, (a, b, rise) in enumerate(GAMA)]
    return net(rises, GAMA_FIXED, GAMA_NAMES, GAMA_U)


@pytest.fixture(scope="module")
def loop() -> Adjustment:
    return adjust(gama(), np.full(3, 1000.0), GAMA_NAMES)


def test_heights(loop: Adjustment) -> None:
    assert loop.values == pytest.approx([998.77513, 997.93325, 999.27487], abs=6e-6)
    assert loop.freedom == 5


def test_sum_of_squares_and_what_follows(loop: Adjustment) -> None:
    """Gama's [pvv] is in mm² with weight 1 for 5 mm; its m0' is in mm."""
    assert loop.pvv * 25.0 == pytest.approx(146.625, abs=5e-4)
    assert loop.m0 * 5.0 == pytest.approx(5.42, abs=5e-3)
    assert loop.pvv == pytest.approx(5.865, abs=5e-4)
    assert loop.limit == pytest.approx(11.07, abs=5e-3)
    assert loop.consistent


def test_how_sure_the_heights_are(loop: Adjustment) -> None:
    millimetres = 1000.0 * np.sqrt(np.diag(loop.covariance))
    assert millimetres == pytest.approx([3.1, 3.5, 3.1], abs=0.05)


def test_how_well_each_is_checked(loop: Adjustment) -> None:
    assert loop.redundancy == pytest.approx(np.full(8, 0.625))
    assert 1000.0 * loop.detectable == pytest.approx(np.full(8, 4.13 * 5.0 / math.sqrt(0.625)))


def test_the_largest_normalised_residual(loop: Adjustment) -> None:
    sizes = np.abs(loop.standardised)
    assert np.argmax(sizes) == 5
    assert sizes[5] == pytest.approx(1.68, abs=5e-3)


def test_thirty_millimetres_in_the_sixth() -> None:
    taken = adjust(gama(0.030), np.full(3, 1000.0), GAMA_NAMES)
    assert taken.standardised[5] == pytest.approx(-6.42, abs=5e-3)
    assert np.sort(np.abs(taken.standardised))[-2] == pytest.approx(2.94, abs=5e-3)
    assert not taken.consistent
    found = snoop(gama(0.030), np.full(3, 1000.0), GAMA_NAMES)
    (blunder,) = found.blunders
    assert blunder.name == "6"
    # The other seven alone: 2 to 3 by 3 to 2 backwards, by 2 to 1a to 4 to 3 and so on.
    others = adjust([n for n in gama() if n.name != "6"], np.full(3, 1000.0), GAMA_NAMES)
    assert found.adjustment.values == pytest.approx(others.values, abs=1e-9)
    assert blunder.likely == pytest.approx(others.values[1] - others.values[2])


def test_the_test_is_as_strict_as_said() -> None:
    assert stats.norm.isf(0.0005) == pytest.approx(3.29, abs=5e-3)
    assert stats.norm.isf(0.0005) + stats.norm.ppf(0.80) == pytest.approx(4.13, abs=5e-3)


def test_the_textbook_net() -> None:
    names = ("A", "B", "C")
    notes = net(GHILANI, {"BMX": 100.00, "BMY": 107.50}, names, 1.0)
    taken = adjust(notes, np.full(3, 105.0), names)
    assert taken.values == pytest.approx([105.141, 104.483, 106.188], abs=6e-4)
    assert taken.m0 == pytest.approx(0.050, abs=6e-4)
    assert taken.freedom == 4
