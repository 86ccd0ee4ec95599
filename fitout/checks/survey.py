"""Whether the bay's notes agree, which look wrong, and what of the bay nothing determines.

Says nothing of a bay without notes and guesses: each of its numbers was read once, so there
is nothing to compare. What is wrong here is a caution: the adjusted bay does without notes
that the others contradict.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE, remark
from fitout.model.fault import Path
from fitout.model.finding import Finding, Severity
from fitout.survey.adjusted import Survey
from fitout.survey.adjustment import Observation
from fitout.survey.candidates import candidates, told
from fitout.survey.observations import GIVE, PITCH, in_degrees
from fitout.survey.parameters import parameters
from fitout.survey.remeasure import determining
from fitout.survey.snooping import Blunder, Suspect

BAARDA = "Baarda 1968, α 0.001 (from memory)"
GLOBAL = "global test of an adjustment, 95 % (Ghilani, Adjustment Computations, from memory)"

COVER = 2.0
"""Expanded uncertainties are stated with this factor, for about 95 % (JCGM 100, 6.2.1)."""

ODD_SHARE, ODD_BY = 0.10, 100.0
"""A reading off by more than this share and this many mm is taken for a wrong digit."""

PRIORS = (PITCH, GIVE)
"""What counts as known before any note."""

OFFERED = 3
"""How many further notes are offered, of which one would do."""


def check_survey(subject: Subject) -> Iterator[Finding]:
    """The notes of the survey agree, none looks wrong, and they say all of the bay."""
    survey = subject.survey
    if survey is None:
        return
    spec = survey.notebook.places.bay
    if not spec.survey.notes and not any(number.about for number in parameters(spec)):
        return
    yield from subject.memory.recall(("undetermined", survey), lambda: (*_undetermined(survey),))
    for blunder in survey.blunders:
        yield _blunder(subject, survey, blunder)
    for suspect in survey.suspects:
        yield _suspect(subject, survey, suspect)
    yield from _odd(subject, survey)
    if spec.survey.notes:
        yield _agreement(survey)
    if not survey.adopted:
        sentence = (
            "The notes are too far from the bay's entries to make one bay of both, so the "
            "entries stand as they are. Look at what differs most first."
        )
        yield remark("survey", "bay", Severity.CAUTION, sentence)


def likely_words(value: float, u: float) -> str:
    """A quantity and how sure it is, in words: "1811.2 ± 2.4"."""
    return f"{value:.1f}" if math.isinf(u) else f"{value:.1f} ± {COVER * u:.1f}"


def _place(subject: Subject, path: Path, name: str) -> str:
    """The line a note or entry stands on, or its name."""
    for length in range(len(path), 1, -1):
        if path[:length] in subject.sources:
            return f"line {subject.sources[path[:length]][0]}"
    return name


def _agreement(survey: Survey) -> Finding:
    found = survey.adjustment
    if not found.freedom:
        sentence = (
            "No two notes say the same thing, so an error in any would go unseen. "
            "`fitout survey` says what to measure next."
        )
        return remark("survey", "bay", Severity.UNCHECKED, sentence, GLOBAL)
    most = math.sqrt(found.limit / found.freedom)
    sure = found.settled and found.consistent
    count = len(found.observations) - len(PRIORS)
    sentence = (
        f"The bay's {count} numbers and notes {'agree' if sure else 'do not agree'}: they scatter "
        f"{found.m0:.2f} times as much as expected, where up to {most:.2f} is no surprise."
    )
    if not sure and not (survey.blunders or survey.suspects):
        sentence += " None stands out: more than one is worse than its tolerance says."
    return Finding(
        code="survey",
        severity=Severity.PASS if sure else Severity.CAUTION,
        where="bay",
        value=round(found.m0, 4),
        limit=round(most, 4),
        margin=round(most - found.m0, 4),
        sentence=sentence,
        source=GLOBAL,
    )


def _blunder(subject: Subject, survey: Survey, blunder: Blunder) -> Finding:
    note = survey.notebook.observations[blunder.index]
    odd = " Is a digit wrong?" if _far_off(note.value, blunder.likely) else ""
    sentence = (
        f"{_first_up(note.name)} reads {note.value:g}, but all else says "
        f"{likely_words(blunder.likely, blunder.u)}: it looks wrong by "
        f"{abs(blunder.difference):.0f}{' and is not used' if survey.adopted else ''}.{odd} "
        "Measure it again."
    )
    return Finding(
        code="survey",
        severity=Severity.CAUTION,
        where=_place(subject, note.path, note.name),
        value=note.value,
        limit=round(blunder.likely, 4),
        unit="deg" if in_degrees(note, survey.bay) else "mm",
        u=None if math.isinf(blunder.u) else round(blunder.u, 4),
        sentence=sentence,
        source=BAARDA,
    )


def _suspect(subject: Subject, survey: Survey, suspect: Suspect) -> Finding:
    notes = [survey.notebook.observations[i] for i in suspect.indices]
    each = "; ".join(
        f"{note.name} (reads {note.value:g}; without it {likely_words(one.likely, one.u)})"
        for note, one in zip(notes, suspect.notes, strict=True)
    )
    sentence = (
        f"One of these {len(notes)} is wrong, and nothing says which: {each}. "
        f"{tell_apart(survey, suspect)}"
    )
    where = ", ".join(dict.fromkeys(_place(subject, note.path, note.name) for note in notes))
    return remark("survey", where, Severity.CAUTION, sentence, BAARDA)


def tell_apart(survey: Survey, suspect: Suspect) -> str:
    """Which further notes would tell suspects apart, as a sentence."""
    telling = [survey.candidates[k] for k in suspect.told_by]
    if not telling:
        return "Measure each of them again."
    return f"To tell, {'; '.join(told(note) for note in telling)}."


def _undetermined(survey: Survey) -> Iterator[Finding]:
    further = candidates(survey.notebook)
    held_by = determining(further, survey.adjustment)
    for free, holding in zip(survey.undetermined, held_by, strict=True):
        sentence = f"{_first_up(free.combination)}; a guess stands. {offer(further, holding)}"
        where = free.names[0]
        yield remark("survey", where, Severity.UNCHECKED, sentence, "least squares")


def offer(further: Sequence[Observation], holding: Sequence[int]) -> str:
    """The notes of which any would determine something, as a sentence."""
    if not holding:
        return "No single note would settle it: measure its entries."
    offered = [told(further[k]) for k in holding[:OFFERED]]
    return f"To settle it, {', or '.join(offered)}."


def _odd(subject: Subject, survey: Survey) -> Iterator[Finding]:
    """Notes far from what the entries alone let expect, unless told already."""
    book = survey.notebook
    numbers = parameters(book.places.bay)
    known = {b.index for b in survey.blunders}
    # Guesses, and entries that are wrong themselves, let nothing be expected.
    unsure = {k for k, number in enumerate(numbers) if number.about}
    unsure |= {book.observations[i].on[0] for i in known if len(book.observations[i].on) == 1}
    for one in book.superseded:
        before, now = one.observation.value, one.observation.predict(book.start)
        if one.guess or len(one.observation.on) > 1 or not _far_off(now, before):
            continue
        # Which of the two readings is right is not known, so neither lets expect anything.
        unsure.add(one.observation.on[0])
        sentence = (
            f"{_first_up(one.observation.name)} read {before:g} and was superseded by {now:g}. "
            "Is a digit wrong?"
        )
        where = _place(subject, ("bay", "survey", "notes", one.note), one.observation.name)
        yield remark("survey", where, Severity.CAUTION, sentence, COMMON_PRACTICE)
    for i, note in enumerate(book.observations):
        if note.path[:3] != ("bay", "survey", "notes") or i in known or unsure & set(note.on):
            continue
        expected = note.predict(book.start)
        if _far_off(note.value, expected):
            sentence = (
                f"{_first_up(note.name)} reads {note.value:g}, where the bay's entries let "
                f"expect about {expected:.0f}. Is a digit wrong?"
            )
            where = _place(subject, note.path, note.name)
            yield remark("survey", where, Severity.CAUTION, sentence, COMMON_PRACTICE)


def _far_off(value: float, expected: float) -> bool:
    off = abs(value - expected)
    return off > ODD_BY and off > ODD_SHARE * abs(expected)


def _first_up(text: str) -> str:
    return text[:1].upper() + text[1:]
