"""What notes measure, against geometry worked out by hand."""

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from fitout.model.design import BaySpec
from fitout.model.notes import NoteSpec
from fitout.model.spec import Measured
from fitout.survey.bay import build_bay
from fitout.survey.measures import between_arches, measure, square_off
from fitout.survey.parameters import parameters
from fitout.survey.points import Places
from fitout.survey.room import clear_width, front_face

Make = Callable[..., Any]


def start_of(spec: BaySpec) -> np.ndarray:
    return np.array([*(p.value for p in parameters(spec)), 1.5, 3.0])


def predicted(spec: BaySpec, **what: Any) -> float:
    start = start_of(spec)
    note = NoteSpec(**what)
    return measure(Places(spec), note, start, pitch=len(start) - 2).quantity.value(start)


def test_distances_are_straight(tour_bay: BaySpec) -> None:
    width = 620.0 + 0.5 * 1264.0
    diagonal = predicted(tour_bay, between=("left sill corner", "right front corner"))
    assert diagonal == pytest.approx(math.hypot(width, 1164.0))
    upright = predicted(tour_bay, between=("left wall 1/0", "right wall 1/620"))
    assert upright == pytest.approx(math.hypot(620.0 + 590.0, 620.0))


def test_widths_are_those_of_the_room(tour_bay: BaySpec) -> None:
    bay = build_bay(tour_bay)
    for x, z in ((100.0, 240.0), (560.0, 450.0), (1000.0, 620.0), (500.0, 100.0)):
        right, left = clear_width(bay, (x, x), (z, z))
        assert predicted(tour_bay, across=(x, z)) == pytest.approx(left - right, abs=1e-6)


def test_a_tape_low_across_the_arches_meets_them(plain_bay: Make, arches: Make) -> None:
    box = Places(plain_bay(wheel_arches=arches()))
    start = start_of(box.bay)
    places = [(300.0, 259.0), (800.0, 0.0), (299.0, 0.0), (500.0, 260.0)]
    assert [between_arches(box, *p, start) for p in places] == [True, True, False, False]
    profile = ((300.0, 0.0), (500.0, 200.0), (700.0, 0.0))
    shaped = arches(start=None, end=None, height=None, profile=profile)
    bay = plain_bay(wheel_arches=shaped)
    assert between_arches(Places(bay), 400.0, 99.0, start_of(bay))
    assert not between_arches(Places(bay), 400.0, 101.0, start_of(bay))
    assert predicted(bay, across=(400.0, 50.0)) == 1000.0


def test_depths_heights_and_levels(tour_bay: BaySpec) -> None:
    bay = build_bay(tour_bay)
    assert predicted(tour_bay, forward=300.0) == pytest.approx(front_face(bay, 300, 300, "17°"))
    assert predicted(tour_bay, up=280.0) == pytest.approx((850.0 + 861.0) / 2.0)
    assert predicted(tour_bay, up=560.0) == 861.0
    assert predicted(tour_bay, angle="floor") == 1.5
    assert predicted(tour_bay, angle="seat_back") == 18.5


def test_an_offset_is_square_to_the_string(tour_bay: BaySpec) -> None:
    """From (0, 620) to (1164, 632), both on the floor; the arch's foot is at (318, 500)."""
    ends = ("left sill corner", "left front corner")
    found = predicted(tour_bay, string=ends, offset_to="left arch rear foot")
    along = np.array([1164.0, 12.0])
    out = np.array([318.0, -120.0])
    across = abs(float(along[0] * out[1] - along[1] * out[0])) / float(np.linalg.norm(along))
    assert found == pytest.approx(across)


@pytest.mark.parametrize("bulge", [-4.0, 0.0, 4.0])
def test_an_offset_has_no_kink_where_the_wall_meets_the_string(
    plain_bay: Make, sections: Make, bulge: float
) -> None:
    widths = ({0.0: 1200.0}, {0.0: 1200.0 + 2.0 * bulge}, {0.0: 1200.0})
    rows = sections(*zip((0.0, 500.0, 1000.0), widths, strict=True))
    spec = plain_bay(sections=rows)
    start = start_of(spec)
    note = NoteSpec(string=("left wall 1/0", "left wall 3/0"), offset_to="left wall 2/0")
    offset = measure(Places(spec), note, start, pitch=len(start) - 2).quantity
    assert offset.value(start) == pytest.approx(abs(bulge))
    k = next(i for i, p in enumerate(parameters(spec)) if p.path == ("sections", 1, "widths", "0"))
    outwards = 1.0 if bulge >= 0.0 else -1.0
    for change in (-20.0, 20.0):
        moved = start.copy()
        moved[k] += change
        expected = abs(bulge) + outwards * change / 2.0
        assert offset.value(moved) == pytest.approx(expected)


def test_the_same_thing_has_the_same_name_however_it_is_noted(plain_bay: Make, seat: Make) -> None:
    spec = plain_bay(seat_back=seat())
    start = start_of(spec)

    def what(**note: Any) -> str:
        return measure(Places(spec), NoteSpec(**note), start, pitch=len(start) - 2).what

    width = "width at section 1, 0 up"
    assert what(across=(0.0, 0.0)) == width
    assert what(between=("right wall 1/0", "left wall 1/0")) == width
    assert what(forward=0.0) == "depth to the seat back's foot"
    assert what(up=0.0) == "roof height at section 1"
    there, back = (
        ("left sill corner", "right front corner"),
        ("right front corner", "left sill corner"),
    )
    assert what(between=there) == what(between=back)
    assert what(across=(10.0, 0.0)) != width


def test_ends_that_may_touch_a_lining(tour_bay: BaySpec) -> None:
    start = start_of(tour_bay)
    kinds: dict[str, Any] = {"across": (0.0, 0.0), "up": 0.0, "forward": 0.0, "angle": "floor"}
    ends = [
        measure(Places(tour_bay), NoteSpec(**{key: value}), start, len(start) - 2).ends
        for key, value in kinds.items()
    ]
    assert ends == [2, 1, 1, 0]


def test_square_off() -> None:
    along, out = np.array([2.0, 0.0, 0.0]), np.array([5.0, 0.0, 3.0])
    assert square_off(along, out) == pytest.approx((0.0, 0.0, 1.0))
    assert square_off(along, along) is None


def test_sides_given_apart_have_no_one_entry(tour_bay: BaySpec) -> None:
    start = start_of(tour_bay)
    note = NoteSpec(across=(0.0, 0.0), reads=Measured(1230.0))
    meant = measure(Places(tour_bay), note, start, len(start) - 2)
    assert meant.what == "width 0 forward, 0 up"
    assert meant.quantity.value(start) == 1230.0
