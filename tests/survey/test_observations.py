"""Entries and notes as observations: predictions, how sure, what repeats share, faults."""

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from fitout.model.design import BaySpec
from fitout.model.notes import NoteSpec, SurveySpec
from fitout.model.spec import Measured
from fitout.survey import tape
from fitout.survey.adjustment import Observation
from fitout.survey.observations import GIVE, PITCH, how_sure, notebook
from fitout.survey.parameters import parameters
from fitout.survey.uncertainty import rectangular

Make = Callable[..., Any]
FLOOR = ("left sill corner", "right front corner")


@pytest.fixture
def noted(plain_bay: Make, seat: Make) -> Callable[..., list[Observation]]:
    """The observations that notes give, without entries and what is known before."""

    def make(*notes: NoteSpec, **survey: Any) -> list[Observation]:
        spec = plain_bay(seat_back=seat(), survey=SurveySpec(notes=notes, **survey))
        book = notebook(spec)
        assert book.faults == ()
        return [o for o in book.observations if o.path[:3] == ("bay", "survey", "notes")]

    return make


def test_every_entry_is_an_observation_of_its_number(tour_bay: BaySpec) -> None:
    book = notebook(tour_bay)
    numbers = parameters(tour_bay)
    assert book.names[-2:] == (PITCH, GIVE)
    assert len(book.observations) == len(numbers) + 2
    for i, (note, number) in enumerate(zip(book.observations, numbers, strict=False)):
        assert note.path == ("bay", *number.path)
        assert note.on == (i,)
        assert note.predict(book.start) == note.value == number.value
    foot = next(o for o in book.observations if o.name == "depth to the seat back's foot")
    assert (foot.u, foot.shared) == (rectangular(3.0), 0.0)
    untold = next(o for o in book.observations if o.name == "height of the wheel arches")
    assert untold.u == tape.reading(262.0, "II", hooked=True).u
    lean = next(o for o in book.observations if o.name == "lean of the seat back")
    assert lean.u == rectangular(0.5)


def test_the_sill_is_where_lengths_begin(tour_bay: BaySpec) -> None:
    first = notebook(tour_bay).observations[0]
    assert first.name == "section 1's distance from the sill"
    assert first.u < 0.1


def test_guesses_are_no_observations(plain_bay: Make) -> None:
    book = notebook(plain_bay(front_wall=Measured(1000.0, about=True)))
    assert "depth to the front wall" in book.names
    assert not [o for o in book.observations if o.name.startswith("front wall")]
    assert 1000.0 in book.start


def test_notes_predict_what_they_measure(noted: Callable[..., list[Observation]]) -> None:
    diagonal, level = noted(
        NoteSpec(between=FLOOR, reads=Measured(1570.0, 2.0)),
        NoteSpec(angle="seat_back", degrees=Measured(15.2)),
    )
    start = np.array([0.0, 1200.0, 850.0, 1000.0, 15.0, 600.0, 0.5, 3.0])
    assert diagonal.predict(start) == pytest.approx(math.hypot(1200.0, 1000.0))
    assert (diagonal.value, diagonal.u) == (1570.0, rectangular(2.0))
    assert level.predict(start) == 15.5
    assert level.u == tape.level_u_deg()
    assert diagonal.path == ("bay", "survey", "notes", 0)
    assert level.path == ("bay", "survey", "notes", 1)


def test_predictions_hang_on_what_they_say(tour_bay: BaySpec) -> None:
    notes = (
        NoteSpec(between=FLOOR, reads=Measured(1700.0)),
        NoteSpec(across=(300.0, 300.0), pressed=Measured(1260.0)),
        NoteSpec(up=200.0, reads=Measured(855.0)),
        NoteSpec(forward=300.0, reads=Measured(1070.0)),
        NoteSpec(string=FLOOR, offset_to="left front corner", reads=Measured(700.0)),
        NoteSpec(angle="floor", degrees=Measured(0.0)),
    )
    book = notebook(BaySpec(**{**_fields(tour_bay), "survey": SurveySpec(notes=notes)}))
    assert book.faults == ()
    for note in book.observations:
        before = note.predict(book.start)
        for k in range(len(book.start)):
            moved = book.start.copy()
            moved[k] += 5.0
            assert (note.predict(moved) == before) or k in note.on, (note.name, book.names[k])


def _fields(spec: BaySpec) -> dict[str, Any]:
    return {name: getattr(spec, name) for name in spec.__slots__}


def test_repeats_share_the_tapes_error(noted: Callable[..., list[Observation]]) -> None:
    reads = Measured(1562.0)
    note = NoteSpec(between=FLOOR, reads=reads, again=(Measured(1563.0), Measured(1561.0)))
    other = NoteSpec(name="evening", between=(FLOOR[1], FLOOR[0]), reads=reads)
    tight = NoteSpec(between=FLOOR, reads=reads, tape="I")
    found = noted(note, other, tight)
    assert [o.name for o in found] == [
        "left sill corner to right front corner",
        "left sill corner to right front corner (again 1)",
        "left sill corner to right front corner (again 2)",
        "evening",
        "left sill corner to right front corner",
    ]
    shared = tape.reading(1562.0, "II", hooked=True).shared
    assert [o.shared for o in found[:4]] == [shared] * 4
    assert len({o.group for o in found[:4]}) == 1
    assert found[4].group != found[0].group
    assert found[4].u < found[0].u


def test_a_note_of_an_entrys_place_shares_its_error(plain_bay: Make) -> None:
    note = NoteSpec(across=(0.0, 0.0), reads=Measured(1201.0))
    book = notebook(plain_bay(survey=SurveySpec(notes=(note,))))
    first, second = (o for o in book.observations if o.group == "width at section 1, 0 up")
    assert first.shared == second.shared > 0.0


def test_the_hook_and_the_tape_may_differ_from_note_to_note(
    noted: Callable[..., list[Observation]],
) -> None:
    (without,) = noted(NoteSpec(up=0.0, reads=Measured(850.0), hooked=False))
    assert without.u == tape.reading(850.0, "II", hooked=False).u
    (as_the_rest,) = noted(NoteSpec(up=0.0, reads=Measured(850.0)), hooked=False, tape="III")
    assert as_the_rest.u == tape.reading(850.0, "III", hooked=False).u


def test_a_lining_pressed_down_gives_at_both_ends(
    noted: Callable[..., list[Observation]],
) -> None:
    across = NoteSpec(across=(10.0, 0.0), reads=Measured(1200.0), pressed=Measured(1209.0))
    up = NoteSpec(up=0.0, pressed=Measured(855.0))
    touching, pressed, roof = noted(across, up, lining=5.0, surface="soft")
    assert [o.name for o in (touching, pressed, roof)] == [
        "width 10 forward, 0 up",
        "width 10 forward, 0 up (pressed)",
        "roof height 0 forward",
    ]
    start = np.array([0.0, 1200.0, 850.0, 1000.0, 15.0, 600.0, 0.0, 4.0])
    assert touching.predict(start) == 1200.0
    assert pressed.predict(start) == 1208.0
    assert roof.predict(start) == 854.0


def test_touching_a_soft_lining_is_less_sure_each_time_alike() -> None:
    reading = Measured(1000.0)
    hard = how_sure(reading, SurveySpec(), 2)
    soft = how_sure(reading, SurveySpec(surface="soft", lining=4.0), 2)
    sinking = 2.0 * rectangular(1.0)
    assert soft.u == pytest.approx(math.hypot(hard.u, sinking))
    assert soft.shared == pytest.approx(math.hypot(hard.shared, sinking))
    noted = how_sure(Measured(1000.0, 2.0), SurveySpec(surface="soft"), 2)
    assert noted.u == rectangular(2.0)


def test_what_is_known_before_any_note(plain_bay: Make) -> None:
    book = notebook(plain_bay(survey=SurveySpec(lining=6.0)))
    pitch, give = book.observations[-2:]
    assert (pitch.name, pitch.value, give.name, give.value) == (PITCH, 0.0, GIVE, 6.0)
    assert give.u == rectangular(3.0)
    assert book.start[-1] == 6.0


def test_every_fault_is_told_and_the_other_notes_are_kept(plain_bay: Make) -> None:
    notes = (
        NoteSpec(reads=Measured(1.0)),
        NoteSpec(up=0.0, reads=Measured(850.0)),
        NoteSpec(between=("left sill", "roof 1"), reads=Measured(900.0)),
    )
    book = notebook(plain_bay(survey=SurveySpec(notes=notes)))
    assert [f.path for f in book.faults] == [
        ("bay", "survey", "notes", 0),
        ("bay", "survey", "notes", 2, "between", 0),
    ]
    assert [o.path[3] for o in book.observations if o.path[2:3] == ("notes",)] == [1]
