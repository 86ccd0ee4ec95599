"""`fitout check DESIGN --why WHAT`: what a finding, a part or a number hangs on."""

from __future__ import annotations

import dataclasses
import json
import sys
import textwrap

from fitout import workflow
from fitout.answers.asked import AskedFinding, AskedNumber, AskedPart, UnknownError, asked
from fitout.answers.compare import compared
from fitout.answers.following import followed, surface_values
from fitout.answers.numbers import Figure, changed, figures
from fitout.answers.telling import (
    answer_object,
    difference_lines,
    difference_object,
    figure_object,
    following_object,
    part_lines,
    why_lines,
)
from fitout.answers.why import (
    BETWEEN,
    STEP,
    STEPS,
    Answer,
    Measure,
    Prepare,
    finding_values,
    influences,
    part_values,
)
from fitout.checks import Memory, Subject
from fitout.model.design import Design
from fitout.model.fault import DesignError
from fitout.model.finding import Finding
from fitout.survey.bay import build_bay
from fitout.verbs.saying import FAULTY, PASSED, WIDTH, Progress
from fitout.workflow import Evaluation

REMEMBERED = 50_000
"""How many answers are kept: each number tried asks its own."""


def explain(file: str, words: str, as_json: bool) -> int:
    """Say what was asked about; exit 2 where nothing is called so."""
    design, memory = workflow.load(file), Memory(limit=REMEMBERED)
    with Progress() as progress:
        evaluation = workflow.evaluate(design, memory, progress.checks)
    boards = {role: board.thickness for role, board in evaluation.setting.boards.items()}
    try:
        meant = asked(words, evaluation.subject, evaluation.findings, figures(design, boards))
    except UnknownError as unknown:
        print(textwrap.fill(f"fitout: {unknown}", WIDTH), file=sys.stderr)
        return FAULTY
    answer: Answer | None = None
    follows: tuple[str, Answer] | None = None
    match meant:
        case AskedNumber(figure):
            return _number(evaluation, figure, memory, as_json)
        case AskedPart(part):
            answer = _followed(design, part_values(part), memory)
            lines = part_lines(part, answer, file)
        case AskedFinding(finding, check, place, _):
            if check is not None:
                values = finding_values(check, finding.code, finding.where, place)
                answer = _followed(design, values, memory)
            follows = _surface(evaluation, finding, answer, memory)
            lines = why_lines(meant, answer, file, follows)
    if as_json:
        told = answer_object(words, answer)
        if follows is not None:
            told["follows"] = following_object(*follows)
        print(json.dumps(told, indent=1))
    else:
        print("\n".join(lines))
    return PASSED


def _surface(
    evaluation: Evaluation, finding: Finding, answer: Answer | None, memory: Memory
) -> tuple[str, Answer] | None:
    """The surface that a part of a gap follows as measured, and what decides where it is."""
    surface = followed(evaluation.subject, finding, answer)
    if surface is None:
        return None
    part = finding.where.partition(BETWEEN)[0]
    measure = surface_values(evaluation.subject, part, surface)

    def vehicle(design: Design, kept: Memory) -> Subject:
        # Nothing but the vehicle decides where its surface is.
        bay = build_bay(workflow.surveyed(design, kept).bay)
        return dataclasses.replace(evaluation.subject, obstacles={o.id: o for o in bay.obstacles})

    return surface, _followed(evaluation.design, measure, memory, vehicle)


def _followed(
    design: Design, measure: Measure, memory: Memory, prepare: Prepare = workflow.prepared
) -> Answer:
    with Progress() as progress:
        progress.tell("what it hangs on")

        def told(done: int, of: int) -> None:
            progress.tell(f"what it hangs on, number {done + 1} of {of}")

        return influences(design, prepare, measure, told, memory)


def _number(before: Evaluation, figure: Figure, memory: Memory, as_json: bool) -> int:
    """A number of the design: all that changes with one more and one less of it."""
    step = STEPS.get(figure.unit, STEP)
    told: dict[str, object] = {"asked": figure.name, "number": figure_object(figure)}
    place = "a default" if figure.line is None else f"line {figure.line}"
    if not as_json:
        print(f"{figure.name} is {figure.value:g} {figure.unit.value} ({place}).\n")
    for sign, name in ((1.0, "one_more"), (-1.0, "one_less")):
        label = f"With {step:g} {figure.unit.value} {'more' if sign > 0.0 else 'less'}:"
        try:
            with Progress() as progress:
                other = changed(before.design, figure, sign * step)
                after = workflow.evaluate(other, memory, progress.checks)
        except DesignError as error:
            told[name] = None
            if not as_json:
                print(f"{label} the design can't be used: {error.faults[0].found}.\n")
            continue
        difference = compared(before, after)
        told[name] = difference_object(difference)
        if not as_json:
            print(label)
            print("\n".join(difference_lines(difference)))
    if as_json:
        print(json.dumps(told, indent=1))
    return PASSED
