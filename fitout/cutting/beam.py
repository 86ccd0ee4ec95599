"""What the engines that fill one sheet share: a beam search over the order of laying.

A sheet is filled blank by blank. All half-filled sheets with the same number of blanks are
compared, the best few kept and each of them continued in every way. They are compared by
their loss, the area used up less the worth of what lies on it: the worth of a kind is its
area where only the filling counts, more for a kind that is hard to place, and its price in
the linear programme (see `cover`) when a better set of sheets is sought.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np

from fitout.cutting.task import Offer, Values, Whole

Step = tuple[int, float, float]
"""A choice of the offer and where it goes; what the numbers mean is the engine's own."""


@dataclass(frozen=True, slots=True)
class Aim:
    """How many half-filled sheets to keep, and how to compare them.

    The measure is (loss share + `bias`) times (mean area of a blank) to the power of minus
    `power`, less is better: with power 0 dense beginnings win, with power 1 large blanks
    come first. `power` is 0, 0.5 or 1. Sheets that hold the same and use the same area count
    as one, which leaves room for others; `fine` keeps them if they are laid otherwise.
    """

    width: int
    bias: float = 0.1
    power: float = 1.0
    fine: bool = False


class Enough(Exception):  # noqa: N818 - it tells of no fault
    """Raised to end a search: it then gives the best found so far."""


@dataclass(slots=True)
class Meter:
    """Counts the work done, so that a limit means the same on every machine.

    `check` is called before each piece of work; it may raise `Enough`.
    """

    limit: int
    spent: int = 0
    check: Callable[[], None] = lambda: None

    def spend(self, steps: int) -> None:
        """Count some work; raises `Enough` once there has been too much."""
        self.check()
        self.spent += steps
        if self.spent > self.limit:
            raise Enough


@dataclass(frozen=True, slots=True, eq=False)
class Pattern:
    """One filled sheet: how many of each kind, what they are worth, and how to lay them."""

    offer: Offer
    staged: bool
    counts: Whole
    value: float
    steps: tuple[Step, ...]


@dataclass(slots=True)
class Trace:
    """The steps of a search, level by level, and the sheets nothing more fits on."""

    levels: list[tuple[Whole, Sequence[Step]]] = field(default_factory=list)
    ends: list[tuple[float, int, int]] = field(default_factory=list)

    def end(self, values: Values, dead: Whole) -> None:
        """Note half-filled sheets of the present level that can't be continued."""
        depth = len(self.levels)
        self.ends += [(-float(values[i]), depth, int(i)) for i in dead]

    def patterns(self, offer: Offer, kinds: int, most: int, *, staged: bool) -> list[Pattern]:
        """The ends worth most, best first."""
        result = []
        for value, depth, end in sorted(self.ends)[:most]:
            steps: list[Step] = []
            i = end
            for parents, added in reversed(self.levels[:depth]):
                steps.append(added[i])
                i = int(parents[i])
            counts = np.zeros(kinds, dtype=np.int64)
            for step in steps:
                counts[offer.kinds[step[0]]] += 1
            result.append(Pattern(offer, staged, counts, -value, tuple(reversed(steps))))
        return result


def measure(aim: Aim, loss: Values, used: Values, blank: Values) -> Values:
    """How the sheets compare, less is better; `blank` is the mean area of a blank."""
    share = loss / used + aim.bias
    if aim.power == 0.0:
        return np.asarray(loss / used)
    return np.asarray(share / (blank if aim.power == 1.0 else np.sqrt(blank)))


def survivors(measured: Values, marks: Values, tags: Whole, width: int) -> Whole:
    """Positions of the best, best first, one only of those with equal tags and marks.

    `tags` tell sets of blanks apart, `marks` (mm²) what their sheets look like.
    """
    few = 4 * width
    if len(measured) > few:
        # All that are no worse than the last, so that ties don't hang on the machine.
        chosen = np.flatnonzero(measured <= np.partition(measured, few)[few])
    else:
        chosen = np.arange(len(measured))
    chosen = chosen[np.argsort(measured[chosen], kind="stable")]
    same = tags[chosen] * 31 + np.round(marks[chosen] * 8.0).astype(np.int64) * 1000003
    _, first = np.unique(same, return_index=True)
    first.sort()
    return np.asarray(chosen[first[:width]], dtype=np.int64)
