"""Notes that can't be used, each told where and why."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from fitout.model.design import BaySpec
from fitout.model.notes import NoteSpec
from fitout.model.spec import Measured
from fitout.survey.note_faults import nearest, note_faults
from fitout.survey.parameters import parameters
from fitout.survey.points import Places

Make = Callable[..., Any]
READS = Measured(1200.0)
SILL = ("left sill corner", "right sill corner")


def faults(spec: BaySpec, **what: Any) -> list[tuple[tuple[Any, ...], str, str, str]]:
    start = np.array([*(p.value for p in parameters(spec)), 0.0, 3.0])
    found = note_faults(NoteSpec(**what), ("note",), Places(spec), start)
    return [(f.path[1:], f.found, f.expected, f.hint) for f in found]


def test_notes_without_fault(tour_bay: BaySpec) -> None:
    fine: tuple[dict[str, Any], ...] = (
        {"between": SILL, "reads": READS, "again": (READS,)},
        {"across": (560.0, 300.0), "pressed": READS},
        {"up": 0.0, "reads": READS},
        {"forward": 612.0, "reads": READS},
        {"string": SILL, "offset_to": "left arch rear foot", "reads": Measured(0.0, 2.0)},
        {"angle": "floor", "degrees": Measured(-0.4)},
    )
    for note in fine:
        assert faults(tour_bay, **note) == []


def test_one_thing_is_measured_by_one_note(tour_bay: BaySpec) -> None:
    ((_, found, expected, _),) = faults(tour_bay, reads=READS)
    assert found == "a note that does not say what was measured"
    assert expected == "one of between, across, up, forward, string, angle"
    ((_, found, _, _),) = faults(tour_bay, reads=READS, up=10.0, forward=0.0)
    assert found == "up and forward"


def test_unknown_points_are_told_with_the_nearest(tour_bay: BaySpec) -> None:
    found = faults(tour_bay, between=("left sil corner", "Right_front corner"), reads=READS)
    assert found[0][:2] == (("between", 0), "left sil corner")
    assert found[0][3].startswith("Nearest: left sill corner")
    assert found[1][3].startswith("Nearest: right front corner")
    assert len(found) == 2
    ((path, _, _, hint),) = faults(tour_bay, string=SILL, offset_to="xyzzy", reads=READS)
    assert (path, hint) == (("offset_to",), "")


def test_two_points_are_two_places(tour_bay: BaySpec) -> None:
    ((path, found, _, _),) = faults(tour_bay, between=(SILL[0], SILL[0]), reads=READS)
    assert (path, found) == (("between",), "left sill corner twice")
    same = ("left sill corner", "left wall 1/0")
    ((_, _, _, hint),) = faults(tour_bay, between=same, reads=READS)
    assert hint == "left sill corner and left wall 1/0 are two names of one place."


def test_a_string_and_its_offset_belong_together(tour_bay: BaySpec) -> None:
    ((_, found, _, _),) = faults(tour_bay, string=SILL, reads=READS)
    assert found == "a string and nothing measured off it"
    ((path, found, _, _),) = faults(tour_bay, up=0.0, reads=READS, offset_to=SILL[0])
    assert (path, found) == (("offset_to",), "an offset and no string")
    ((path, _, expected, _),) = faults(tour_bay, string=SILL, reads=READS, offset_to=SILL[0])
    assert (path, expected) == (("offset_to",), "a point away from the string's ends")


@pytest.mark.parametrize(
    ("what", "path", "found"),
    [
        ({"across": (560.0, 900.0)}, "across", "900 up, where the roof is at 861"),
        ({"across": (1200.0, 300.0)}, "across", "1200 forward, where the bay ends at 1164"),
        ({"across": (-5.0, 300.0)}, "across", "-5 forward"),
        ({"up": 1300.0}, "up", "1300 forward, where the bay ends at 1164"),
        ({"forward": 700.0}, "forward", "700 up, where the seat back ends at 612"),
    ],
)
def test_places_outside_the_bay(
    tour_bay: BaySpec, what: dict[str, Any], path: str, found: str
) -> None:
    ((where, told, _, _),) = faults(tour_bay, **what, reads=READS)
    assert (where, told) == ((path,), found)


def test_a_bay_without_a_seat_back(plain_bay: Make) -> None:
    ((path, _, expected, _),) = faults(plain_bay(), angle="seat_back", degrees=Measured(0.0))
    assert (path, expected) == (("angle",), "an angle of the floor")
    ((path, found, _, _),) = faults(plain_bay(), forward=900.0, reads=READS)
    assert (path, found) == (("forward",), "900 up, where the roof is at 850")


def test_lengths_and_angles_are_not_mixed_up(tour_bay: BaySpec) -> None:
    ((_, found, _, _),) = faults(tour_bay, angle="floor")
    assert found == "no `degrees`"
    found_both = faults(tour_bay, angle="floor", degrees=Measured(0.0), reads=READS)
    assert found_both[0][:2] == (("reads",), "a length")
    again = faults(tour_bay, angle="floor", degrees=Measured(0.0), again=(READS,))
    assert again[0][:2] == (("again",), "a length")
    assert faults(tour_bay, up=0.0)[0][1] == "no `reads`"
    mixed = faults(tour_bay, up=0.0, degrees=Measured(1.0), reads=READS)
    assert mixed[0][:2] == (("degrees",), "an angle")


@pytest.mark.parametrize(
    ("reading", "expected"),
    [
        (Measured(-3.0), "a length above 0"),
        (Measured(0.0), "a length above 0"),
        (Measured(5.0, 5.0), "a tolerance less than the length"),
        (Measured(800.0, about=True), "what was read, without about"),
    ],
)
def test_readings_that_can_not_be(tour_bay: BaySpec, reading: Measured, expected: str) -> None:
    for key in ("reads", "pressed"):
        ((path, _, told, _),) = faults(tour_bay, up=0.0, **{key: reading})
        assert (path, told) == ((key,), expected)
    ((path, _, told, _),) = faults(tour_bay, up=0.0, reads=READS, again=(READS, reading))
    assert (path, told) == (("again", 1), expected)


def test_pressing_a_lining_makes_no_room_smaller(tour_bay: BaySpec) -> None:
    ((path, found, _, _),) = faults(
        tour_bay, up=0.0, reads=Measured(850.0), pressed=Measured(846.0)
    )
    assert (path, found) == (("pressed",), "846 pressed, 850 touching")


def test_nearest_names() -> None:
    assert nearest("LEFT corner", ["left corner", "roof 1"]) == ["left corner"]
    assert nearest("zzz", ["left corner"]) == []
