"""A second visit: what re-measured values replace, and what stays in the list."""

import dataclasses
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from fitout.model.design import BaySpec
from fitout.model.fault import Fault
from fitout.model.notes import NoteSpec, SurveySpec
from fitout.model.spec import Measured
from fitout.survey.adjusted import Survey, survey_of
from fitout.survey.observations import Notebook, notebook
from fitout.survey.report import Row, rows
from fitout.survey.supersession import dated

Make = Callable[..., Any]

FIRST, SECOND, THIRD = date(2026, 11, 2), date(2026, 11, 25), date(2026, 12, 1)
ARCHES = "height of the wheel arches"


def read(value: float, tolerance: float | None = None) -> Measured:
    return Measured(value, tolerance)


def note(**entries: Any) -> NoteSpec:
    """A note; `reads` and `degrees` may be plain numbers."""
    for key in ("reads", "degrees", "pressed"):
        if isinstance(entries.get(key), float):
            entries[key] = read(entries[key])
    return NoteSpec(**entries)


def noted(bay: BaySpec, *notes: NoteSpec, **survey: Any) -> BaySpec:
    return dataclasses.replace(bay, survey=SurveySpec(notes=notes, **survey))


def gone(book: Notebook) -> list[tuple[str, float, int]]:
    """What counts no more: name, reading, the note that does."""
    return [(s.observation.name, s.observation.value, s.note) for s in book.superseded]


def counting(book: Notebook, name: str) -> list[float]:
    return [o.value for o in book.observations if o.name == name]


def only_fault(bay: BaySpec) -> Fault:
    (fault,) = notebook(bay).faults
    return fault


def row(survey: Survey, name: str) -> Row:
    """The last row of a name."""
    return [r for r in rows(survey) if r.name == name][-1]


def test_an_entry_is_named_and_read_anew(tour_bay: BaySpec) -> None:
    bay = noted(tour_bay, note(supersedes=ARCHES, reads=read(265.0, 1.0)))
    book = notebook(bay)
    assert gone(book) == [(ARCHES, 262.0, 0)]
    assert counting(book, ARCHES) == [265.0]
    survey = survey_of(bay)
    assert survey.bay.wheel_arches is not None
    assert survey.bay.wheel_arches.height is not None
    assert survey.bay.wheel_arches.height.value == pytest.approx(265.0, abs=1e-3)
    assert not survey.blunders


def test_beside_an_entry_the_same_reading_would_only_be_averaged(tour_bay: BaySpec) -> None:
    """Two depths at the foot, 10 apart: with `supersedes` the later one alone counts."""
    later = note(forward=0.0, reads=read(1174.0, 3.0))
    beside = survey_of(noted(tour_bay, later))
    instead = survey_of(noted(tour_bay, dataclasses.replace(later, supersedes=True)))
    name = "depth to the seat back's foot"
    assert beside.adjustment.values[beside.notebook.names.index(name)] == pytest.approx(
        1169.0, abs=1.5
    )
    assert instead.adjustment.values[instead.notebook.names.index(name)] == pytest.approx(
        1174.0, abs=0.5
    )


def test_what_was_superseded_is_still_listed(tour_bay: BaySpec) -> None:
    later = note(supersedes=ARCHES, reads=read(265.0, 1.0), on=SECOND, by="Ana")
    listed = rows(survey_of(noted(tour_bay, later, on=FIRST, by="Ben")))
    before, after = (r for r in listed if r.name == ARCHES)
    assert (before.read, before.on, before.by) == (262.0, FIRST, "Ben")
    assert before.remark == "superseded (on 2026-11-25, by Ana)"
    assert before.superseded_by == ARCHES
    assert before.adjusted == pytest.approx(265.0, abs=1e-3)
    assert before.residual == pytest.approx(3.0, abs=1e-3)
    assert (after.read, after.on, after.by) == (265.0, SECOND, "Ana")
    assert after.remark.endswith("supersedes, on 2026-11-25, by Ana")
    assert not after.superseded_by


def test_a_note_is_superseded_by_its_name_with_all_its_readings(tour_bay: BaySpec) -> None:
    """The name alone says what was measured, in whichever order the two ends are given."""
    ends = ("left sill corner", "right front corner")
    bay = noted(
        tour_bay,
        note(name="floor diagonal", between=ends, reads=1690.0, again=(read(1691.0),)),
        note(supersedes="floor diagonal", reads=1692.0),
        note(between=ends[::-1], reads=1693.0),
    )
    book = notebook(bay)
    assert gone(book) == [("floor diagonal", 1690.0, 1), ("floor diagonal (again 1)", 1691.0, 1)]
    # What follows in the list was read later, and counts beside it.
    assert counting(book, "floor diagonal") == [1692.0]
    assert counting(book, "right front corner to left sill corner") == [1693.0]
    assert [r.read for r in rows(survey_of(bay)) if r.path[:3] == ("bay", "survey", "notes")] == [
        1690.0,
        1691.0,
        1692.0,
        1693.0,
    ]


def test_same_quantity_not_same_name_or_tape(tour_bay: BaySpec) -> None:
    """A width read with another tape is the same width; what only shares a name is not."""
    bay = noted(
        tour_bay,
        note(name="mine", across=(560.0, 620.0), reads=1211.0, tape="III"),
        note(name="mine", up=300.0, reads=855.0),
        note(across=(560.0, 620.0), reads=1214.0, supersedes=True),
    )
    assert gone(notebook(bay)) == [
        ("width at section 2, 620 up", 1210.0, 2),
        ("mine", 1211.0, 2),
    ]


def test_a_level_on_the_seat_back_supersedes_its_lean(tour_bay: BaySpec) -> None:
    """The lean and the level differ by how the vehicle stands, but answer one question."""
    bay = noted(
        tour_bay,
        note(angle="seat_back", degrees=17.2),
        note(angle="floor", degrees=0.5),
        note(angle="seat_back", degrees=18.5, supersedes=True),
    )
    book = notebook(bay)
    assert gone(book) == [("lean of the seat back", 17.0, 2), ("level on the seat back", 17.2, 2)]
    survey = survey_of(bay)
    assert survey.bay.seat_back is not None
    assert survey.bay.seat_back.leans.value == pytest.approx(18.0, abs=0.1)
    assert row(survey, "lean of the seat back").degrees


def test_the_lean_itself_may_be_named(tour_bay: BaySpec) -> None:
    name = "lean of the seat back"
    bay = noted(tour_bay, note(supersedes=name, degrees=18.0))
    assert survey_of(bay).bay.seat_back.leans.value == pytest.approx(18.0, abs=1e-3)  # type: ignore[union-attr]
    assert row(survey_of(bay), name).degrees
    faults = notebook(noted(tour_bay, note(supersedes=name, reads=18.0))).faults
    assert [fault.found for fault in faults] == ["no `degrees`", "a length"]


def test_several_visits(tour_bay: BaySpec) -> None:
    """Each replaces the one before; the last alone counts, whatever its place in the list."""
    bay = noted(
        tour_bay,
        note(supersedes=ARCHES, reads=264.0, on=SECOND),
        note(supersedes=ARCHES, reads=266.0, on=THIRD),
    )
    book = notebook(bay)
    assert gone(book) == [(ARCHES, 262.0, 0), (ARCHES, 264.0, 1)]
    assert counting(book, ARCHES) == [266.0]
    assert book.places.bay.wheel_arches.height == read(266.0)  # type: ignore[union-attr]


def test_dates_decide_where_the_list_does_not(tour_bay: BaySpec) -> None:
    ends = ("left sill corner", "right front corner")
    renewed = note(between=ends, reads=1692.0, on=SECOND, supersedes=True)
    older, newer = (note(between=ends, reads=1690.0, on=day) for day in (FIRST, THIRD))
    assert [g[2] for g in gone(notebook(noted(tour_bay, renewed, older)))] == [0]
    assert only_fault(noted(tour_bay, renewed, newer)).found.startswith("nothing read before of")
    # An undated note was taken on the first visit.
    plain = note(between=ends, reads=1690.0)
    assert len(gone(notebook(noted(tour_bay, renewed, plain, on=FIRST)))) == 1


def test_a_value_older_than_what_it_supersedes(tour_bay: BaySpec) -> None:
    old = note(supersedes=ARCHES, reads=265.0, on=FIRST)
    fault = only_fault(noted(tour_bay, old, on=SECOND))
    assert fault.path == ("bay", "survey", "notes", 0, "on")
    assert "2026-11-02" in fault.found
    assert "2026-11-25" in fault.found
    assert not notebook(noted(tour_bay, old, on=FIRST)).faults


def test_what_is_said_of_the_whole_survey_is_said_of_its_first_visit() -> None:
    survey = SurveySpec(on=FIRST, by="Ben")
    assert dated(note(up=300.0), survey) == (FIRST, "Ben")
    assert dated(note(up=300.0, by="Ana"), survey) == (FIRST, "Ana")
    assert dated(note(up=300.0, supersedes=True), survey) == (None, None)
    assert dated(note(up=300.0, supersedes=True, on=THIRD), survey) == (THIRD, None)


def test_a_width_entered_by_sides_is_superseded_by_sides(tour_bay: BaySpec) -> None:
    whole = note(across=(0.0, 240.0), reads=1256.0, supersedes=True)
    fault = only_fault(noted(tour_bay, whole))
    left = "centre line to the left wall at section 1, 240 up"
    right = "centre line to the right wall at section 1, 240 up"
    assert f"{left} and {right}" in fault.hint
    assert fault.path[-1] == "supersedes"
    opposite = ("left wall 1/240", "right wall 1/240")
    between = note(between=opposite, reads=1256.0, supersedes=True)
    assert f"{left} and {right}" in only_fault(noted(tour_bay, between)).hint
    arches = note(across=(500.0, 100.0), reads=1012.0, supersedes=True)
    assert "left wheel arch" in only_fault(noted(tour_bay, arches)).hint
    side = note(supersedes=left, reads=636.0)
    assert gone(notebook(noted(tour_bay, side))) == [(left, 634.0, 0)]


@pytest.mark.parametrize(
    ("entries", "found", "hint"),
    [
        ({"supersedes": "height of wheel arch", "reads": 265.0}, "height of wheel arch", ARCHES),
        ({"supersedes": "nothing like it", "reads": 265.0}, "nothing like it", ""),
        (
            {"supersedes": True, "up": 300.0, "reads": 855.0},
            "nothing read before of roof height 300 forward",
            "roof height at section",
        ),
        ({"supersedes": ARCHES, "up": 560.0, "reads": 860.0}, ARCHES, "supersedes: yes"),
        (
            {"supersedes": True, "reads": 265.0},
            "a note that does not say what was measured",
            "by its name",
        ),
        ({"supersedes": ARCHES}, "no `reads`", ""),
        ({"supersedes": ARCHES, "reads": -4.0}, "-4", ""),
        ({"supersedes": ARCHES, "reads": 0.0}, "0", ""),
        ({"supersedes": ARCHES, "reads": read(265.0, 300.0)}, "265 ± 300", ""),
        ({"supersedes": ARCHES, "degrees": 3.0, "reads": 3.0}, "an angle", ""),
        ({"supersedes": "the other", "name": "the other", "reads": 3.0}, "the other", ""),
    ],
)
def test_what_can_not_supersede(
    tour_bay: BaySpec, entries: dict[str, Any], found: str, hint: str
) -> None:
    fault = only_fault(noted(tour_bay, note(**entries)))
    assert fault.path[:4] == ("bay", "survey", "notes", 0)
    assert fault.found == found
    assert hint in fault.hint
    assert fault.expected


def test_what_lies_at_the_sill_may_be_read_as_nought(tour_bay: BaySpec) -> None:
    for name in ("height of the sill's lip", "tailgate's inner face, 0 up"):
        assert not notebook(noted(tour_bay, note(supersedes=name, reads=0.0))).faults


def test_a_superseded_value_never_comes_back(plain_bay: Make) -> None:
    """Where notes are too far from the entries, entries stand: as they were read last."""
    bay = noted(
        plain_bay(),
        note(supersedes="depth to the front wall", reads=read(1060.0, 2.0)),
        note(forward=100.0, reads=read(1500.0, 2.0)),
        note(forward=200.0, reads=read(1500.0, 2.0)),
        note(forward=300.0, reads=read(1500.0, 2.0)),
    )
    survey = survey_of(bay)
    assert not survey.adopted
    assert survey.bay.front_wall == read(1060.0)
    # 60 mm from the first reading is far; it is judged by the second.
    assert survey_of(noted(plain_bay(), bay.survey.notes[0])).adopted


def test_a_guess_is_superseded_too(plain_bay: Make) -> None:
    bay = plain_bay(front_wall=Measured(1000.0, None, about=True))
    survey = survey_of(noted(bay, note(supersedes="depth to the front wall", reads=1010.0)))
    before, after = (r for r in rows(survey) if r.name == "depth to the front wall")
    assert before.read is None
    assert before.residual is None
    assert before.remark == "superseded"
    assert after.read == 1010.0
    assert survey.bay.front_wall is not None
    assert survey.bay.front_wall.value == pytest.approx(1010.0)


def test_pressed_readings_supersede_with_the_lining_taken_off(plain_bay: Make) -> None:
    """Read pressed at both ends of a lining that gives 5: 10 less is where it would touch."""
    name = "width at section 1, 0 up"
    bay = noted(plain_bay(), note(supersedes=name, pressed=1212.0), surface="soft", lining=5.0)
    book = notebook(bay)
    assert book.start[book.names.index(name)] == pytest.approx(1202.0)
    assert gone(book) == [(name, 1200.0, 0)]
