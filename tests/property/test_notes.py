"""Whatever the notes say, the survey answers: no error, finite numbers, nothing named twice."""

import dataclasses
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout import workflow
from fitout.model.design import BaySpec, Design
from fitout.model.notes import NoteSpec
from fitout.model.spec import Measured
from fitout.survey.adjusted import survey_of
from fitout.survey.bay import build_bay
from fitout.survey.parameters import parameters, with_values
from fitout.survey.report import rows

DESIGNS = sorted((Path(__file__).resolve().parents[2] / "designs").glob("*.yaml"))


@cache
def design_of(path: Path) -> Design:
    return workflow.load(path)


def misread(note: NoteSpec, by: float, noted: float | None) -> NoteSpec:
    """The note off by so many mm."""
    if note.reads is None:
        return note
    return dataclasses.replace(
        note, reads=Measured(max(note.reads.value + by, 50.0), noted), pressed=None
    )


def notes_of(bay: BaySpec) -> st.SearchStrategy[tuple[NoteSpec, ...]]:
    """Some of a bay's notes, some of them wrong, by a little or by a lot."""
    off = st.one_of(st.floats(-2.0, 2.0), st.floats(-60.0, 60.0), st.floats(-2000.0, 5000.0))
    sure = st.one_of(st.none(), st.floats(0.1, 40.0))
    one = st.builds(misread, st.sampled_from(bay.survey.notes), off, sure)
    return st.lists(one, max_size=8).map(tuple)


@pytest.mark.parametrize("path", DESIGNS, ids=lambda path: path.stem)
def test_any_notes_and_guesses_are_answered(path: Path) -> None:
    bay = design_of(path).bay
    count = len(parameters(bay))

    @settings(max_examples=25, deadline=None, derandomize=True, database=None)
    @given(notes_of(bay), st.sets(st.integers(0, count - 1), max_size=3))
    def answered(notes: tuple[NoteSpec, ...], guesses: set[int]) -> None:
        spec = guessed(bay, guesses)
        spec = dataclasses.replace(spec, survey=dataclasses.replace(bay.survey, notes=notes))
        survey = survey_of(spec)
        assert np.all(np.isfinite([p.value for p in parameters(survey.bay)]))
        assert build_bay(survey.bay).front > 0.0
        blunders = [b.index for b in survey.blunders]
        suspects = [i for group in survey.suspects for i in group.indices]
        assert len(set(blunders)) == len(blunders)
        assert not set(blunders) & set(suspects)
        for row in rows(survey):
            assert np.isfinite(row.adjusted)
            assert row.u >= 0.0
            assert row.remark

    answered()


def guessed(bay: BaySpec, which: set[int]) -> BaySpec:
    """The bay with some of its numbers as guesses."""

    def about(node: object) -> object:
        nonlocal at
        if isinstance(node, Measured):
            at += 1
            return Measured(node.value, about=True) if at - 1 in which else node
        if isinstance(node, dict):
            return {key: about(value) for key, value in node.items()}
        if isinstance(node, tuple):
            return tuple(about(value) for value in node)
        if dataclasses.is_dataclass(node) and not isinstance(node, type):
            changes = {
                f.name: about(getattr(node, f.name))
                for f in dataclasses.fields(node)
                if f.name != "survey"
            }
            return dataclasses.replace(node, **changes)
        return node

    at = 0
    plain = with_values(bay, [p.value for p in parameters(bay)])
    changed = about(plain)
    assert isinstance(changed, BaySpec)
    return changed
