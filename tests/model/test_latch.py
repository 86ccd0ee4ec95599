"""Where the parts of a latch lie, in its own directions."""

import numpy as np
import pytest

from fitout import catalogue
from fitout.model.latch import Latch

ROWS = catalogue.load()


@pytest.fixture
def latch() -> Latch:
    """A push-button latch under a lid, its bolt thrown to the right."""
    return Latch(
        motion="lid",
        module="bin",
        type=ROWS.latches["push-button latch"],
        panel="bin/lid",
        root=(300.0, 50.0, 400.0),
        normal=(0.0, 0.0, -1.0),
        throw=(0.0, -1.0, 0.0),
        striker=ROWS.strikers["lip striker"],
        striker_panel="bin/wall",
        strikes=(300.0, 39.5, 394.5),
    )


def spans(corners: tuple[tuple[float, float, float], ...]) -> list[tuple[float, float]]:
    points = np.array(corners)
    return [(float(a), float(b)) for a, b in zip(points.min(0), points.max(0), strict=True)]


def test_it_belongs_to_a_motion(latch: Latch) -> None:
    assert latch.motion_id == "bin/lid"


def test_its_three_directions_are_square(latch: Latch) -> None:
    axes = np.array([latch.across, latch.throw, latch.normal])
    assert np.allclose(axes @ axes.T, np.eye(3))
    assert np.linalg.det(axes) == pytest.approx(1.0)


def test_the_case_hangs_below_the_lid(latch: Latch) -> None:
    assert spans(latch.case) == [(278.0, 322.0), (50.0, 96.0), (382.0, 400.0)]


def test_the_bolt_leaves_the_case_towards_the_wall(latch: Latch) -> None:
    assert spans(latch.bolt) == [(293.0, 307.0), (40.0, 50.0), (387.0, 394.0)]


def test_the_lip_stands_off_the_wall_above_the_bolt(latch: Latch) -> None:
    assert spans(latch.lip) == [(289.0, 311.0), (39.5, 46.0), (394.5, 396.5)]


def test_holes_and_button(latch: Latch) -> None:
    assert sorted(latch.case_holes) == [(282.5, 60.0, 400.0), (317.5, 60.0, 400.0)]
    assert sorted(latch.striker_holes) == [(283.0, 39.5, 390.5), (317.0, 39.5, 390.5)]
    assert latch.button == (300.0, 76.0, 400.0)
