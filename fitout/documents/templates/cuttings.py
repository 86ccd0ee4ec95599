"""Which cuttings of a part show all that needs a template, each no larger than a page allows.

Content is gathered in bands, a band in cuttings along it. Neighbours in a band overlap, so that
they can be laid on each other; over a long stretch without content there is no paper at all.
Bands along the part and bands across it are both tried; the fewer pages win (see `book`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fitout.documents.templates.content import Content, Span

OVERLAP = 15.0
"""How much neighbours in a band show of the same, mm; holds a cross at a round distance."""

APART = 70.0
"""Content further apart than this comes in bands of its own, mm."""

SKIP = 230.0
"""A stretch longer than this without content is left out, mm."""

TO_EDGE, CLOSE = 90.0, 30.0
"""A cutting reaches to the nearer edge of the part, to both where they are close, mm."""

BEYOND = 5.0
"""How far a cutting reaches beyond the part's edge, so that the edge is seen, mm."""

INFINITE = float("inf")
NARROWEST = 60.0
"""Least width and height of a cutting, for what is written on it, mm."""


@dataclass(frozen=True, slots=True)
class Cutting:
    """A rectangle of the part, in its own coordinates; `name` is a letter and a number.

    `follows` and `goes_on` tell whether it overlaps with the one before and after it in its
    band, which runs along y if `upright`.
    """

    name: str
    span: Span
    follows: bool
    goes_on: bool
    upright: bool

    @property
    def size(self) -> tuple[float, float]:
        """Width and height."""
        return self.span[2] - self.span[0], self.span[3] - self.span[1]


def ways(
    content: Content, bounds: Span, most: tuple[float, float]
) -> tuple[tuple[Cutting, ...], ...]:
    """Ways to show all that needs it by cuttings of at most that width and height.

    With bands along the part and with bands across it; what shows less than another is left out.
    A hole far from all else and from a corner gets no cutting: its place is as well told in
    numbers. None if nothing needs one.
    """
    if not content.spans:
        return ()
    whole = _widened(bounds)
    if whole[2] - whole[0] <= most[0] and whole[3] - whole[1] <= most[1]:
        return ((Cutting("A1", whole, follows=False, goes_on=False, upright=False),),)
    along = _along(content.spans, bounds, most)
    flipped = _along([_flip(s) for s in content.spans], _flip(bounds), (most[1], most[0]))
    upright = tuple(
        Cutting(c.name, _flip(c.span), c.follows, c.goes_on, upright=True) for c in flipped
    )
    kept = [[c for c in way if not _lone(c, content, bounds)] for way in (along, upright)]
    best = max(_shown(way, content) for way in kept)
    return tuple(_renamed(way) for way in kept if way and _shown(way, content) == best)


def _shown(way: Sequence[Cutting], content: Content) -> int:
    return sum(any(_within(s, c.span) for c in way) for s in content.spans)


def _widened(bounds: Span) -> Span:
    """The whole part with what is seen beyond its edges."""
    xs = _to_edges((bounds[0], bounds[2]), (bounds[0], bounds[2]), INFINITE)
    ys = _to_edges((bounds[1], bounds[3]), (bounds[1], bounds[3]), INFINITE)
    return xs[0], ys[0], xs[1], ys[1]


def _lone(cutting: Cutting, content: Content, bounds: Span) -> bool:
    """Whether it shows but one hole, and no corner to lay it against."""
    if cutting.follows or cutting.goes_on:
        return False
    seen = [s for s in content.spans if _within(s, cutting.span)]
    left, bottom, right, top = cutting.span
    at_side = left < bounds[0] or right > bounds[2]
    at_end = bottom < bounds[1] or top > bounds[3]
    return len(seen) == 1 and seen[0] in content.holes and not (at_side and at_end)


def _within(span: Span, room: Span) -> bool:
    return (
        span[0] >= room[0] - 1e-9
        and span[1] >= room[1] - 1e-9
        and span[2] <= room[2] + 1e-9
        and span[3] <= room[3] + 1e-9
    )


def _renamed(found: Sequence[Cutting]) -> tuple[Cutting, ...]:
    """Bands by letters, cuttings by numbers, none left out."""
    letters = list(dict.fromkeys(c.name.rstrip("0123456789") for c in found))
    names = dict(zip(letters, _letters(len(letters)), strict=True))
    counts: dict[str, int] = {}
    result = []
    for c in found:
        letter = names[c.name.rstrip("0123456789")]
        counts[letter] = counts.get(letter, 0) + 1
        result.append(replace(c, name=f"{letter}{counts[letter]}"))
    return tuple(result)


def _flip(span: Span) -> Span:
    return span[1], span[0], span[3], span[2]


def _along(spans: Sequence[Span], bounds: Span, most: tuple[float, float]) -> tuple[Cutting, ...]:
    """Bands that run along x, cut up along x."""
    found: list[Cutting] = []
    bands = _runs(sorted((s[1], s[3]) for s in spans), most[1], APART)
    for letter, (low, high) in zip(_letters(len(bands)), bands, strict=True):
        inside = sorted((s[0], s[2]) for s in spans if low <= s[1] and s[3] <= high)
        bottom, top = _to_edges((low, high), (bounds[1], bounds[3]), most[1])
        runs = _pieces(inside, (bounds[0], bounds[2]), most[0])
        for i, (left, right) in enumerate(runs):
            follows = i > 0 and runs[i - 1][1] > left
            goes_on = i + 1 < len(runs) and runs[i + 1][0] < right
            span = (left, bottom, right, top)
            found.append(Cutting(f"{letter}{i + 1}", span, follows, goes_on, upright=False))
    return tuple(found)


def _letters(count: int) -> list[str]:
    """A, B, ... Z, AA, AB and on."""
    names = []
    for i in range(count):
        name, rest = "", i
        while True:
            name = chr(ord("A") + rest % 26) + name
            rest = rest // 26 - 1
            if rest < 0:
                break
        names.append(name)
    return names


def _runs(
    spans: Sequence[tuple[float, float]], most: float, apart: float
) -> list[tuple[float, float]]:
    """Spans of one axis gathered so that none is cut and no gap within is wide."""
    runs: list[tuple[float, float]] = []
    for low, high in spans:
        if runs:
            start, end = runs[-1]
            if low - end <= apart and max(end, high) - start <= most:
                runs[-1] = (start, max(end, high))
                continue
        runs.append((low, high))
    return runs


def _pieces(
    spans: Sequence[tuple[float, float]], edges: tuple[float, float], most: float
) -> list[tuple[float, float]]:
    """A band cut up along itself: pieces that overlap, or lie apart where nothing is."""
    pieces: list[tuple[float, float]] = []
    for run in _runs(spans, INFINITE, SKIP):
        start, end = _to_edges(run, edges, INFINITE)
        count = 1
        while (end - start + (count - 1) * OVERLAP) / count > most:
            count += 1
        if count == 1:
            pieces.append((start, end))
            continue
        width = (end - start + (count - 1) * OVERLAP) / count
        pieces += [
            (start + i * (width - OVERLAP), start + i * (width - OVERLAP) + width)
            for i in range(count)
        ]
    return pieces


def _to_edges(
    run: tuple[float, float], edges: tuple[float, float], most: float
) -> tuple[float, float]:
    """The run as far as the nearer edge, or both that are close; wide enough to be written on."""
    low, high = run
    to_low, to_high = low - edges[0], edges[1] - high
    nearest = min(to_low, to_high)
    if to_low <= TO_EDGE and (to_low == nearest or to_low <= CLOSE):
        low = edges[0] - BEYOND if high - edges[0] + BEYOND <= most else low
    if to_high <= TO_EDGE and (to_high == nearest or to_high <= CLOSE):
        high = edges[1] + BEYOND if edges[1] + BEYOND - low <= most else high
    short = max(NARROWEST - (high - low), 0.0)
    if low < edges[0]:
        return low, high + short
    if high > edges[1]:
        return low - short, high
    return low - short / 2.0, high + short / 2.0
