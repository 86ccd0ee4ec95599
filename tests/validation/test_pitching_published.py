"""A ladder carried level round a right-angled corner: the astroid's envelope.

From a corridor b wide into one a wide, the longest thin rod that gets round is
(a^(2/3) + b^(2/3))^(3/2): the standard exercise of differential calculus.
"""

import numpy as np
import pytest

from fitout.clearance.pitching import Chain, Outlines, chain_between, outlines_of

FAR = 6000.0


def corner(a: float, b: float) -> Outlines:
    """Seen as floor, far wall, and the inner corner at (0, b)."""
    return outlines_of(
        [
            np.array([(-FAR, b), (0.0, b), (0.0, FAR), (-FAR, FAR)]),
            np.array([(-FAR, -99.0), (a + 99.0, -99.0), (a + 99.0, 0.0), (-FAR, 0.0)]),
            np.array([(a, -99.0), (a + 99.0, -99.0), (a + 99.0, FAR), (a, FAR)]),
        ]
    )


def carried(length: float, a: float, b: float) -> Chain | None:
    half = length / 2.0
    rod = outlines_of([np.array([(x, z) for x in (-half, half) for z in (-0.5, 0.5)])])
    limits = np.array([(-half - 400.0, 0.0, -0.2), (a, b + length, 2.0)])
    start = (-half - 300.0, b / 2.0, 0.0)
    return chain_between(rod, corner(a, b), start, lambda p: b + half + 50.0 - p[:, 1], limits)


@pytest.mark.parametrize(("a", "b"), [(900.0, 900.0), (900.0, 700.0), (500.0, 1200.0)])
def test_a_ladder_round_a_corner(a: float, b: float) -> None:
    longest = (a ** (2.0 / 3.0) + b ** (2.0 / 3.0)) ** 1.5
    assert carried(0.96 * longest, a, b) is not None
    assert carried(1.001 * longest, a, b) is None
