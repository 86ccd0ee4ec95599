"""A survey as a builder reads it: each thing measured, and what to measure next."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from fitout.model.fault import Path
from fitout.survey.adjusted import Survey
from fitout.survey.adjustment import Array, Observation, gradients_of
from fitout.survey.candidates import told
from fitout.survey.measures import ANGLES
from fitout.survey.observations import DEFINED_U, in_degrees
from fitout.survey.parameters import parameters
from fitout.survey.remeasure import rank
from fitout.survey.snooping import CRITICAL
from fitout.survey.supersession import Superseded, dated
from fitout.survey.words import describe

NOTES: Path = ("bay", "survey", "notes")

HARDLY = 10.0
"""A note is hardly checked if only errors above so many times its uncertainty would show."""

AS_GOOD_AS_UNCHECKED = 40.0
"""A note is unchecked if no error smaller than so many times its uncertainty would show."""

WORTH = 0.05
"""mm (k = 2); making a gap surer by less than this is not worth a word."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One thing measured, assumed or guessed, in mm (degrees if `degrees`).

    `read` is None for a guess; `u` the standard uncertainty of the adjusted value, infinite
    where nothing determines it; `residual` adjusted minus read; `checked` how far the others
    check it, 0 to 1 or thereabouts. `on` and `by` say when and by whom it was read, where that
    is known; `superseded_by` is the note, by its name, that counts in its place.
    """

    name: str
    path: Path
    degrees: bool
    read: float | None
    adjusted: float
    u: float
    residual: float | None
    checked: float
    remark: str
    on: date | None = None
    by: str | None = None
    superseded_by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Wanted:
    """A gap (or a size of the bay) that is to be surer, and its gradient by the `parameters`.

    `other_u` is the part of its standard uncertainty that the bay's numbers have no part in.
    """

    name: str
    gradient: Array
    other_u: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Gain:
    """A gap's standard uncertainty without and with a further note, mm."""

    name: str
    before: float
    after: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Next:
    """A note to take: what to do, the gaps it makes surer, the largest error then unseen, mm."""

    what: str
    gains: tuple[Gain, ...]
    unseen: float


def rows(survey: Survey) -> tuple[Row, ...]:
    """Everything measured in the order of the design file, guesses among the entries.

    What was superseded stands where it stood.
    """
    book = survey.notebook
    spec = book.places.bay.survey
    gone = {one.observation.path: _gone(survey, one) for one in book.superseded}
    entries = [("bay", *number.path) for number in parameters(book.places.bay)]
    read = {o.path: (i, o) for i, o in enumerate(book.observations) if o.path in set(entries)}
    found: list[Row] = []
    for k, path in enumerate(entries):
        if path in gone:
            found.append(gone[path])
        elif path not in read:
            found.append(_guess(survey, k, path, float(book.start[k])))
        else:
            found.append(replace(_row(survey, *read[path]), on=spec.on, by=spec.by))
    noted = [(i, o) for i, o in enumerate(book.observations) if o.path[:3] == NOTES]
    listed = [_noted(survey, i, o) for i, o in noted]
    listed += [_gone(survey, one) for one in book.superseded if one.observation.path[:3] == NOTES]
    found += sorted(listed, key=lambda row: int(row.path[3]))
    used = {k for _, note in noted for k in note.on}
    found += [
        _row(survey, i, o)
        for i, o in enumerate(book.observations)
        if o.path == ("bay", "survey") and used & set(o.on)
    ]
    return tuple(found)


def _noted(survey: Survey, index: int, note: Observation) -> Row:
    """A note with its date; one that superseded says so."""
    spec = survey.notebook.places.bay.survey
    written = spec.notes[int(note.path[3])]
    on, by = dated(written, spec)
    row = _row(survey, index, note)
    remark = row.remark
    if written.supersedes:
        remark = ", ".join([remark, "supersedes", *_when(on, by)])
    return replace(row, on=on, by=by, remark=remark)


def _gone(survey: Survey, one: Superseded) -> Row:
    """A superseded reading against what holds now."""
    book, note, found = survey.notebook, one.observation, survey.adjustment
    spec = book.places.bay.survey
    later = spec.notes[one.note]
    on, by = (spec.on, spec.by)
    if note.path[:3] == NOTES:
        on, by = dated(spec.notes[int(note.path[3])], spec)
    now = note.predict(found.values)
    variance = found.variance(gradients_of([note], found.values))
    return Row(
        name=note.name,
        path=note.path,
        degrees=in_degrees(note, survey.bay),
        read=None if one.guess else note.value,
        adjusted=now,
        u=math.sqrt(float(variance[0])),
        residual=None if one.guess else now - note.value,
        checked=0.0,
        remark=" ".join(["superseded", *_bracketed(_when(*dated(later, spec)))]),
        on=on,
        by=by,
        superseded_by=later.name or describe(later),
    )


def _when(on: date | None, by: str | None) -> list[str]:
    """When and by whom, as far as is known."""
    day = [] if on is None else [f"on {on}"]
    return day if by is None else [*day, f"by {by}"]


def _bracketed(words: Sequence[str]) -> list[str]:
    return [f"({', '.join(words)})"] if words else []


def _guess(survey: Survey, k: int, path: Path, value: float) -> Row:
    free = math.isinf(float(survey.covariance[k, k]))
    return Row(
        name=survey.notebook.names[k],
        path=path,
        degrees=path[-1] in ANGLES,
        read=None,
        adjusted=value if free else float(survey.adjustment.values[k]),
        u=math.sqrt(float(survey.covariance[k, k])),
        residual=None,
        checked=0.0,
        remark="a guess; no note tells" if free else "was a guess",
    )


def _row(survey: Survey, index: int, note: Observation) -> Row:
    degrees = in_degrees(note, survey.bay)
    for blunder in survey.blunders:
        if blunder.index == index:
            likely = f"{blunder.likely:.1f}°" if degrees else f"{blunder.likely:.0f}"
            return Row(
                name=note.name,
                path=note.path,
                degrees=degrees,
                read=note.value,
                adjusted=blunder.likely,
                u=blunder.u,
                residual=-blunder.difference,
                checked=1.0,
                remark=f"looks wrong: likely {likely}",
            )
    found = survey.adjustment
    j = survey.snooped.kept.index(index)
    variance = found.variance(found.jacobian[j])
    return Row(
        name=note.name,
        path=note.path,
        degrees=degrees,
        read=note.value,
        adjusted=note.value + float(found.residuals[j]),
        u=math.sqrt(float(variance[0])),
        residual=float(found.residuals[j]),
        checked=float(found.redundancy[j]),
        remark=_remark(survey, index, j),
    )


def _remark(survey: Survey, index: int, j: int) -> str:
    note = survey.notebook.observations[index]
    if any(index in suspect.indices for suspect in survey.suspects):
        return "this or another"
    if note.path == ("bay", "survey"):
        return "assumed before"
    if note.u <= DEFINED_U:
        return "where lengths begin"
    if abs(float(survey.adjustment.standardised[j])) > CRITICAL:
        return "disagrees"
    hidden = float(survey.adjustment.detectable[j])
    if hidden > AS_GOOD_AS_UNCHECKED * note.u:
        return "unchecked"
    return f"may hide {hidden:.0f}" if hidden > HARDLY * note.u else "ok"


def sizes(survey: Survey, count: int = 3) -> tuple[Wanted, ...]:
    """The bay's widths and depth that are least sure: what to ask for while there are no gaps."""
    numbers = parameters(survey.bay)
    size = [
        k
        for k, number in enumerate(numbers)
        if (number.path[0] == "sections" and "widths" in number.path)
        or number.path in (("seat_back", "foot"), ("front_wall",))
    ]
    size.sort(key=lambda k: -float(survey.covariance[k, k]))
    units = np.eye(len(numbers))
    return tuple(Wanted(name=survey.notebook.names[k], gradient=units[k]) for k in size[:count])


def measure_next(
    survey: Survey, further: Sequence[Observation], wanted: Sequence[Wanted], count: int = 3
) -> tuple[Next, ...]:
    """The further notes that bring most for what is wanted surer, best first."""
    if not wanted:
        return ()
    unknowns = len(survey.adjustment.values)
    gradients = np.zeros((len(wanted), unknowns))
    for row, one in zip(gradients, wanted, strict=True):
        row[: len(one.gradient)] = one.gradient
    advised = rank(further, survey.adjustment, gradients, count)
    return tuple(
        Next(
            what=told(further[advice.index]),
            gains=tuple(_gains(wanted, advice.before, advice.after)),
            unseen=advice.detectable,
        )
        for advice in advised
    )


def _gains(
    wanted: Sequence[Wanted], before: Sequence[float], after: Sequence[float]
) -> Iterator[Gain]:
    for one, old, new in zip(wanted, before, after, strict=True):
        gain = Gain(
            name=one.name,
            before=math.hypot(old, one.other_u),
            after=math.hypot(new, one.other_u),
        )
        if math.isinf(new):
            continue
        if 2.0 * (gain.before - gain.after) >= WORTH:
            yield gain
