"""A survey told row by row, and what to measure next."""

import dataclasses
import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from fitout.model.design import BaySpec
from fitout.model.notes import NoteSpec, SurveySpec
from fitout.model.spec import Measured
from fitout.survey.adjusted import Survey, survey_of
from fitout.survey.candidates import candidates
from fitout.survey.parameters import parameters
from fitout.survey.report import Wanted, measure_next, rows, sizes

Make = Callable[..., Any]


def surveyed(spec: BaySpec, *notes: NoteSpec) -> Survey:
    return survey_of(dataclasses.replace(spec, survey=SurveySpec(notes=notes)))


def depths(*reads: float) -> tuple[NoteSpec, ...]:
    return tuple(NoteSpec(forward=50.0 * k, reads=Measured(r, 1.0)) for k, r in enumerate(reads))


def test_every_entry_and_note_has_its_row(tour_bay: BaySpec) -> None:
    survey = surveyed(tour_bay, NoteSpec(across=(560.0, 300.0), reads=Measured(1281.0, 1.0)))
    found = rows(survey)
    assert len(found) == len(parameters(tour_bay)) + 1
    assert len({row.name for row in found}) == len(found)
    last = found[-1]
    assert (last.name, last.read, last.degrees) == ("width 560 forward, 300 up", 1281.0, False)
    assert last.remark == "ok"
    assert last.adjusted == pytest.approx(last.read + last.residual)
    by_name = {row.name: row for row in found}
    assert by_name["lean of the seat back"].degrees
    assert by_name["lean of the seat back"].remark == "unchecked"
    assert by_name["section 1's distance from the sill"].remark == "where lengths begin"


def test_the_row_of_an_entry_says_what_a_second_reading_made_of_it(plain_bay: Make) -> None:
    spec = plain_bay(front_wall=Measured(1000.0, 1.0))
    (row,) = [r for r in rows(surveyed(spec, *depths(1001.0))) if r.path == ("bay", "front_wall")]
    assert (row.read, row.adjusted, row.residual) == (1000.0, 1000.5, 0.5)
    assert row.u == pytest.approx(1.0 / math.sqrt(3.0) / math.sqrt(2.0))
    assert row.checked == pytest.approx(0.5)


def test_a_wrong_note_says_its_likely_value(plain_bay: Make) -> None:
    survey = surveyed(plain_bay(), *depths(1000.0, 1000.4, 1030.0))
    (wrong,) = [row for row in rows(survey) if row.remark.startswith("looks wrong")]
    assert wrong.name == "depth 100 up"
    assert wrong.remark == "looks wrong: likely 1000"
    assert wrong.residual == pytest.approx(-29.8, abs=0.1)


def test_suspects_are_marked_alike(plain_bay: Make) -> None:
    survey = surveyed(plain_bay(front_wall=Measured(1000.0, 1.0)), *depths(1030.0))
    marked = {row.name for row in rows(survey) if row.remark == "this or another"}
    assert marked == {"depth to the front wall", "depth 0 up"}


def test_a_note_that_others_hardly_check_says_what_it_may_hide(plain_bay: Make) -> None:
    spec = plain_bay(front_wall=Measured(1000.0, 1.0))

    def remark(tolerance: float) -> str:
        loose = NoteSpec(forward=0.0, reads=Measured(1001.0, tolerance))
        (row,) = [r for r in rows(surveyed(spec, loose)) if r.path == ("bay", "front_wall")]
        return row.remark

    assert remark(1.0) == "ok"
    assert remark(4.0) == f"may hide {4.13 * math.hypot(1.0, 4.0) / math.sqrt(3.0):.0f}"
    assert remark(30.0) == "unchecked"


def test_guesses(plain_bay: Make) -> None:
    spec = plain_bay(front_wall=Measured(950.0, about=True))
    (free,) = [r for r in rows(surveyed(spec)) if r.path == ("bay", "front_wall")]
    assert (free.read, free.adjusted, free.u) == (None, 950.0, math.inf)
    assert free.remark == "a guess; no note tells"
    (held,) = [r for r in rows(surveyed(spec, *depths(1001.0))) if r.path == ("bay", "front_wall")]
    assert (held.adjusted, held.residual, held.remark) == (1001.0, None, "was a guess")


def test_what_was_assumed_is_told_where_it_matters(plain_bay: Make) -> None:
    level = NoteSpec(angle="floor", degrees=Measured(0.5))
    names = [row.name for row in rows(surveyed(plain_bay(), level))]
    assert "how far the vehicle stood out of level" in names
    assert "how far the lining gives" not in names
    pressed = NoteSpec(forward=0.0, pressed=Measured(1004.0))
    names = [row.name for row in rows(surveyed(plain_bay(), pressed))]
    assert "how far the lining gives" in names


def test_without_gaps_the_least_sure_sizes_are_wanted(tour_bay: BaySpec) -> None:
    survey = surveyed(tour_bay)
    found = sizes(survey)
    assert len(found) == 3
    assert found[0].name == "depth to the seat back's foot"
    for one in found:
        assert one.gradient.sum() == 1.0


def test_what_to_measure_next_says_what_it_brings(plain_bay: Make) -> None:
    survey = surveyed(plain_bay(front_wall=Measured(1000.0, 10.0)))
    gradient = np.array([0.0, 0.0, 0.0, 1.0])
    wanted = [Wanted(name="tank – wall", gradient=gradient, other_u=1.0)]
    found = measure_next(survey, candidates(survey.notebook), wanted)
    assert 1 <= len(found) <= 3
    (gain,) = found[0].gains
    assert gain.name == "tank – wall"
    assert gain.before == pytest.approx(math.hypot(10.0 / math.sqrt(3.0), 1.0))
    assert gain.after < gain.before
    assert found[0].what.startswith("measure")
    assert measure_next(survey, candidates(survey.notebook), []) == ()


def test_advice_is_what_then_comes_true(plain_bay: Make) -> None:
    """The reading that was advised, once taken, leaves the uncertainty that was promised."""
    survey = surveyed(plain_bay(front_wall=Measured(1000.0, 10.0)))
    wanted = [Wanted(name="depth", gradient=np.array([0.0, 0.0, 0.0, 1.0]))]
    further = candidates(survey.notebook)
    best = measure_next(survey, further, wanted)[0]
    assert best.what == "measure: left sill corner to right front corner"
    ends = ("left sill corner", "right front corner")
    taken = surveyed(
        plain_bay(front_wall=Measured(1000.0, 10.0)),
        NoteSpec(between=ends, reads=Measured(math.hypot(1200.0, 1000.0))),
    )
    assert math.sqrt(taken.covariance[3, 3]) == pytest.approx(best.gains[0].after, rel=0.01)
