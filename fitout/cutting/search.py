"""The search for the cheapest set of sheets: fill one after the other, learn, combine.

A sheet is filled with what is worth most (see `beam`), then the next with what is left. What
ended on poorly filled sheets is worth more the next time (sequential value correction). From
time to time the linear relaxation over all sheets filled so far says what each kind is worth;
sheets filled by that are added, and the covering problem chooses among all of them (see
`cover`). The search ends when a bound proves that it can't be done for less, or when its work
is used up; work is counted in steps, not seconds, so the result is the same on any machine
(with the same versions of numpy and of HiGHS in scipy).
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np

from fitout.cutting import skyline, staged
from fitout.cutting.beam import Aim, Enough, Meter, Pattern
from fitout.cutting.cover import MOST_ENTRIES, covered, relaxed
from fitout.cutting.layout import Blank, Layout
from fitout.cutting.task import Offer, Task, Values, Whole

Fill = Callable[[Offer, Whole, Values, Aim, Meter], list[Pattern]]
Chosen = list[tuple[Pattern, int]]
Way = tuple[Sequence[Fill], Aim]

AIMS = ((0.1, 1.0, False), (0.02, 0.5, False), (0.0, 0.0, False), (0.0, 0.0, True))
"""Ways of comparing half-filled sheets (see `beam.Aim`), taken in turn."""

FIRST_WIDTH, WIDTH, MOST_WIDTH = 8, 30, 120
PASSES = 6
"""Fillings of all sheets between two looks at the relaxation."""

PRICINGS = 12
"""Rounds of filling by the relaxation's worth, at most, in a row."""

STRENGTH = 0.3
"""How much more a kind is worth that came to lie on an empty sheet."""

LARGE_FIRST = 0.2
"""Power of a kind's area by which large kinds are worth more than their area."""

NOISE = 0.1

PER_ENTRY, OVER_ENTRIES, OVERHEAD = 4, 200, 20_000
"""Work of a linear programme and of a covering problem, by their rows times columns."""

CLOSE = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """What a search tells while it runs: sheets and cost so far, the bound, share of work done."""

    sheets: int
    cost: float
    least_cost: float
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """When a search ends: at a proven cost, or after so much work (some twenty million a second).

    `progress` is called now and then, `check` often; both may raise `beam.Enough` to end the
    search. `seed` makes another search of it.
    """

    least_cost: float
    work: int
    progress: Callable[[Progress], None] = lambda _: None
    seed: int = 1
    check: Callable[[], None] = lambda: None


@dataclass(frozen=True, slots=True)
class Outcome:
    """The sheets chosen, what they cost, and whether the search was ended from outside."""

    chosen: Chosen
    cost: float
    stopped: bool


@dataclass(slots=True)
class _State:
    """What a search knows while it runs."""

    task: Task
    fills: Sequence[Fill]
    limits: Limits
    meter: Meter
    pool: dict[tuple[int, bytes], Pattern] = field(default_factory=dict)
    best: Chosen = field(default_factory=list)
    score: tuple[float, float] = (float("inf"), 0.0)
    correction: Values = field(default_factory=lambda: np.ones(0))
    rounds: int = 0

    def proven(self) -> bool:
        """Whether nothing cheaper can be found."""
        return self.score[0] <= self.limits.least_cost + CLOSE

    def offer(self, chosen: Chosen) -> None:
        """Keep the choice if it is cheaper, or leaves a sheet emptier."""
        task = self.task
        cost = sum(task.stocks[p.offer.stock].price * n for p, n in chosen)
        weakest = min(float((p.counts * task.areas).sum()) for p, _ in chosen)
        if (cost, weakest) < self.score:
            self.best, self.score = chosen, (cost, weakest)
        self.tell()

    def tell(self) -> None:
        """Report."""
        share = min(1.0, self.meter.spent / max(1, self.limits.work))
        self.limits.progress(
            Progress(
                sheets=sum(n for _, n in self.best),
                cost=self.score[0],
                least_cost=self.limits.least_cost,
                share=share,
            )
        )

    def filled(
        self, offers: Sequence[Offer], left: Whole, worth: Values, way: Way
    ) -> list[Pattern]:
        """Fill a sheet of each offer, and remember the results."""
        fills, aim = way
        found = []
        for offer in offers:
            for fill in fills:
                for pattern in fill(offer, left, worth, aim, self.meter):
                    self.pool.setdefault((offer.stock, pattern.counts.tobytes()), pattern)
                    found.append(pattern)
        return found

    def way(self, turn: int, width: int) -> Way:
        """The round's engine and one aim, all of them in turn."""
        fill = self.fills[self.rounds % len(self.fills)]
        return [fill], Aim(width, *AIMS[turn % len(AIMS)])


def search(task: Task, fills: Sequence[Fill], limits: Limits) -> Outcome:
    """The cheapest choice of sheets found that holds every part.

    Ended by `Enough`, gives the best so far; before there is one it can't be ended.
    """
    state = _State(task, fills, limits, Meter(limits.work, check=limits.check))
    state.correction = np.ones(len(task.demand))
    stopped = False
    try:
        # The first answer must be whole, however little work is allowed.
        unlimited = _State(task, fills, limits, Meter(2**62), pool=state.pool)
        unlimited.correction = state.correction
        state.offer(_pass(unlimited, (fills, Aim(FIRST_WIDTH, *AIMS[0]))))
        state.meter.spent = unlimited.meter.spent
        _searched(state)
    except Enough:
        stopped = state.meter.spent <= limits.work
    return Outcome(state.best, state.score[0], stopped)


def _searched(state: _State) -> None:
    """Search until it is proven or something raises."""
    chance = random.Random(state.limits.seed)  # noqa: S311 - a choice of ways, not a secret
    width, turn = WIDTH, 0
    while not state.proven():
        for _ in range(PASSES):
            state.offer(_pass(state, state.way(turn, width)))
            turn += 1
            if state.proven():
                break
        else:
            _combine(state, width)
        state.rounds += 1
        width = min(MOST_WIDTH, width + width // 2)
        noise = [1.0 + NOISE * (2.0 * chance.random() - 1.0) for _ in state.correction]
        state.correction = np.sqrt(state.correction) * np.array(noise)


def _worth(state: _State) -> Values:
    """What one of each kind is worth by its area, what was learned of it, and in sum the areas."""
    areas = state.task.areas
    # Powers may differ in the last digit from machine to machine.
    large = np.round((areas / areas.max()) ** LARGE_FIRST, 9)
    return _scaled(areas * large * state.correction, state.task)


def _scaled(worth: Values, task: Task) -> Values:
    total = sum((task.areas * task.demand).tolist()) / sum((worth * task.demand).tolist())
    return np.asarray(worth * total)


def _pass(state: _State, way: Way) -> Chosen:
    """Fill sheets until nothing is left, and learn from how well they are filled."""
    task, worth = state.task, _worth(state)
    left, chosen = task.demand.copy(), []
    had = [stock.available for stock in task.stocks]
    while left.any():
        offers = [offer for offer in task.offers if had[offer.stock] != 0]
        found = state.filled(offers, left, worth, way)
        pattern = max(found, key=lambda p: _rate(p, left, task), default=None)
        if pattern is None:
            raise ValueError("The sheets on hand don't hold every part.")
        some = pattern.counts > 0
        times, there = int((left[some] // pattern.counts[some]).min()), had[pattern.offer.stock]
        if there is not None:
            times = min(times, there)
            had[pattern.offer.stock] = there - times
        left = left - times * pattern.counts
        chosen.append((pattern, times))
    correction = state.correction
    for pattern, _ in chosen:
        area = task.stocks[pattern.offer.stock].area
        filled = sum((pattern.counts * task.areas).tolist()) / area
        share = np.minimum(1.0, pattern.counts / task.demand)
        correction = correction * (1.0 + STRENGTH * max(0.0, 1.0 - filled) * share)
    state.correction = correction
    return chosen


def _rate(pattern: Pattern, left: Whole, task: Task) -> tuple[bool, float, float]:
    """What a filled sheet is worth for its price; one that takes all that is left by the price."""
    stock = task.stocks[pattern.offer.stock]
    if stock.price <= 0.0:
        return True, pattern.value / stock.area, 0.0
    if (pattern.counts == left).all():
        return False, float(_whole_worth(task)) / stock.price, pattern.value
    return False, pattern.value / stock.price, pattern.value


def _whole_worth(task: Task) -> float:
    return max(stock.area for stock in task.stocks)


def _combine(state: _State, width: int) -> None:
    """Fill sheets by what the relaxation says they are worth, then choose among all of them."""
    task = state.task
    for turn in range(PRICINGS):
        columns = list(state.pool.values())
        state.meter.spend(PER_ENTRY * len(columns) * len(task.demand) + OVERHEAD)
        relax = relaxed(columns, task)
        for which, stock in enumerate(task.stocks):
            if stock.price > 0.0:
                worth = np.round(relax.worth * (stock.area / stock.price), 6)
                offers = [offer for offer in task.offers if offer.stock == which]
                state.filled(offers, task.demand, worth, state.way(turn, width))
        state.tell()
        if len(state.pool) == len(columns):
            break
    state.meter.spend(OVER_ENTRIES * min(MOST_ENTRIES, len(state.pool) * len(task.demand)))
    chosen = covered(list(state.pool.values()), task, state.score[0])
    if chosen is not None:
        state.offer(chosen)


def layouts(task: Task, chosen: Chosen) -> list[tuple[int, Layout]]:
    """The sheets with each blank laid once, fullest first, each with its stock's position.

    Where the choice holds more of a kind than there is, the emptiest sheets go without.
    """
    waiting = [list(reversed(kind.blanks)) for kind in task.kinds]
    sheets = [pattern for pattern, times in chosen for _ in range(times)]
    sheets.sort(key=lambda pattern: -sum((pattern.counts * task.areas).tolist()))
    result = []
    for pattern in sheets:
        blanks: list[Blank | None] = []
        for choice, _, _ in pattern.steps:
            kind = waiting[pattern.offer.kinds[choice]]
            blanks.append(kind.pop() if kind else None)
        if any(blanks):
            lay = staged.layout if pattern.staged else skyline.layout
            result.append((pattern.offer.stock, lay(pattern, blanks)))
    return result
