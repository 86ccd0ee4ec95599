"""Entries and notes in a builder's words."""

import pytest

from fitout.model.design import BaySpec
from fitout.model.notes import NoteSpec
from fitout.survey.parameters import parameters
from fitout.survey.words import describe, entry_words


@pytest.mark.parametrize(
    ("path", "words"),
    [
        (("sections", 1, "widths", "240"), "width at section 1, 240 up"),
        (
            ("sections", 0, "widths", "0", "left"),
            "centre line to the left wall at section 2, 0 up",
        ),
        (("sections", 1, "at"), "section 1's distance from the sill"),
        (("sections", 0, "roof"), "roof height at section 2"),
        (("seat_back", "foot"), "depth to the seat back's foot"),
        (
            ("opening", "widths", "400", "right"),
            "centre line to the right jamb of the opening, 400 up",
        ),
        (("opening", "widths", "400"), "width of the opening, 400 up"),
        (("tailgate", "inner_face", "450"), "tailgate's inner face, 450 up"),
    ],
)
def test_entries_are_named_for_what_they_are(path: tuple, words: str) -> None:
    assert entry_words(path, (1, 0)) == words


def test_every_entry_has_a_name_of_its_own_and_no_key_path(tour_bay: BaySpec) -> None:
    names = [entry_words(p.path, (0, 1, 2)) for p in parameters(tour_bay)]
    assert len(set(names)) == len(names)
    assert not [name for name in names if "_" in name or "[" in name]


@pytest.mark.parametrize(
    ("note", "words"),
    [
        (NoteSpec(between=("a", "b")), "a to b"),
        (NoteSpec(across=(300.0, 240.0)), "width 300 forward, 240 up"),
        (NoteSpec(up=560.0), "roof height 560 forward"),
        (NoteSpec(forward=300.0), "depth 300 up"),
        (NoteSpec(string=("a", "b"), offset_to="c"), "c off the string a to b"),
        (NoteSpec(angle="floor"), "level on the floor"),
        (NoteSpec(angle="seat_back"), "level on the seat back"),
    ],
)
def test_notes_are_named_for_what_they_measure(note: NoteSpec, words: str) -> None:
    assert describe(note) == words
