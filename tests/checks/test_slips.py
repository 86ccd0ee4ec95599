"""Gaps that hang on one unchecked reading: which, by hand, and what is said of them."""

import dataclasses
import math
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest

from fitout import workflow
from fitout.checks import Subject
from fitout.checks.slips import COVER, SLIP, UNCONFIRMED, unconfirmed
from fitout.checks.stack import stack_of
from fitout.model.design import BaySpec, SeatBackSpec, SectionSpec
from fitout.model.finding import Finding, Severity
from fitout.model.notes import NoteSpec, SurveySpec
from fitout.model.spec import Measured
from fitout.survey.adjusted import survey_of
from fitout.survey.bay import build_bay

Make = Callable[..., Any]

FRONT = "bay/front wall"
WAGON = Path(__file__).parents[2] / "designs" / "touring-wagon.yaml"


def spec_of(front: float = 4.0, notes: Sequence[NoteSpec] = (), **entries: Any) -> BaySpec:
    """A box 1200 wide and 900 high, a wall ahead at 1000 ± front."""
    sections = tuple(
        SectionSpec(at=Measured(at), widths={0.0: Measured(1200.0, 2.0)}, roof=Measured(900.0, 2.0))
        for at in (0.0, 800.0)
    )
    usual: dict[str, Any] = {"front_wall": Measured(1000.0, front)}
    survey = SurveySpec(notes=tuple(notes))
    return BaySpec(sections=sections, survey=survey, **(entries or usual))


@pytest.fixture
def said(subject: Make, module: Make, item: Make) -> Callable[..., list[Finding]]:
    """What is said of blocks that end so far behind what is ahead of them, each a module."""

    def say(spec: BaySpec, *gaps: float, ahead: str = FRONT, **entries: Any) -> list[Finding]:
        modules = [
            module(
                f"m{k}",
                item(f"m{k}/block", (400.0, 1000.0 - gap), (150.0 * k, 150.0 * k + 100.0), UP),
            )
            for k, gap in enumerate(gaps)
        ]
        looked_at: Subject = dataclasses.replace(
            subject(*modules, bay=build_bay(spec)), survey=survey_of(spec), **entries
        )
        stacks = [stack_of(looked_at, f"m{k}/block", ahead) for k in range(len(gaps))]
        return list(unconfirmed(looked_at, [stack for stack in stacks if stack is not None]))

    return say


UP = (100.0, 300.0)
LINES = {("bay", "front_wall"): (12, 3)}


def test_a_gap_that_a_slip_would_eat(said: Make) -> None:
    """Of the gap's variance the wall has 16 in 22.25 (by hand in `test_stack`)."""
    (found,) = said(spec_of(), 7.0, sources=LINES)
    assert (found.code, found.severity, found.where) == (UNCONFIRMED, Severity.CAUTION, "line 12")
    assert found.value == pytest.approx(7.0)
    assert found.u == pytest.approx(math.sqrt(22.25 / 3.0), abs=1e-3)
    assert found.margin is None
    assert found.sentence.startswith(
        "m0/block – front wall (7.0 mm) fits if depth to the front wall (line 12) is confirmed: "
        "it reads 1000, no other note checks it, and were it 993.0 nothing would be left of it. "
        "To confirm it, measure: "
    )


def test_without_its_line_a_reading_goes_by_its_name(said: Make) -> None:
    (found,) = said(spec_of(), 7.0)
    assert found.where == "depth to the front wall"
    assert "if depth to the front wall is confirmed" in found.sentence


@pytest.mark.parametrize(("gap", "told"), [(SLIP - 0.1, 1), (SLIP + 0.1, 0)])
def test_a_gap_wider_than_a_slip_is_comfortable(said: Make, gap: float, told: int) -> None:
    assert len(said(spec_of(), gap)) == told


def test_what_was_read_badly_may_be_further_off(said: Make) -> None:
    off = COVER * 9.0 / math.sqrt(3.0)
    assert off > SLIP
    assert len(said(spec_of(front=9.0), off - 0.1)) == 1
    assert said(spec_of(front=9.0), off + 0.1) == []


def test_a_gap_that_hangs_on_other_things_is_not_told(said: Make) -> None:
    """± 2 of the wall is less than half of what the block's size and place leave open."""
    assert said(spec_of(front=2.0), 7.0) == []
    assert len(said(spec_of(front=2.6), 7.0)) == 1


@pytest.mark.parametrize(
    "note",
    [
        NoteSpec(forward=0.0, reads=Measured(1001.0, 4.0)),
        NoteSpec(between=("left sill corner", "right front corner"), reads=Measured(1562.0)),
    ],
    ids=["the same again", "a diagonal"],
)
def test_a_reading_that_another_checks_is_none_to_confirm(said: Make, note: NoteSpec) -> None:
    assert said(spec_of(notes=[note]), 7.0) == []


def test_a_reading_hardly_checked_is_told_as_such(said: Make) -> None:
    """A depth of ± 18 has a twentieth of the weight of one of ± 4."""
    note = NoteSpec(forward=0.0, reads=Measured(1000.0, 18.0))
    (found,) = said(spec_of(notes=[note]), 7.0)
    assert "the other notes hardly check it" in found.sentence


def test_gaps_on_one_reading_are_told_together_the_least_first(said: Make) -> None:
    (two,) = said(spec_of(), 8.0, 6.0)
    assert two.value == pytest.approx(6.0)
    assert two.sentence.startswith(
        "m1/block – front wall (6.0 mm) and m0/block – front wall (8.0 mm) fit if depth"
    )
    assert "were it 994.0 nothing would be left of the first" in two.sentence
    (three,) = said(spec_of(), 8.0, 6.0, 7.0)
    assert "(6.0 mm), m2/block – front wall (7.0 mm) and 1 more gap fit if" in three.sentence
    (four,) = said(spec_of(), 8.0, 6.0, 7.0, 9.0)
    assert "and 2 more gaps fit if" in four.sentence


def test_an_angle_slips_by_degrees(said: Make) -> None:
    """300 up, a degree of lean moves the seat back by some 5.6 mm."""
    seat = SeatBackSpec(
        foot=Measured(1000.0 + 300.0 * math.tan(math.radians(15.0)), 0.5),
        leans=Measured(15.0, 0.7),
        top=Measured(600.0, 2.0),
    )
    spec = spec_of(seat_back=seat)
    (found,) = said(spec, 5.0, ahead="bay/seat back at 15°")
    assert "lean of the seat back" in found.sentence
    assert "it reads 15°" in found.sentence
    closing = float(found.sentence.partition("were it ")[2].partition("°")[0])
    moved = 300.0 * (math.tan(math.radians(closing)) - math.tan(math.radians(15.0)))
    # Square to a seat back that leans the gap is less than along the floor.
    assert moved * math.cos(math.radians(15.0)) == pytest.approx(found.value, rel=0.06)
    assert said(spec, 9.0, ahead="bay/seat back at 15°") == []


def test_what_is_advised_would_confirm_it(said: Make) -> None:
    """Another way to measure before the same again; entered, it ends the caution."""
    (found,) = said(spec_of(), 7.0)
    assert "measure: left sill corner to right front corner." in found.sentence
    diagonal = math.hypot(1000.0, 1200.0)
    note = NoteSpec(
        between=("left sill corner", "right front corner"), reads=Measured(round(diagonal, 1))
    )
    assert said(spec_of(notes=[note]), 7.0) == []


def test_where_nothing_passes_nothing_hangs(said: Make) -> None:
    assert said(spec_of()) == []


def test_the_wagon_without_its_redundant_notes_is_told_note_by_note(tmp_path: Path) -> None:
    """Each caution names a reading, and goes once what it advises was noted."""
    text = WAGON.read_text(encoding="utf-8")
    checking = [line for line in text.splitlines() if "rear top]" in line or "tailgate 450" in line]
    assert len(checking) == 2
    found = {}
    for kept in range(3):
        loose = text
        for line in checking[kept:]:
            loose = loose.replace(f"{line}\n", "")
        path = tmp_path / f"{kept}.yaml"
        path.write_text(loose, encoding="utf-8", newline="\n")
        told = [f for f in workflow.evaluate(workflow.load(path)).findings if f.code == UNCONFIRMED]
        lines = loose.splitlines()
        found[kept] = [(f.sentence, lines[int(f.where.removeprefix("line ")) - 1]) for f in told]
    assert [len(found[k]) for k in range(3)] == [2, 1, 0]
    (tailgate, its_line), (arch, arch_line) = found[0]
    assert "if tailgate's inner face, 450 up" in tailgate
    assert "inner_face:" in its_line
    assert "and 2 more gaps fit" in tailgate
    assert tailgate.endswith("To confirm it, measure: tailgate 450 to front middle.")
    assert "if height of the wheel arches" in arch
    assert "wheel_arches:" in arch_line
    assert arch.endswith("measure: left arch rear foot to left arch rear top.")
