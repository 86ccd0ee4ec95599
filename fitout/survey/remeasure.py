"""What to measure next: which further note narrows the tightest gaps most.

What a note would add is known before it is taken: its uncertainty and how it hangs on the
unknowns say by how much the gaps' uncertainties shrink and how well the notes then check one
another, whatever it will read. Errors that readings share (the tape's own) are carried along
as unknowns, so that repeats are not counted for more than they bring.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from fitout.survey.adjustment import (
    DETECTED,
    Adjustment,
    Array,
    Observation,
    gradients_of,
    groups_of,
)
from fitout.survey.uncertainty import NORMAL

FAR = 1e4
"""mm, the standard uncertainty given to what is undetermined: as good as unknown."""

UNKNOWN = 1e3
"""mm; a gap less sure than this counts as undetermined."""

MATTERS = 1e-3
"""mm a gap moves for each mm of error in a note, from which the note matters to it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """What one further note would bring.

    `before` and `after` are the standard uncertainties of the wanted gaps, mm (infinite while
    undetermined). `redundancy_before` and `redundancy` are the lowest redundancy number among
    the notes those gaps hang on, without and with it; `detectable` the largest error (mm or
    deg) that could then still hide in one of them in a fifth of cases, infinite while one of
    them is unchecked.
    """

    index: int
    name: str
    before: tuple[float, ...]
    after: tuple[float, ...]
    redundancy_before: float
    redundancy: float
    detectable: float

    @property
    def reductions(self) -> tuple[float, ...]:
        """By how much each gap's standard uncertainty falls, mm."""
        return tuple(
            0.0 if math.isinf(new) else old - new
            for old, new in zip(self.before, self.after, strict=True)
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Gap:
    """A gap's nominal mm, its gradient to the unknowns, and uncertainty from elsewhere, mm.

    `other_u` is what the bay has no part in: sheets, cuts, items, assembly.
    """

    nominal: float
    gradient: Array
    other_u: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Readings that make a gap sure enough: candidate positions and how often each is taken.

    `before` and `probability` are those of a positive gap, without and with them, should the
    readings confirm its nominal. `reached`: whether that is the level asked for.
    """

    readings: tuple[tuple[int, int], ...]
    before: float
    probability: float
    reached: bool


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _State:
    """Covariance of unknowns and shared errors; rows and own variances of notes, candidates."""

    spread: Array
    notes: Array
    notes_own: Array
    rows: Array
    own: Array


def rank(
    candidates: Sequence[Observation], adjustment: Adjustment, wanted: Array, count: int = 3
) -> tuple[Advice, ...]:
    """The candidates that bring most, best first, at most `count`.

    `wanted` are the gradients of the tightest gaps (k × n). Ranked by how much the gaps'
    standard uncertainties fall in total (to the hundredth of a mm), then by how much better
    the notes those gaps hang on check one another. A candidate that brings neither is left
    out.
    """
    if not candidates:
        return ()
    state = _state(candidates, adjustment)
    gaps = _widened(np.atleast_2d(np.asarray(wanted, dtype=np.float64)), state)
    total = state.own + _quadratic(state.rows, state.spread)
    narrowed = (gaps @ state.spread @ state.rows.T) ** 2 / total
    before = _quadratic(gaps, state.spread)
    own, checks, gains = _mattering(state, gaps, total)
    judged = []
    for i, note in enumerate(candidates):
        later = checks + gains[:, i]
        advice = Advice(
            index=i,
            name=note.name,
            before=_sure(before),
            after=_sure(before - narrowed[:, i]),
            redundancy_before=float(np.min(checks, initial=1.0)),
            redundancy=float(np.min(later, initial=1.0)),
            detectable=_largest_hidden(own, later),
        )
        reduction = round(sum(advice.reductions), 2)
        gain = round(float(np.sum(gains[:, i])), 3)
        if reduction > 0.0 or gain > 0.0:
            raised = round(advice.redundancy - advice.redundancy_before, 3)
            judged.append(((-reduction, -raised, -gain, i), advice))
    judged.sort(key=lambda pair: pair[0])
    return tuple(advice for _, advice in judged[:count])


def need(
    candidates: Sequence[Observation],
    adjustment: Adjustment,
    gap: Gap,
    level: float = 0.95,
    most: int = 8,
) -> Plan:
    """Which readings, and how many, make the gap positive with a probability above `level`.

    Chosen one at a time, each the one after which the gap is surest; the same candidate may
    come again, as a repeat. At most `most` readings, none where no reading could help.
    """
    state = _state(candidates, adjustment)
    gradient = _widened(np.atleast_2d(gap.gradient), state)[0]
    spread = state.spread
    before = _probability(gap, gradient, spread)
    best_ever = 1.0 if gap.other_u == 0.0 else NORMAL.cdf(gap.nominal / gap.other_u)
    taken: list[int] = []
    hopeful = gap.nominal > 0.0 and best_ever > level and len(candidates) > 0
    while hopeful and _probability(gap, gradient, spread) <= level and len(taken) < most:
        reach = state.rows @ spread @ gradient
        total = state.own + _quadratic(state.rows, spread)
        best = int(np.argmax(reach**2 / total))
        if reach[best] ** 2 / total[best] < 1e-6:
            break
        taken.append(best)
        spread = _with(state, spread, best)
    probability = _probability(gap, gradient, spread)
    readings = tuple((k, taken.count(k)) for k in dict.fromkeys(taken))
    return Plan(
        readings=readings, before=before, probability=probability, reached=probability > level
    )


def determining(
    candidates: Sequence[Observation], adjustment: Adjustment
) -> tuple[tuple[int, ...], ...]:
    """For each undetermined combination, the positions of the candidates that would hold it."""
    if not candidates:
        return tuple(() for _ in adjustment.undetermined)
    rows = gradients_of(candidates, adjustment.values)
    found = []
    for free in adjustment.undetermined:
        direction = np.array(free.direction)
        reach = np.abs(rows) @ np.abs(direction)
        holds = np.abs(rows @ direction) > 1e-4 * reach + 1e-12
        found.append(tuple(int(i) for i in np.flatnonzero(holds)))
    return tuple(found)


def _state(candidates: Sequence[Observation], adjustment: Adjustment) -> _State:
    """The unknowns, with one more for each error that readings of a group share.

    Each such error is measured in its own standard uncertainty, so that its prior variance
    is 1, and enters a reading multiplied by that reading's `shared`.
    """
    notes = adjustment.observations
    together = [*notes, *candidates]
    groups = groups_of(together)
    jacobian = np.vstack((adjustment.jacobian, gradients_of(candidates, adjustment.values)))
    errors = np.zeros((len(together), len(groups)))
    for k, members in enumerate(groups.values()):
        for i in members:
            errors[i, k] = together[i].shared
    rows = np.hstack((jacobian, errors))
    own = np.array([note.u**2 for note in together]) - np.sum(errors**2, axis=1)
    known = rows[: len(notes)]
    unknowns = len(adjustment.values)
    priors = np.zeros((len(groups) + len(adjustment.undetermined), rows.shape[1]))
    priors[: len(groups), unknowns:] = np.eye(len(groups))
    for prior, free in zip(priors[len(groups) :], adjustment.undetermined, strict=True):
        prior[:unknowns] = np.array(free.direction) / FAR
    # By way of the triangle, not the normal equations: what is far off and what is sure to a
    # hundredth of a mm stand side by side here.
    weighted = known / np.sqrt(own[: len(notes), None])
    inverse = np.linalg.inv(np.linalg.qr(np.vstack((weighted, priors)), mode="r"))
    return _State(
        spread=inverse @ inverse.T,
        notes=known,
        notes_own=own[: len(notes)],
        rows=rows[len(notes) :],
        own=own[len(notes) :],
    )


def _with(state: _State, spread: Array, index: int) -> Array:
    """The covariance once a candidate has been taken."""
    reach = spread @ state.rows[index]
    taken: Array = spread - np.outer(reach, reach) / (state.own[index] + state.rows[index] @ reach)
    return taken


def _widened(gradients: Array, state: _State) -> Array:
    """Gradients to the unknowns as gradients to unknowns and shared errors."""
    missing = state.spread.shape[0] - gradients.shape[1]
    return np.hstack((gradients, np.zeros((len(gradients), missing))))


def _quadratic(rows: Array, spread: Array) -> Array:
    """Variance of what each row combines."""
    variance: Array = np.sum((rows @ spread) * rows, axis=1)
    return variance


def _sure(variances: Array) -> tuple[float, ...]:
    u = np.sqrt(np.maximum(variances, 0.0))
    return tuple(math.inf if value > UNKNOWN else float(value) for value in u)


def _mattering(state: _State, gaps: Array, total: Array) -> tuple[Array, Array, Array]:
    """Of the notes that would move a gap were they wrong: own variance, redundancy, gains.

    Redundancy is against the part of a note's error that is its own; the gains (notes ×
    candidates) are what each candidate adds to it.
    """
    moves = np.abs(gaps @ state.spread @ state.notes.T) / state.notes_own
    matter = np.any(moves > MATTERS, axis=0)
    notes, own = state.notes[matter], state.notes_own[matter]
    checks = np.maximum(1.0 - _quadratic(notes, state.spread) / own, 0.0)
    gains = (notes @ state.spread @ state.rows.T) ** 2 / own[:, None] / total
    return own, checks, gains


def _largest_hidden(own: Array, checks: Array) -> float:
    """The largest error that could hide in one of these notes; 0 if there are none."""
    with np.errstate(divide="ignore"):
        hidden = DETECTED * np.sqrt(own / np.where(checks > 1e-6, checks, 0.0))
    return float(np.max(hidden, initial=0.0))


def _probability(gap: Gap, gradient: Array, spread: Array) -> float:
    """Probability that the gap is positive."""
    u = math.hypot(gap.other_u, math.sqrt(max(float(gradient @ spread @ gradient), 0.0)))
    if u == 0.0:
        return 1.0 if gap.nominal > 0.0 else 0.0
    return NORMAL.cdf(gap.nominal / u)
