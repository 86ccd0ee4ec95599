"""Forces at lids and drawers against published values.

2010 ADA Standards for Accessible Design, 309.4 (5 lbf, printed as 22.2 N); NIST SP 811, B.8
(1 lbf = 4.448222 N); the angle of friction of any text on statics: a load on a slope begins to
run where tan slope is the coefficient.
"""

import math

import pytest

from fitout.checks.opening_force import OPERABLE_N
from fitout.mechanics.lids import handle_force, weight_moment
from fitout.mechanics.slides import pull_n, slope_of_pull_deg


def test_operable_parts_by_ada_309_4() -> None:
    """Five pounds-force, to the tenth of a newton it is printed with."""
    assert pytest.approx(5.0 * 4.448222, abs=0.05) == OPERABLE_N


def test_a_lid_of_ten_pounds_asks_for_five_at_its_edge() -> None:
    """Law of the lever, in the standard's own units: 10 lb hung in the middle."""
    pound_kg = 0.45359237
    force = handle_force(weight_moment(10.0 * pound_kg, (12.0 * 25.4, 0.0), 0.0), 24.0 * 25.4)
    assert force == pytest.approx(5.0 * 4.448222, rel=1e-6)


@pytest.mark.parametrize("share", [0.02, 0.05, 0.3])
def test_a_load_runs_down_from_the_angle_of_friction(share: float) -> None:
    slope = -math.degrees(math.atan(share))
    assert pull_n(30.0, share, slope) == pytest.approx(0.0, abs=1e-9)
    assert slope_of_pull_deg(30.0, share, 0.0) == pytest.approx(slope)
