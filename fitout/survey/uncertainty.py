"""Standard uncertainties combined, and the quantiles that go with them.

Chi-square and Student probabilities for whole degrees of freedom are finite sums
(Abramowitz & Stegun, Handbook of Mathematical Functions, 26.4.4, 26.4.5, 26.7.3, 26.7.4;
formula numbers from memory), so that no library of special functions need be loaded.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from statistics import NormalDist

NORMAL = NormalDist()

HALVINGS = 80
"""Enough to bring any bracket down to the last digit."""


@dataclass(frozen=True, slots=True)
class Contribution:
    """A standard uncertainty (any unit) and its degrees of freedom."""

    u: float
    freedom: float = math.inf


def worst_case(half_widths: Iterable[float]) -> float:
    """How far a sum may be off if every term is at the wrong end of its range at once."""
    return math.fsum(abs(width) for width in half_widths)


def root_sum_square(half_widths: Iterable[float]) -> float:
    """The statistical range of a sum of independent terms: the root of the sum of squares."""
    return math.sqrt(math.fsum(width * width for width in half_widths))


def rectangular(half_width: float) -> float:
    """Standard uncertainty of a value known to lie within ± `half_width`, evenly likely.

    Raises:
        ValueError: unless the half width is above 0.

    Source: JCGM 100:2008, 4.3.7 (from memory).
    """
    if not half_width > 0.0:
        raise ValueError(f"± {half_width:g}; a tolerance must be above 0")
    return half_width / math.sqrt(3.0)


def combine(contributions: Sequence[Contribution]) -> Contribution:
    """Independent contributions, already multiplied by their sensitivities, as one.

    Degrees of freedom by Welch and Satterthwaite; infinite where all are.

    Source: JCGM 100:2008, equations (10) and (G.2b) (from memory).
    """
    u = math.sqrt(sum(c.u**2 for c in contributions))
    spent = sum(c.u**4 / c.freedom for c in contributions)
    return Contribution(u, u**4 / spent if spent else math.inf)


def expanded(combined: Contribution, level: float) -> float:
    """Half width of the interval that holds the truth at `level` (0 to 1), in the unit of u.

    Degrees of freedom are cut to the whole number below, as JCGM 100:2008, G.4.1 has it
    (from memory).
    """
    if math.isinf(combined.freedom):
        return combined.u * NORMAL.inv_cdf(0.5 + level / 2.0)
    return combined.u * student_quantile(level, math.floor(combined.freedom))


def chi_square_probability(x: float, freedom: int) -> float:
    """Probability that chi-square of so many degrees of freedom stays below `x`."""
    if x <= 0.0:
        return 0.0
    # The terms are built as logarithms: a high power of x may exceed any float.
    odd = freedom % 2
    above = math.erfc(math.sqrt(x / 2.0)) if odd else 0.0
    log_term = -x / 2.0 + (0.5 * math.log(2.0 * x / math.pi) if odd else 0.0)
    for factor in range(2 + odd, freedom + 2 - odd, 2):
        above += math.exp(log_term)
        log_term += math.log(x / factor)
    return 1.0 - above


def chi_square_quantile(level: float, freedom: int) -> float:
    """The value chi-square of so many degrees of freedom stays below with this probability.

    Raises:
        ValueError: unless there is a degree of freedom and the level lies between 0 and 1.
    """
    _demand(level, freedom)
    # Wilson and Hilferty's cube is close everywhere; twice that and some is surely above.
    spread = 2.0 / (9.0 * freedom)
    about = freedom * max(1.0 - spread + NORMAL.inv_cdf(level) * math.sqrt(spread), 0.0) ** 3
    return _solve(lambda x: chi_square_probability(x, freedom) - level, 2.0 * about + 20.0)


def student_probability(t: float, freedom: int) -> float:
    """Probability that Student's t of so many degrees of freedom lies within ± `t`."""
    angle = math.atan(t / math.sqrt(freedom))
    odd = freedom % 2
    term = math.cos(angle) if odd else 1.0
    total = 0.0
    for factor in range(1 + odd, freedom, 2):
        total += term
        term *= math.cos(angle) ** 2 * factor / (factor + 1)
    total *= math.sin(angle)
    return 2.0 / math.pi * (angle + total) if odd else total


def student_quantile(level: float, freedom: int) -> float:
    """The t within ± of which Student's t of so many degrees of freedom lies at `level`.

    Raises:
        ValueError: unless there is a degree of freedom and the level lies between 0 and 1.
    """
    _demand(level, freedom)
    # No t is larger than that of one degree of freedom, whose quantile is a tangent.
    most = math.tan(math.pi * level / 2.0) + 1.0
    return _solve(lambda t: student_probability(t, freedom) - level, most)


def _demand(level: float, freedom: int) -> None:
    if freedom < 1 or not 0.0 < level < 1.0:
        raise ValueError(f"level {level:g} with {freedom} degrees of freedom has no quantile")


def _solve(increasing: Callable[[float], float], most: float) -> float:
    low, high = 0.0, most
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        if increasing(middle) < 0.0:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0
