"""The engines' simple rules tried in several orders, and which of two layouts is better.

Of layouts that cost the same, the one is better that leaves the largest offcut worth keeping;
then the one with the fewest settings of a saw, or the shortest way of a router from part to part.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from fitout.cutting import free, guillotine
from fitout.cutting.beam import Enough
from fitout.cutting.fits import Size
from fitout.cutting.layout import Blank, Layout, Piece
from fitout.cutting.plan import gap_between
from fitout.model.cutting import CuttingSpec

Check = Callable[[], None]

ORDERS: tuple[Callable[[Blank], tuple[float, ...]], ...] = (
    lambda b: (b.area,),
    lambda b: (max(b.length, b.width), min(b.length, b.width)),
    lambda b: (min(b.length, b.width), max(b.length, b.width)),
    lambda b: (b.length, b.width),
    lambda b: (b.width, b.length),
    lambda b: (b.length + b.width,),
)
"""What the parts are sorted by, largest first."""

MOST_TRIES = 700
"""How many rules and orders are tried with few parts ..."""

FEW_PARTS = 60
"""... with more of them fewer: the work grows with their square."""

LEAST_TRIES = 8

AGAIN = 3
"""Of so many sheets with the most room it is tried whether they leave a larger offcut."""

EASED = 240
"""How many rules and orders are tried over all sheets for fewer settings or less travel."""

POLISHED = 40
"""Sheets beyond so many are not laid anew for fewer settings."""


@dataclass(frozen=True, slots=True, eq=False)
class Fill:
    """A rule of an engine; those that are `alike` lay the same where one sheet is enough."""

    lay: Callable[[Sequence[Blank]], list[Layout]]
    alike: Hashable


def fills_of(size: Size, spec: CuttingSpec, most: float = math.inf) -> list[Fill]:
    """Each rule of the engines that may be used on sheets of a (grown) size.

    They give nothing where they would take more than `most` sheets.
    """

    def sawn(rule: guillotine.Rule) -> Fill:
        # Which of several sheets is taken makes no difference while there is but one.
        return Fill(lambda blanks: guillotine.fill(blanks, size, rule, most), rule[:2])

    def routed(rule: free.Rule) -> Fill:
        return Fill(lambda blanks: free.fill(blanks, size, rule, most), rule)

    fills = [sawn(rule) for rule in guillotine.RULES]
    return fills if spec.by == "saw" else [routed(rule) for rule in free.RULES] + fills


def tried(
    blanks: Sequence[Blank], fills: Sequence[Fill], most: int = MOST_TRIES
) -> Iterator[list[Layout]]:
    """What the rules make of the blanks in several orders; fewer tries with many blanks.

    What is sure to come out as it did before is left out, though it counts as tried.
    """
    share = min(1.0, (FEW_PARTS / max(1, len(blanks))) ** 2)
    count = max(LEAST_TRIES, int(most * share))
    orders = (sorted(blanks, key=order, reverse=True) for order in ORDERS)
    tries = ((ranked, tuple(map(id, ranked)), fill) for ranked in orders for fill in fills)
    done: set[tuple[Hashable, Hashable]] = set()
    for ranked, order, fill in itertools.islice(tries, count):
        if (order, fill) in done or (order, fill.alike) in done:
            continue
        found = fill.lay(ranked)
        done.add((order, fill if len(found) > 1 else fill.alike))
        if found:
            yield found


def best_of(
    found: Iterable[list[Layout]], spec: CuttingSpec, check: Check = lambda: None
) -> tuple[list[Layout], bool]:
    """The best layouts, fewest sheets first; ended early by `Enough`, the best so far and True."""
    best: list[Layout] = []
    least: tuple[float, float] = (math.inf, 0.0)
    last = math.inf
    try:
        for layouts in found:
            score = (float(len(layouts)), -largest_offcut(layouts, spec))
            if score <= least:
                effort = handling(layouts, spec)
                if score < least or effort < last:
                    best, least, last = layouts, score, effort
            check()
    except Enough:
        return best, True
    return best, False


def largest_offcut(layouts: Iterable[Layout], spec: CuttingSpec) -> float:
    """Area of the largest single offcut worth keeping, 0 for none."""
    gap = gap_between(spec)
    areas = (
        (r.length - gap) * (r.width - gap)
        for layout in layouts
        for r in layout.free
        if spec.worth_keeping(r.length - gap, r.width - gap)
    )
    return round(max(areas, default=0.0), 3)


def handling(layouts: Sequence[Layout], spec: CuttingSpec) -> float:
    """How many settings a saw needs, or how far (mm) a router goes from part to part."""
    if spec.by == "saw":
        return float(len(set().union(*(settings_of(layout) for layout in layouts))))
    return sum(travel([(p.x, p.y) for p in layout.laid]) for layout in layouts)


def settings_of(layout: Layout) -> set[float]:
    """The sizes that are cut off pieces of a sheet, each a setting of the saw."""
    return set(_settings(layout.pieces)) if layout.pieces else set()


def _settings(piece: Piece) -> Iterator[float]:
    """How far from the piece's edge each cut is made."""
    if piece.first is not None:
        yield round(piece.at - (piece.x if piece.across else piece.y), 3)
        yield from _settings(piece.first)
    if piece.second is not None:
        yield from _settings(piece.second)


def travel(places: Sequence[tuple[float, float]]) -> float:
    """The way (mm) from the sheet's corner to each place in turn, always to the nearest next."""
    left, here, way = list(places), (0.0, 0.0), 0.0
    while left:
        there = min(left, key=lambda place: (round(math.dist(here, place), 3), place))
        left.remove(there)
        way += math.dist(here, there)
        here = there
    return round(way, 1)


def polished(
    found: Sequence[tuple[Size, Layout]], spec: CuttingSpec, check: Check = lambda: None
) -> list[Layout]:
    """The same sheets with the same blanks, each laid anew where that is better.

    `found` has each sheet's (grown) size beside its layout. First the largest offcut is made
    larger, then all sheets are laid for fewer settings or less travel that don't lose it.
    """
    layouts = [layout for _, layout in found]
    sizes = [size for size, _ in found]
    try:
        _grow_offcut(layouts, sizes, spec, check)
        _ease(layouts, sizes, spec, check)
    except Enough:
        pass
    return layouts


def _room(layout: Layout, size: Size) -> float:
    return size[0] * size[1] - sum(laid.blank.area for laid in layout.laid)


def _again(layout: Layout, size: Size, spec: CuttingSpec, most: int) -> Iterator[Layout]:
    blanks = [laid.blank for laid in layout.laid]
    for new in tried(blanks, fills_of(size, spec, most=1), most):
        yield new[0]


def _grow_offcut(
    layouts: list[Layout], sizes: Sequence[Size], spec: CuttingSpec, check: Check
) -> None:
    order = sorted(range(len(layouts)), key=lambda i: (-_room(layouts[i], sizes[i]), i))
    largest = largest_offcut(layouts, spec)
    for i in order[:AGAIN]:
        if _room(layouts[i], sizes[i]) <= largest:
            break
        for new in _again(layouts[i], sizes[i], spec, MOST_TRIES):
            check()
            if largest_offcut([new], spec) > largest:
                layouts[i], largest = new, largest_offcut([new], spec)


def _ease(layouts: list[Layout], sizes: Sequence[Size], spec: CuttingSpec, check: Check) -> None:
    most = EASED // max(1, len(layouts))
    for i in range(min(POLISHED, len(layouts))):
        others = [*layouts[:i], *layouts[i + 1 :]]
        had = set().union(*(settings_of(layout) for layout in others))
        spare = largest_offcut(others, spec)
        keep = largest_offcut(layouts, spec)
        least = _more(layouts[i], had, spec)
        for new in _again(layouts[i], sizes[i], spec, most):
            check()
            eased = _more(new, had, spec)
            if eased < least and max(spare, largest_offcut([new], spec)) >= keep:
                layouts[i], least = new, eased


def _more(layout: Layout, had: set[float], spec: CuttingSpec) -> float:
    """What a sheet adds to the settings there are already, or to the router's way."""
    if spec.by == "saw":
        return float(len(settings_of(layout) - had))
    return handling([layout], spec)
