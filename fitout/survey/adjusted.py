"""The bay as its notes, taken together, say it is; how sure each number is; what looks wrong."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from fitout.model.design import BaySpec
from fitout.model.fault import DesignError
from fitout.survey.adjustment import Adjustment, Array, Observation, Undetermined
from fitout.survey.candidates import candidates
from fitout.survey.observations import Notebook, notebook
from fitout.survey.parameters import Parameter, parameters, with_values
from fitout.survey.snooping import Blunder, Snooped, Suspect, snoop

DIGITS = 4
"""Decimals of a mm kept of adjusted numbers, so that they are the same on every machine."""

FAR, FAR_SHARE, GUESSED_SHARE = 20.0, 0.10, 0.50
"""An adjusted number is far off its entry by more than so many mm (or degrees) and more than
this share of it: a tenth for what was measured, half for a guess."""

SLIP, SLIP_SHARE = 10.0, 0.60
"""A builder misreads by so many mm (or degrees), or by this share of what was read, at most: a
wrong digit, a lean taken from the wrong side."""

UNTOLD = 25.0
"""mm; what the other notes make of a note is worth nothing if it is less sure than this."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Survey:
    """A surveyed bay.

    `bay` holds the adjusted numbers; `covariance` (n × n) theirs, in mm² (degrees for angles),
    in the order of `parameters`. Without notes the entries stand as they are, each as sure as
    its own tolerance or the tape makes it.
    """

    bay: BaySpec
    notebook: Notebook
    snooped: Snooped
    candidates: tuple[Observation, ...]
    covariance: Array
    adopted: bool

    @property
    def adjustment(self) -> Adjustment:
        """The adjustment of the trusted notes."""
        return self.snooped.adjustment

    @property
    def blunders(self) -> tuple[Blunder, ...]:
        """Notes the others contradict; they take no part."""
        return self.snooped.blunders

    @property
    def suspects(self) -> tuple[Suspect, ...]:
        """Groups of notes of which one is wrong, and nothing says which.

        A note that could be the wrong one only by being off absurdly is left out, unless it is
        that or one alone.
        """
        groups = []
        for group in self.snooped.suspects:
            likely = tuple(note for note in group.notes if self._believable(note))
            groups.append(replace(group, notes=likely) if len(likely) > 1 else group)
        return tuple(groups)

    def _believable(self, note: Blunder) -> bool:
        """Whether a builder could have misread by so much: a seat does not lean forward."""
        read = self.notebook.observations[note.index].value
        off = abs(note.difference)
        return note.u < UNTOLD and (off <= SLIP or off <= SLIP_SHARE * abs(read))

    @property
    def undetermined(self) -> tuple[Undetermined, ...]:
        """What no note determines; the guesses stand."""
        return self.adjustment.undetermined


def survey_of(bay: BaySpec) -> Survey:
    """Adjust a bay's entries and notes.

    Raises:
        DesignError: with a located fault for every note that can't be used.
    """
    book = notebook(bay)
    if book.faults:
        raise DesignError(book.faults)
    # What was superseded must not come back, not even where the notes are not adopted.
    bay = book.places.bay
    further: tuple[Observation, ...] = ()
    snooped = snoop(book.observations, book.start, book.names)
    if snooped.suspects:
        # Only to tell suspects apart does it matter what else could be measured.
        further = candidates(book)
        snooped = snoop(book.observations, book.start, book.names, candidates=further)
    count = len(parameters(bay))
    values = snooped.adjustment.values[:count]
    guesses = any(p.about for p in parameters(bay))
    adopted = bool(bay.survey.notes) or guesses
    if adopted:
        pairs = zip(parameters(bay), values, strict=True)
        adopted = snooped.adjustment.settled and all(_credible(p, float(v)) for p, v in pairs)
    return Survey(
        bay=with_values(bay, [round(float(v), DIGITS) for v in values]) if adopted else bay,
        notebook=book,
        snooped=snooped,
        candidates=further,
        covariance=np.array(snooped.adjustment.covariance[:count, :count]),
        adopted=adopted,
    )


def _credible(entry: Parameter, adjusted: float) -> bool:
    """Whether an adjusted number may replace its entry: not far off it, and not turned about.

    Every bay near one whose entries are sound is sound; one far from it may have its seat
    behind the sill.
    """
    share, by = (GUESSED_SHARE, FAR) if entry.about else (FAR_SHARE, FAR)
    off = abs(adjusted - entry.value)
    return off <= by or (off <= share * abs(entry.value) and adjusted * entry.value > 0.0)
