"""What could still be measured."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from fitout.model.design import BaySpec
from fitout.model.notes import NoteSpec, SurveySpec
from fitout.model.spec import Measured
from fitout.survey.candidates import AGAIN, candidates, told
from fitout.survey.observations import notebook

Make = Callable[..., Any]


def test_everything_measured_may_be_measured_again(tour_bay: BaySpec) -> None:
    book = notebook(tour_bay)
    again = [c for c in candidates(book) if c.name.endswith(AGAIN)]
    entries = [o for o in book.observations if o.path != ("bay", "survey")]
    assert len(again) == len(entries) - 1, "the sill is where it is"
    by_name = {o.name: o for o in entries}
    for note in again:
        first = by_name[note.name.removesuffix(AGAIN)]
        assert (note.group, note.u, note.shared) == (first.group, first.u, first.shared)
        assert told(note) == f"measure again: {first.name}"


def test_new_notes_cross_check_the_bay(tour_bay: BaySpec) -> None:
    book = notebook(tour_bay)
    fresh = [c for c in candidates(book, depth_at=240.0) if not c.name.endswith(AGAIN)]
    names = {c.name for c in fresh}
    assert {
        "left sill corner to right front corner",
        "right sill corner to left front corner",
        "left wall 2/0 to right wall 2/620",
        "width 280 forward, 240 up",
        "width 560 forward, 460 up",
        "roof height 850 forward",
        "depth 240 up",
        "tailgate 450 to front middle",
        "left arch rear foot to left arch rear top",
        "level on the floor",
        "level on the seat back",
    } <= names
    assert len(names) == len(fresh)
    for note in fresh:
        assert note.value == note.predict(book.start)
        assert np.isfinite(note.u)
    assert told(fresh[0]) == f"measure: {fresh[0].name}"


def test_what_was_noted_is_not_new(plain_bay: Make) -> None:
    note = NoteSpec(
        name="long one",
        between=("right front corner", "left sill corner"),
        reads=Measured(1562.0),
        again=(Measured(1563.0),),
    )
    found = candidates(notebook(plain_bay(survey=SurveySpec(notes=(note,)))))
    about_it = [c.name for c in found if "long one" in c.name or c.name.startswith("left sill")]
    assert about_it == ["long one, once more"]


def test_a_guess_is_to_be_measured(plain_bay: Make) -> None:
    book = notebook(plain_bay(front_wall=Measured(1000.0, about=True)))
    first = candidates(book)[0]
    assert first.name == "depth to the front wall"
    assert (first.value, first.path) == (1000.0, ("bay", "front_wall"))
    assert told(first) == "measure: depth to the front wall"


@pytest.mark.parametrize("depth_at", [300.0, 900.0])
def test_nothing_is_asked_outside_the_bay(plain_bay: Make, depth_at: float) -> None:
    names = [c.name for c in candidates(notebook(plain_bay()), depth_at)]
    assert not [n for n in names if "seat" in n or n.startswith("depth 900")]
