import numpy as np
import pytest

from fitout.clearance.passage_turn import (
    FINEST_DEG,
    greatest,
    proven,
    reach_from,
    supports,
    turns,
)


def test_turns_follow_the_right_hand_rule() -> None:
    quarter = turns(np.array([1.0, 0.0, 0.0]), np.array([90.0]))[0]
    assert quarter @ np.array([0.0, 1.0, 0.0]) == pytest.approx([0.0, 0.0, 1.0])


def test_supports_reach_to_the_farthest_corner() -> None:
    points = np.array([[0.0, 3.0, 0.0], [0.0, -1.0, 0.0]])
    normals = np.array([[0.0, 1.0, 0.0], [0.0, 0.0, 1.0]])
    held = supports(points, normals, turns(np.array([1.0, 0.0, 0.0]), np.array([0.0, 90.0])))
    assert held == pytest.approx(np.array([[3.0, 0.0], [0.0, 3.0]]))


def test_reach_is_from_the_axis() -> None:
    assert reach_from(np.array([[9.0, 3.0, 4.0]]), np.array([1.0, 0.0, 0.0])) == 5.0


def test_proven_spans_end_where_the_slack_does() -> None:
    # A rod of 2 · 500 standing on its middle under a ceiling at 400.
    def slack(angles: np.ndarray) -> np.ndarray:
        return np.asarray(400.0 - 500.0 * np.abs(np.sin(np.radians(angles))))

    spans = proven(slack, (-90.0, 90.0), 0.0, 500.0)
    (low, high), edge = spans.sure[0], float(np.degrees(np.arcsin(0.8)))
    assert len(spans.sure) == 1
    assert edge - 2 * FINEST_DEG < high <= edge
    assert -edge <= low < -edge + 2 * FINEST_DEG
    assert all(any(a <= end <= b for a, b in spans.open) for end in (-edge, edge))
    assert spans.round(0.0) == (low, high)
    assert spans.round(60.0) is None


def test_nothing_is_proven_where_nothing_fits() -> None:
    spans = proven(lambda angles: np.full(len(angles), -1.0), (0.0, 90.0), 0.0, 500.0)
    assert spans.sure == spans.open == ()


def test_a_narrow_place_between_the_first_angles_is_found() -> None:
    def slack(angles: np.ndarray) -> np.ndarray:
        return np.asarray(0.05 - 8.0 * np.abs(np.radians(angles - 31.234)))

    assert len(proven(slack, (-180.0, 180.0), 0.0, 8.0).sure) == 1
    at, most = greatest(slack, (-180.0, 180.0), 8.0, 0.001)
    assert at == pytest.approx(31.234, abs=0.01)
    assert 0.049 <= most <= 0.05
