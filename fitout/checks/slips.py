"""Gaps that hang on one reading which nothing checks: they fit if that reading is confirmed.

A gap may be as good as sure by the tape's tolerance and yet be wrong: a tolerance says how
well a reading was taken, not that it was not a slip. A slip shows in a redundant survey. In
a reading that no other checks it does not, and if the gap hangs mostly on that reading, and
a slip of usual size eats all of it, a pass would promise too much. One caution for each such
reading names it, the gaps that hang on it, and what to measure to confirm it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from fitout.checks.stack import Array, Stack
from fitout.checks.subject import Subject
from fitout.model.finding import Finding, Severity
from fitout.survey.adjusted import Survey
from fitout.survey.adjustment import Observation, gradients_of
from fitout.survey.candidates import AGAIN, candidates, told
from fitout.survey.observations import in_degrees

UNCONFIRMED = "unconfirmed reading"
SOURCE = "reliability of a survey (Baarda 1968, from memory); size of a slip: common practice"

HANGS = 0.5
"""A gap hangs on a reading that brings more than this share of the gap's variance."""

UNSEEN = 0.1
"""In a reading with a smaller redundancy number a slip goes unseen: only errors above 13 of
its standard uncertainties would show."""

SLIP, SLIP_DEG = 10.0, 1.0
"""A usual slip: the next centimetre read (the one before or after), or the next degree."""

COVER = 3.0
"""What is read less surely may be off by so many standard uncertainties without any slip."""

NOTHING = 0.01
"""A reading with a smaller redundancy number is as good as unchecked."""

CONFIRMED = 0.17
"""A reading whose redundancy number comes to this hides no more than ten times its standard
uncertainty."""

NAMED = 2
"""How many of the gaps that hang on a reading are named; of more, the number."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hanging:
    """A gap, the reading it hangs on (its position), and mm of the gap for each mm read."""

    stack: Stack
    reading: int
    pull: float

    @property
    def gone_at(self) -> float:
        """By how much the reading would have to be off for nothing to be left of the gap."""
        return -self.stack.gap / self.pull


def unconfirmed(subject: Subject, passing: Sequence[Stack]) -> Iterator[Finding]:
    """A caution for each unchecked reading that gaps, sure by their tolerances, hang on."""
    survey = subject.survey
    if survey is None or not passing:
        return
    pulls = _pulls(survey, passing)
    found: dict[int, list[Hanging]] = {}
    for stack, pull in zip(passing, pulls, strict=True):
        hanging = _hanging(survey, stack, pull)
        if hanging is not None:
            found.setdefault(hanging.reading, []).append(hanging)
    for reading, gaps in found.items():
        gaps.sort(key=lambda one: (abs(one.gone_at), one.stack.name))
        yield _caution(subject, survey, reading, gaps)


def _pulls(survey: Survey, stacks: Sequence[Stack]) -> Array:
    """By how many mm each gap changes for each mm (degree) a reading is off (gaps × notes)."""
    found = survey.adjustment
    gradients = np.zeros((len(stacks), len(found.values)))
    for row, stack in zip(gradients, stacks, strict=True):
        row[: len(stack.gradient)] = stack.gradient
    pulls: Array = gradients @ found.spread @ found.jacobian.T @ found.weights
    return pulls


def _hanging(survey: Survey, stack: Stack, pull: Array) -> Hanging | None:
    """The unchecked reading a gap hangs on, if a slip in it would eat the gap."""
    if not stack.u:
        return None
    found = survey.adjustment
    own = np.array([note.u for note in found.observations])
    share = (pull * own) ** 2 / stack.u**2
    most = int(np.argmax(share))
    note = found.observations[most]
    # What was assumed before any reading is no reading.
    if share[most] <= HANGS or found.redundancy[most] >= UNSEEN or note.path == ("bay", "survey"):
        return None
    if abs(float(pull[most])) * _off(survey, note) <= stack.gap:
        return None
    return Hanging(stack=stack, reading=most, pull=float(pull[most]))


def _off(survey: Survey, note: Observation) -> float:
    """By how much a reading may well be off, in its unit."""
    slip = SLIP_DEG if in_degrees(note, survey.bay) else SLIP
    # Where two things meet, nothing is read off the tape that could be misread.
    return max(slip if note.value else 0.0, COVER * note.u)


def _caution(subject: Subject, survey: Survey, reading: int, gaps: Sequence[Hanging]) -> Finding:
    note, first = survey.adjustment.observations[reading], gaps[0]
    mark = "°" if in_degrees(note, survey.bay) else ""
    named = [f"{one.stack.plain_name} ({one.stack.gap:.1f} mm)" for one in gaps[:NAMED]]
    if len(gaps) > NAMED:
        more = len(gaps) - NAMED
        named = [", ".join(named), f"{more} more gap{'s' if more > 1 else ''}"]
    line = _line(subject, note)
    unchecked = survey.adjustment.redundancy[reading] < NOTHING
    checked = "no other note checks" if unchecked else "the other notes hardly check"
    it = "the first" if len(gaps) > 1 else "it"
    sentence = (
        f"{' and '.join(named)} {'fit' if len(gaps) > 1 else 'fits'} if {note.name}"
        f"{f' ({line})' if line else ''} is confirmed: it reads {note.value:g}{mark}, {checked} "
        f"it, and were it {note.value + first.gone_at:.1f}{mark} nothing would be "
        f"left of {it}. To confirm it, {told(_confirming(subject, survey, reading, first))}."
    )
    return Finding(
        code=UNCONFIRMED,
        severity=Severity.CAUTION,
        where=line or note.name,
        value=round(first.stack.gap, 4),
        unit="mm",
        u=round(first.stack.u, 3),
        probability=round(first.stack.probability, 4),
        sentence=sentence,
        source=SOURCE,
    )


def _line(subject: Subject, note: Observation) -> str:
    """The line of the design file a reading stands on; empty if that is not known."""
    for length in range(len(note.path), 1, -1):
        if note.path[:length] in subject.sources:
            return f"line {subject.sources[note.path[:length]][0]}"
    return ""


def _confirming(subject: Subject, survey: Survey, reading: int, gap: Hanging) -> Observation:
    """What to measure so that a slip in a reading would show.

    Another measurement before the same again, if it checks well enough: who misread a line
    or hooked the tape over the wrong edge may well do it twice.
    """
    up = round(gap.stack.up)
    further = subject.memory.recall(
        ("further", survey, up), lambda: candidates(survey.notebook, up)
    )
    found = survey.adjustment
    row, own = found.jacobian[reading], found.observations[reading].u ** 2
    rows = gradients_of(further, found.values)
    reach = rows @ found.spread @ row
    others = np.array([note.u**2 for note in further])
    total = others + np.sum((rows @ found.spread) * rows, axis=1)
    checks = reach**2 / (own * total)
    fresh = np.array([not note.name.endswith(AGAIN) for note in further])
    enough = fresh & (checks >= CONFIRMED)
    return further[int(np.argmax(np.where(enough, checks, 0.0) if enough.any() else checks))]
