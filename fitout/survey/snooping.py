"""Which notes are wrong: single-note tests repeated until the rest agree.

The note with the largest standardised residual is set aside if that exceeds the critical
value, the rest is adjusted anew, and every note set aside is tried again with it. Where the
residuals can't tell two or more notes apart, because each would look the same or because
they explain this contradiction nearly equally well, none of them is named: they are reported
together, with the further notes that would tell.

Source: Baarda, A testing procedure for use in geodetic networks, 1968 (from memory).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from fitout.survey.adjustment import (
    CHECKED,
    Adjustment,
    Array,
    Observation,
    adjust,
    gradients_of,
)

CRITICAL = 3.29
"""Standard normal, two-sided, α 0.001."""

SAME = 0.999
"""Correlation of two standardised residuals from which nothing tells the notes apart."""

TOLD_APART = 0.95
"""Correlation below which a blunder of ordinary size points at the right note."""

FURTHER = 6
"""Notes asked for, at most, to tell suspects apart."""

TWENTY_TO_ONE = 6.0
"""Difference of squared standardised residuals at which one of two explanations is twenty
times as likely as the other (2 ln 20)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Blunder:
    """A note that the others contradict: what it says, and what they say it should.

    `w` is its standardised residual (adjusted minus read over its uncertainty) among the
    trusted notes; `likely` and `u` what the others make of the quantity and how sure that is;
    `difference` the reading minus that.
    """

    index: int
    name: str
    w: float
    likely: float
    u: float
    difference: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspect:
    """Notes of which one is wrong, and nothing says which.

    `notes` says for each what the others would make of it. `told_by` are positions in the list
    of candidates that, all taken, would tell them apart, most telling first; empty if that
    list can't.
    """

    notes: tuple[Blunder, ...]
    told_by: tuple[int, ...]

    @property
    def indices(self) -> tuple[int, ...]:
        """Positions of the suspected notes."""
        return tuple(note.index for note in self.notes)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Snooped:
    """The adjustment without blunders (suspects stay in it), and what was found.

    `kept` are the positions of the notes in the adjustment, in its order.
    """

    adjustment: Adjustment
    kept: tuple[int, ...]
    blunders: tuple[Blunder, ...]
    suspects: tuple[Suspect, ...]


def snoop(
    observations: Sequence[Observation],
    start: Array,
    names: Sequence[str],
    critical: float = CRITICAL,
    candidates: Sequence[Observation] = (),
) -> Snooped:
    """Adjust the notes and set aside, one at a time, those the others contradict.

    `candidates` are notes that could still be taken; they serve to tell suspects apart.

    Raises:
        ValueError: when a note can't be predicted from `start`.
    """
    search = _Search(observations, names, np.asarray(start, dtype=np.float64))
    aside = _set_aside(search, critical)
    blunders = tuple(i for i, group in aside.items() if len(group) == 1)
    kept = search.without(frozenset(blunders))
    return Snooped(
        adjustment=search.adjusted(frozenset(blunders)),
        kept=kept,
        blunders=tuple(_doubted(search, frozenset(aside), i) for i in blunders),
        suspects=tuple(
            _suspect(search, frozenset(aside), group, candidates)
            for group in aside.values()
            if len(group) > 1
        ),
    )


class _Search:
    """The adjustments made so far, by which notes they leave out."""

    def __init__(
        self, observations: Sequence[Observation], names: Sequence[str], start: Array
    ) -> None:
        self._observations = observations
        self._names = names
        self._near = start
        self._made: dict[frozenset[int], Adjustment] = {}

    def without(self, out: frozenset[int]) -> tuple[int, ...]:
        """Positions of the other notes."""
        return tuple(i for i in range(len(self._observations)) if i not in out)

    def adjusted(self, out: frozenset[int]) -> Adjustment:
        """The adjustment of the other notes."""
        if out not in self._made:
            notes = [self._observations[i] for i in self.without(out)]
            self._made[out] = adjust(notes, self._near, self._names)
            if len(self._made) == 1:
                self._near = self._made[out].values
        return self._made[out]

    def w(self, out: frozenset[int]) -> Array:
        """Standardised residuals of all notes, 0 for those left out."""
        w = np.zeros(len(self._observations))
        w[list(self.without(out))] = self.adjusted(out).standardised
        return w

    def alike(self, out: frozenset[int], index: int, critical: float) -> tuple[int, ...]:
        """The note and those that could be the wrong one in its place.

        Those its error looks the same in, and those without which it would be fine itself
        and which explain what is amiss less than twenty times less well.
        """
        kept = self.without(out)
        adjustment = self.adjusted(out)
        i = kept.index(index)
        w = adjustment.standardised
        likeness = adjustment.likeness()[i]
        left = np.sqrt(np.maximum(1.0 - likeness**2, 0.0))
        close = w[i] ** 2 - w**2 < TWENTY_TO_ONE
        instead = close & (np.abs(w[i] - likeness * w) <= critical * left)
        others = {kept[int(k)] for k in np.flatnonzero(instead | (np.abs(likeness) > SAME))}
        return tuple(sorted({index} | others))

    def note(self, index: int) -> Observation:
        """The note at a position."""
        return self._observations[index]


def _set_aside(search: _Search, critical: float) -> dict[int, tuple[int, ...]]:
    """Notes set aside, in that order, each with those it can't be told from (itself among them).

    Of such a group any one stands for all: without it, the remaining residuals are the same.
    """
    aside: dict[int, tuple[int, ...]] = {}
    seen = {frozenset(aside)}
    while True:
        out = frozenset(aside)
        fine = [i for i in aside if abs(search.w(out - {i})[i]) <= critical]
        w = np.abs(search.w(out))
        worst = int(np.argmax(w)) if len(w) else 0
        if fine and out - {fine[0]} not in seen:
            del aside[fine[0]]
        elif len(w) and w[worst] > critical:
            aside[worst] = search.alike(out, worst, critical)
        else:
            return aside
        if frozenset(aside) in seen:
            return aside
        seen.add(frozenset(aside))


def _doubted(search: _Search, aside: frozenset[int], index: int) -> Blunder:
    """What the trusted notes say of a doubted one."""
    trusted = search.adjusted(aside | {index})
    note = search.note(index)
    likely = float(note.predict(trusted.values))
    variance = trusted.variance(gradients_of([note], trusted.values))
    with_it = search.w(aside - {index})
    return Blunder(
        index=index,
        name=note.name,
        w=float(with_it[index]),
        likely=likely,
        u=math.sqrt(variance[0]),
        difference=note.value - likely,
    )


def _suspect(
    search: _Search,
    aside: frozenset[int],
    group: Sequence[int],
    candidates: Sequence[Observation],
) -> Suspect:
    others = aside - set(group)
    together = search.adjusted(others)
    kept = search.without(others)
    return Suspect(
        notes=tuple(_doubted(search, others, i) for i in group),
        told_by=told_apart(together, [kept.index(i) for i in group], candidates),
    )


def told_apart(
    adjustment: Adjustment, group: Sequence[int], candidates: Sequence[Observation]
) -> tuple[int, ...]:
    """The candidates which, all taken, tell the notes of a group apart; empty if they can't.

    `group` holds positions in the adjustment. Each time the candidate is chosen after which
    the fewest pairs are more than 0.95 alike; at least one, for they were not told apart as
    things are. Candidates count as taken on their own, with no error in common with notes
    already there.
    """
    jacobian = gradients_of(candidates, adjustment.values)
    own = np.array([note.u**2 for note in candidates])
    usable = np.isfinite(adjustment.variance(jacobian)) if len(candidates) else np.zeros(0, bool)
    spread = adjustment.spread
    pull = (adjustment.weights @ adjustment.jacobian)[list(group)]
    tests = adjustment.tests[np.ix_(group, group)]
    chosen: list[int] = []
    while len(chosen) < FURTHER and usable.any() and (_alike(tests)[0] or not chosen):
        across = pull @ spread @ jacobian.T
        total = own + np.sum((jacobian @ spread) * jacobian, axis=1)
        ranks = [_alike(tests + np.outer(h, h) / s) for h, s in zip(across.T, total, strict=True)]
        best = min(np.flatnonzero(usable), key=lambda k: ranks[k])
        chosen.append(int(best))
        usable[best] = False
        tests = tests + np.outer(across[:, best], across[:, best]) / total[best]
        reach = spread @ jacobian[best]
        spread = spread - np.outer(reach, reach) / total[best]
    return () if _alike(tests)[0] else tuple(chosen)


def _alike(tests: Array) -> tuple[int, float]:
    """How many pairs are too much alike, and how alike all are together.

    A note that nothing checks is like any other: its error shows nowhere.
    """
    variances = np.diag(tests)
    checked = variances > CHECKED * np.max(variances, initial=0.0)
    scale = np.sqrt(np.where(checked, variances, 1.0))
    pairs: npt.NDArray[np.float64] = np.abs(tests / np.outer(scale, scale))
    pairs[~np.outer(checked, checked)] = 1.0
    pairs = pairs[np.triu_indices(len(pairs), 1)]
    return int(np.sum(pairs >= TOLD_APART)), float(np.sum(pairs**2))
