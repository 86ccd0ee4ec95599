"""What a measuring sheet asks: everything the design file takes, and the notes that check it."""

import itertools
import re
from collections.abc import Callable
from typing import Any

import pytest
import yaml

from fitout.model.design import BaySpec
from fitout.model.notes import NoteSpec
from fitout.model.spec import Measured
from fitout.survey.bodies import BODIES
from fitout.survey.measures import measure
from fitout.survey.note_faults import note_faults
from fitout.survey.observations import notebook
from fitout.survey.parameters import parameters
from fitout.survey.sheet import Ask, sheet_of

Make = Callable[..., Any]
each_body = pytest.mark.parametrize("bay", BODIES.values(), ids=BODIES)


@each_body
def test_every_number_of_the_bay_is_asked_once(bay: BaySpec) -> None:
    asks = sheet_of(bay).asks
    assert [ask.number for ask in asks] == list(range(1, len(asks) + 1))
    names = [ask.what for ask in asks]
    assert len(set(names)) == len(names)
    entries = set(notebook(bay).names[: len(parameters(bay))])
    assert entries - set(names) == {"section 1's distance from the sill"}


def written(text: str) -> NoteSpec:
    """The note that a line of small print makes, its reading filled in."""
    note = yaml.safe_load(text.replace("…", "700"))
    reads = {key: Measured(note.pop(key)) for key in ("reads", "degrees") if key in note}
    return NoteSpec(**{k: tuple(v) if isinstance(v, list) else v for k, v in note.items()}, **reads)


@each_body
def test_the_small_print_is_what_the_design_file_takes(bay: BaySpec) -> None:
    book = notebook(bay)
    notes = [n for ask in sheet_of(bay).asks for n in re.findall(r"\{.*\}", ask.goes_to)]
    assert len(notes) > 15
    for text in notes:
        note = written(text)
        assert list(note_faults(note, (), book.places, book.start)) == [], text


def test_the_note_for_a_second_reading_measures_the_entry() -> None:
    for bay in BODIES.values():
        book = notebook(bay)
        for ask in sheet_of(bay).asks:
            if "; again: " in ask.goes_to:
                note = written(ask.goes_to.split("; again: ")[1])
                meant = measure(book.places, note, book.start, len(book.start) - 2)
                assert meant.what == ask.what


@each_body
def test_everything_asked_is_drawn(bay: BaySpec) -> None:
    sheet = sheet_of(bay)
    names = {view.name for view in sheet.views}
    for ask in sheet.asks:
        assert ask.lines, ask.what
        assert {line.view for line in ask.lines} <= names


@each_body
def test_the_checks_make_slips_visible(bay: BaySpec) -> None:
    checks = [ask.what for ask in sheet_of(bay).asks if ask.part.startswith("Checks")]
    assert checks[0] == "left sill corner to right front corner"
    assert "depth 300 up" in checks
    assert "left wall 1/0" in " ".join(checks)
    assert "level on the floor" in checks
    assert ("level on the seat back" in checks) == (bay.seat_back is not None)


def test_one_stands_in_one_place_at_a_time() -> None:
    parts = [part for part, _ in itertools.groupby(a.part for a in sheet_of(BODIES["wagon"]).asks)]
    assert len(parts) == len(set(parts)) == 8


def test_no_tape_is_asked_to_go_through_an_arch() -> None:
    asks: list[Ask] = [a for a in sheet_of(BODIES["wagon"]).asks if a.what.startswith("width at")]
    hidden = [ask.what for ask in asks if "in the way" in ask.how]
    assert hidden == ["width at section 2, 0 up", "width at section 2, 240 up"]
    assert not [ask for ask in asks if ask.what in hidden and ask.repeats]
    between = [end for ask in sheet_of(BODIES["wagon"]).asks for end in ask.ends]
    assert "left wall 2/0" not in between


def test_a_bare_bay_has_a_sheet(plain_bay: Make) -> None:
    sheet = sheet_of(plain_bay())
    assert [view.name for view in sheet.views] == ["plan", "side", "section 1"]
    asked = [ask.what for ask in sheet.asks][:3]
    assert asked == [
        "depth to the front wall",
        "width at section 1, 0 up",
        "roof height at section 1",
    ]


def test_every_point_has_a_letter_of_its_own(tour_bay: BaySpec) -> None:
    sheet = sheet_of(tour_bay)
    assert set(sheet.letters) == set(notebook(tour_bay).places.points)
    assert len(set(sheet.letters.values())) == len(sheet.letters)
    assert sheet.letters["left sill corner"] == "A"
