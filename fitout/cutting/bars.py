"""Cutting bars and tubes to length: which pieces come off which stock length.

What is on hand is used first, then the cheapest lengths to buy. First fit by decreasing
length gives an answer at once; with few pieces every way is then tried that may still cost
less (branch and bound), which proves the least. Between two pieces lies the kerf; the ends
of a stock length are taken as square.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from fitout.cutting.cut_list import BarLine, CutList
from fitout.cutting.plan import ORIGINS, Origin
from fitout.model.cutting import CuttingSpec, StockSpec
from fitout.model.stock import Section

CLOSE = 1e-6
MOST_PIECES = 40
"""With more pieces only first fit is asked."""

MOST_STEPS = 100_000
WANTED = 1000.0
"""How many times dearer a length is that is not to be had."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BarSource:
    """Stock lengths alike; `price` of one, None if not known; `quantity` None: any number."""

    length: float
    price: float | None
    quantity: int | None
    origin: Origin


@dataclass(frozen=True, slots=True)
class CutBar:
    """One piece of a stock length: its part, which copy, where it begins."""

    number: str
    copy: int
    start: float
    length: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Stick:
    """One stock length and what is cut from it, from one end on; `rest` is left over."""

    number: str
    section: Section
    length: float
    origin: Origin
    price: float | None
    cuts: tuple[CutBar, ...]
    rest: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionUse:
    """How many stock lengths of a section are taken, what they cost, the least they can cost.

    Cost is in the currency of the prices, or in metres where one is not known (`priced`).
    """

    section: Section
    sticks: int
    cost: float
    least_cost: float
    priced: bool

    @property
    def proven_least(self) -> bool:
        """Whether it can't be done for less."""
        return self.cost <= self.least_cost + CLOSE


@dataclass(frozen=True, slots=True, kw_only=True)
class TooLong:
    """Bars longer than every stock length, by how much."""

    number: str
    name: str
    quantity: int
    over: float

    @property
    def sentence(self) -> str:
        """One plain sentence."""
        return (
            f"{self.number} ({self.name}) is {self.over:.1f} mm too long for the longest stock "
            f"length; weld or bolt it of two with a sleeve, or enter longer stock."
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class BarPlan:
    """Every stock length to cut, in order, and what goes on none."""

    sticks: tuple[Stick, ...]
    uses: tuple[SectionUse, ...]
    too_long: tuple[TooLong, ...]


def cut_bars(cuts: CutList, spec: CuttingSpec, stock: StockSpec) -> BarPlan:
    """Every bar of the cut list on stock lengths of its section."""
    sections: dict[Section, list[BarLine]] = {}
    for line in cuts.bars:
        sections.setdefault(line.section, []).append(line)
    sticks: list[Stick] = []
    uses: list[SectionUse] = []
    too_long: list[TooLong] = []
    for section, lines in sections.items():
        sources = bar_sources(section, stock)
        longest = max(source.length for source in sources)
        fitting = [line for line in lines if line.length <= longest + CLOSE]
        too_long += [
            TooLong(
                number=line.number,
                name=line.name,
                quantity=line.quantity,
                over=line.length - longest,
            )
            for line in lines
            if line not in fitting
        ]
        if fitting:
            found, use = _cut(section, fitting, sources, spec.bar_kerf, len(sticks))
            sticks += found
            uses.append(use)
    return BarPlan(sticks=tuple(sticks), uses=tuple(uses), too_long=tuple(too_long))


def bar_sources(section: Section, stock: StockSpec) -> tuple[BarSource, ...]:
    """The lengths of a section on hand, then those to buy, then what would be wanted."""
    rate = None if section.price is None else section.price / section.stock_length
    found = []
    for bar in sorted(stock.of_bar(section.key), key=lambda bar: not bar.on_hand):
        if bar.on_hand:
            found.append(
                BarSource(
                    length=bar.length, price=0.0, quantity=bar.quantity or 1, origin="on hand"
                )
            )
            continue
        price = bar.price
        if price is None and rate is not None:
            price = rate * bar.length
        found.append(
            BarSource(length=bar.length, price=price, quantity=bar.quantity, origin="bought")
        )
    if all(source.origin == "on hand" for source in found):
        whole = section.stock_length
        found.append(BarSource(length=whole, price=section.price, quantity=None, origin="bought"))
    if all(source.quantity is not None for source in found):
        longest = max(source.length for source in found)
        found.append(BarSource(length=longest, price=None, quantity=None, origin="missing"))
    return tuple(found)


@dataclass(slots=True)
class _State:
    """What is open while ways are tried: room left in each length, and of which source it is."""

    sizes: Sequence[float]
    rooms: Sequence[float]
    prices: Sequence[float]
    had: list[int | None]
    open: list[list[int]] = field(default_factory=list)
    left: list[float] = field(default_factory=list)
    kinds: list[int] = field(default_factory=list)
    cost: float = 0.0
    best: float = math.inf
    best_open: list[list[int]] = field(default_factory=list)
    best_kinds: list[int] = field(default_factory=list)
    steps: int = 0

    def keep(self) -> None:
        """Remember what is open as the best way."""
        self.best = self.cost
        self.best_open = [list(pieces) for pieces in self.open]
        self.best_kinds = list(self.kinds)

    def take(self, kind: int) -> None:
        """Open a length of a source."""
        self.open.append([])
        self.left.append(self.rooms[kind])
        self.kinds.append(kind)
        self.cost += self.prices[kind]
        there = self.had[kind]
        self.had[kind] = None if there is None else there - 1

    def put_back(self) -> None:
        """Close the length opened last."""
        kind = self.kinds.pop()
        self.open.pop()
        self.left.pop()
        self.cost -= self.prices[kind]
        there = self.had[kind]
        self.had[kind] = None if there is None else there + 1


def _cut(
    section: Section,
    lines: Sequence[BarLine],
    sources: Sequence[BarSource],
    kerf: float,
    before: int,
) -> tuple[list[Stick], SectionUse]:
    pieces = [(line, copy) for line in lines for copy in range(1, line.quantity + 1)]
    pieces.sort(key=lambda piece: -piece[0].length)
    bought = [source for source in sources if source.origin == "bought"]
    priced = all(source.price is not None for source in bought)
    prices = _prices(sources, priced)
    state = _State(
        sizes=[line.length + kerf for line, _ in pieces],
        rooms=[source.length + kerf for source in sources],
        prices=prices,
        had=[source.quantity for source in sources],
    )
    _first_fit(state)
    while state.open:
        state.put_back()
    least = _least(state, 0)
    proven = False
    if len(pieces) <= MOST_PIECES and state.best > least + CLOSE:
        proven = _try(state, 0, least)
    cost = state.best
    sticks = _sticks(state, pieces, sources, kerf, before)
    use = SectionUse(
        section=section,
        sticks=len(sticks),
        cost=cost,
        least_cost=cost if proven else min(least, cost),
        priced=priced,
    )
    return sticks, use


def _sticks(
    state: _State,
    pieces: Sequence[tuple[BarLine, int]],
    sources: Sequence[BarSource],
    kerf: float,
    before: int,
) -> list[Stick]:
    """The best way found as records, what is on hand first."""
    sticks: list[Stick] = []
    ordered = sorted(
        zip(state.best_kinds, state.best_open, strict=True),
        key=lambda pair: ORIGINS.index(sources[pair[0]].origin),
    )
    for kind, held in ordered:
        cuts, at = [], 0.0
        for i in held:
            line, copy = pieces[i]
            cuts.append(CutBar(line.number, copy, at, line.length))
            at += line.length + kerf
        source = sources[kind]
        sticks.append(
            Stick(
                number=f"T{before + len(sticks) + 1:02}",
                section=pieces[0][0].section,
                length=source.length,
                origin=source.origin,
                price=source.price,
                cuts=tuple(cuts),
                rest=max(0.0, source.length - at),
            )
        )
    return sticks


def _prices(sources: Sequence[BarSource], priced: bool) -> list[float]:
    """What each costs; in metres where not every price is known."""
    known = [
        0.0
        if source.origin == "on hand"
        else max(1e-3, source.price or 0.0)
        if priced
        else source.length / 1000.0
        for source in sources
    ]
    dearest = max([1.0, *known])
    return [
        WANTED * dearest if source.origin == "missing" else price
        for source, price in zip(sources, known, strict=True)
    ]


def _first_fit(state: _State) -> None:
    """Each piece into the first open length that takes it, else the cheapest new one by rate."""
    order = sorted(
        range(len(state.rooms)), key=lambda kind: (state.prices[kind] / state.rooms[kind], kind)
    )
    for i, size in enumerate(state.sizes):
        spot = next((s for s, room in enumerate(state.left) if room >= size - CLOSE), None)
        if spot is None:
            kind = next(k for k in order if state.had[k] != 0 and state.rooms[k] >= size - CLOSE)
            state.take(kind)
            spot = len(state.open) - 1
        state.open[spot].append(i)
        state.left[spot] -= size
    state.keep()


def _least(state: _State, done: int) -> float:
    """What is spent, and the least the pieces from `done` on must still cost by their length."""
    wanted = sum(state.sizes[done:]) - sum(state.left)
    cost = state.cost
    kinds = sorted(range(len(state.rooms)), key=lambda k: state.prices[k] / state.rooms[k])
    for kind in kinds:
        if wanted <= CLOSE:
            break
        there = state.had[kind]
        count = (
            wanted / state.rooms[kind] if there is None else min(there, wanted / state.rooms[kind])
        )
        cost += count * state.prices[kind]
        wanted -= count * state.rooms[kind]
    if len({*state.prices}) == 1:
        price = state.prices[0]
        return price * math.ceil(cost / price - CLOSE)
    return cost


def _try(state: _State, done: int, least: float) -> bool:
    """Try every way for the pieces from `done` on; False if there were too many to try."""
    state.steps += 1
    if state.steps > MOST_STEPS:
        return False
    if done == len(state.sizes):
        if state.cost < state.best - CLOSE:
            state.keep()
        return True
    if _least(state, done) >= state.best - CLOSE or state.best <= least + CLOSE:
        return True
    size = state.sizes[done]
    whole = True
    seen: set[float] = set()
    for spot in range(len(state.open)):
        room = round(state.left[spot], 6)
        if room < size - CLOSE or room in seen:
            continue
        seen.add(room)
        state.open[spot].append(done)
        state.left[spot] -= size
        whole = _try(state, done + 1, least) and whole
        state.open[spot].pop()
        state.left[spot] += size
    for kind, room in enumerate(state.rooms):
        if room < size - CLOSE or state.had[kind] == 0:
            continue
        state.take(kind)
        state.open[-1].append(done)
        state.left[-1] -= size
        whole = _try(state, done + 1, least) and whole
        state.put_back()
    return whole
