"""The bay from all its notes."""

import dataclasses
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from fitout.model.design import BaySpec
from fitout.model.fault import DesignError
from fitout.model.notes import NoteSpec, SurveySpec
from fitout.model.spec import Measured
from fitout.survey.adjusted import survey_of
from fitout.survey.parameters import parameters

Make = Callable[..., Any]


def noted(spec: BaySpec, *notes: NoteSpec, **survey: Any) -> BaySpec:
    return dataclasses.replace(spec, survey=SurveySpec(notes=notes, **survey))


def test_without_notes_the_bay_is_left_as_it_is(tour_bay: BaySpec) -> None:
    found = survey_of(tour_bay)
    assert found.bay is tour_bay
    assert found.blunders == found.suspects == found.undetermined == found.candidates == ()
    count = len(parameters(tour_bay))
    assert found.covariance.shape == (count, count)
    foot = [p.path for p in parameters(tour_bay)].index(("seat_back", "foot"))
    assert found.covariance[foot, foot] == pytest.approx(3.0**2 / 3.0)


def test_a_second_reading_moves_the_number_half_way(plain_bay: Make) -> None:
    spec = noted(
        plain_bay(front_wall=Measured(1000.0, 2.0)),
        NoteSpec(forward=0.0, reads=Measured(1001.0, 2.0)),
    )
    found = survey_of(spec)
    assert found.bay.front_wall == Measured(1000.5, 2.0)
    assert found.adjustment.freedom == 1
    assert found.adjustment.consistent


def test_diagonals_say_how_deep_the_bay_is(plain_bay: Make) -> None:
    """A guessed depth follows from the width and two diagonals of 1562.05 (3-4-5-like)."""
    guess = plain_bay(front_wall=Measured(950.0, about=True))
    ends = (("left sill corner", "right front corner"), ("right sill corner", "left front corner"))
    spec = noted(guess, *(NoteSpec(between=e, reads=Measured(1562.05, 1.0)) for e in ends))
    found = survey_of(spec)
    assert found.undetermined == ()
    assert found.bay.front_wall is not None
    assert found.bay.front_wall.value == pytest.approx(1000.0, abs=0.01)
    assert not found.bay.front_wall.about


def test_a_guess_that_nothing_holds_stands_and_is_told(plain_bay: Make) -> None:
    found = survey_of(plain_bay(front_wall=Measured(950.0, about=True)))
    assert found.bay.front_wall == Measured(950.0)
    (free,) = found.undetermined
    assert free.names == ("depth to the front wall",)
    last = len(parameters(found.bay)) - 1
    assert [p.path for p in parameters(found.bay)][last] == ("front_wall",)
    assert found.covariance[last, last] == np.inf


def test_a_wrong_note_is_set_aside_with_its_likely_value(plain_bay: Make) -> None:
    reads = {"a": 1000.0, "b": 1001.0, "c": 1030.0}
    notes = (
        NoteSpec(name=name, forward=0.0, reads=Measured(value, 2.0))
        for name, value in reads.items()
    )
    found = survey_of(noted(plain_bay(front_wall=Measured(1000.0, 2.0)), *notes))
    (blunder,) = found.blunders
    assert blunder.name == "c"
    assert blunder.likely == pytest.approx(1000.33, abs=0.01)
    assert found.bay.front_wall is not None
    assert found.bay.front_wall.value == pytest.approx(1000.3333)


def test_of_two_that_contradict_none_is_named(plain_bay: Make) -> None:
    spec = noted(plain_bay(), NoteSpec(name="again", forward=0.0, reads=Measured(1030.0)))
    found = survey_of(spec)
    assert found.blunders == ()
    (group,) = found.suspects
    assert {n.name for n in group.notes} == {"depth to the front wall", "again"}
    would_tell = [found.candidates[k].name for k in group.told_by]
    assert would_tell
    assert all("front" in name or "depth" in name for name in would_tell)


def test_a_lining_pressed_and_touched_says_how_far_it_gives(plain_bay: Make) -> None:
    note = NoteSpec(across=(0.0, 0.0), reads=Measured(1200.0, 0.5), pressed=Measured(1211.0, 0.5))
    found = survey_of(noted(plain_bay(), note, lining=4.0))
    assert found.adjustment.values[-1] == pytest.approx(5.4, abs=0.2)


def test_notes_at_fault_are_all_told(plain_bay: Make) -> None:
    spec = noted(plain_bay(), NoteSpec(up=0.0), NoteSpec(reads=Measured(5.0)))
    with pytest.raises(DesignError) as caught:
        survey_of(spec)
    assert len(caught.value.faults) == 2


def test_an_impossible_triangle_is_no_error(plain_bay: Make) -> None:
    """A diagonal shorter than both sides: set aside, not a matrix error."""
    ends = ("left sill corner", "right front corner")
    notes = [NoteSpec(name="diagonal", between=ends, reads=Measured(700.0))]
    notes += [NoteSpec(forward=0.0, reads=Measured(1000.0))]
    notes += [NoteSpec(across=(300.0, 100.0), reads=Measured(1200.0))]
    found = survey_of(noted(plain_bay(), *notes))
    assert [b.name for b in found.blunders] == ["diagonal"]
    assert found.blunders[0].likely == pytest.approx(1562.05, abs=0.1)


def test_adjusted_numbers_are_rounded(tour_bay: BaySpec) -> None:
    found = survey_of(noted(tour_bay, NoteSpec(across=(100.0, 100.0), reads=Measured(1240.0))))
    for number in parameters(found.bay):
        assert number.value == round(number.value, 4)


def test_a_bay_far_from_its_entries_is_not_adopted(plain_bay: Make) -> None:
    """Three notes outvote an entry that is ten times too long: it is told, and stands."""
    notes = [NoteSpec(forward=50.0 * k, reads=Measured(1000.0 + k)) for k in range(3)]
    found = survey_of(noted(plain_bay(front_wall=Measured(10_000.0)), *notes))
    assert [b.name for b in found.blunders] == ["depth to the front wall"]
    assert not found.adopted
    assert found.bay.front_wall == Measured(10_000.0)
    near = survey_of(noted(plain_bay(front_wall=Measured(1050.0)), *notes))
    assert near.adopted
    assert near.bay.front_wall is not None
    assert near.bay.front_wall.value == pytest.approx(1001.0, abs=0.1)


def test_of_suspects_only_what_could_be_misread_is_told(tour_bay: BaySpec) -> None:
    """A depth 300 too long is the foot's or its own, not a seat that leans forward."""
    note = NoteSpec(name="depth", forward=100.0, reads=Measured(1433.0))
    found = survey_of(noted(tour_bay, note))
    assert "lean of the seat back" in {n.name for n in found.snooped.suspects[0].notes}
    (group,) = found.suspects
    assert {n.name for n in group.notes} == {"depth to the seat back's foot", "depth"}
