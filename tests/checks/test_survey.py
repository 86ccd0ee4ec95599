"""Findings about the notes of a survey."""

from collections.abc import Callable

import pytest

from fitout.checks.survey import check_survey
from fitout.model.finding import Finding, Severity
from fitout.workflow import Evaluation

Evaluated = Callable[..., Evaluation]
DRAWERS = "drawers: {kind: drawers, width: 500}"
DIAGONALS = (
    "{between: [left sill corner, right front corner], reads: 1562 ± 1}",
    "{between: [right sill corner, left front corner], reads: 1562.5 ± 1}",
)
WIDTH = "{across: [500, 300], reads: 1200.5 ± 1}"
DEPTH = "{forward: 300, reads: 999.5 ± 1}"


@pytest.fixture
def of_notes(evaluated: Evaluated) -> Callable[..., list[Finding]]:
    """The survey's findings of a bay 1200 wide and 1000 deep with these notes."""

    def find(*notes: str, front: str = "front_wall: 1000 ± 1") -> list[Finding]:
        survey = f"survey: {{notes: [{', '.join(notes)}]}}"
        found = evaluated(DRAWERS, bay=survey, front=front)
        return [f for f in found.findings if f.code == "survey"]

    return find


def test_nothing_is_said_of_a_bay_without_notes(evaluated: Evaluated) -> None:
    evaluation = evaluated(DRAWERS)
    assert list(check_survey(evaluation.subject)) == []
    assert "survey" not in {f.code for f in evaluation.findings}


def test_notes_that_agree_pass(of_notes: Callable[..., list[Finding]]) -> None:
    (found,) = of_notes(*DIAGONALS, WIDTH, DEPTH)
    assert found.severity is Severity.PASS
    assert found.value is not None
    assert found.limit is not None
    assert found.value < 1.0 < found.limit
    assert "notes agree" in found.sentence


def test_a_note_that_checks_nothing_leaves_all_unchecked(
    of_notes: Callable[..., list[Finding]],
) -> None:
    (found,) = of_notes(DEPTH, front="front_wall: about 950")
    assert found.severity is Severity.UNCHECKED
    assert found.sentence.startswith("No two notes say the same thing")


def test_a_wrong_note_is_named_with_its_line_and_likely_value(
    of_notes: Callable[..., list[Finding]],
) -> None:
    wrong = "{name: long one, forward: 200, reads: 1030 ± 1}"
    found = of_notes(*DIAGONALS, WIDTH, DEPTH, wrong)
    assert [f.severity for f in found] == [Severity.CAUTION, Severity.PASS]
    named = found[0]
    assert named.where == "line 7"
    assert named.value == 1030.0
    assert named.limit == pytest.approx(1000.0, abs=1.0)
    assert named.sentence.startswith("Long one reads 1030, but all else says ")
    assert "wrong by 30" in named.sentence
    assert of_notes(*DIAGONALS, WIDTH, DEPTH)[0].severity is Severity.PASS


def test_of_two_that_contradict_none_is_named(of_notes: Callable[..., list[Finding]]) -> None:
    found = of_notes("{name: second depth, forward: 200, reads: 1030 ± 1}")
    (suspects,) = [f for f in found if "nothing says which" in f.sentence]
    assert suspects.severity is Severity.CAUTION
    assert suspects.where == "line 5, line 7"
    assert "One of these 2 is wrong" in suspects.sentence
    assert "second depth (reads 1030; without it 1000.0 ± 1.2)" in suspects.sentence
    assert "To tell, measure" in suspects.sentence
    assert [f.severity for f in found if f is not suspects] == [Severity.CAUTION]


def test_a_guess_that_nothing_holds_is_unchecked(of_notes: Callable[..., list[Finding]]) -> None:
    (found,) = of_notes(front="front_wall: about 950")
    assert found.severity is Severity.UNCHECKED
    assert found.sentence == (
        "No note says what depth to the front wall is; a guess stands. To settle it, "
        "measure: depth to the front wall, or measure: left sill corner to right front "
        "corner, or measure: right sill corner to left front corner."
    )


def test_a_guess_that_notes_hold_is_fine(of_notes: Callable[..., list[Finding]]) -> None:
    (found,) = of_notes(*DIAGONALS, front="front_wall: about 950")
    assert found.severity is Severity.PASS


def test_a_digit_may_be_wrong(of_notes: Callable[..., list[Finding]]) -> None:
    """A blunder says so itself; one of two suspects by a caution of its own."""
    blunder = of_notes(*DIAGONALS, DEPTH, "{forward: 200, reads: 1300 ± 1}")[0]
    assert "wrong by 300 and is not used. Is a digit wrong?" in blunder.sentence
    told = [f for f in of_notes("{forward: 200, reads: 1300 ± 1}") if "digit" in f.sentence]
    assert [f.sentence for f in told] == [
        "Depth 200 up reads 1300, where the bay's entries let expect about 1000. Is a digit wrong?"
    ]
    assert not [f for f in of_notes("{forward: 200, reads: 1090 ± 1}") if "digit" in f.sentence]


def test_a_wrong_note_is_told_though_wishes_collide(evaluated: Evaluated) -> None:
    notes = ", ".join((*DIAGONALS, WIDTH, DEPTH, "{forward: 200, reads: 1030 ± 1}"))
    found = evaluated("drawers: {kind: drawers, width: 5000}", bay=f"survey: {{notes: [{notes}]}}")
    assert found.arrangement.conflicts
    assert {"arrangement", "survey"} <= {f.code for f in found.findings}
