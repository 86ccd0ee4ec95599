"""The saw sequence: numbered cuts that take a sheet apart, in the order they are made.

What the timber yard cuts comes first, through the untrimmed sheet. Then each piece is trimmed
where it still has the sheet's edges, and cut on. A cut can be made once its piece is there;
of those that can, the ones at the fence as it stands come first, then those at a setting
for which nothing is still to come: so a setting is seldom needed twice.

The size named lies between blade and fence; the rest, less the kerf, falls off beyond the
blade. All sheets of one material are sawn together: a setting serves each of them before the
next one is set. Where neither side of a cut fits under the fence it is made along a straight
edge, with a track saw, measured from the piece's edge.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal

from fitout.cutting.fits import CLOSE
from fitout.cutting.plan import Cut, CutPlan, Rect, Sheet
from fitout.cutting.yard import SAWDUST, past_strips, raw_parts, yard_cuts
from fitout.model.cutting import CuttingSpec

Fate = Literal["part", "piece", "offcut", "waste"]
"""A part is done, a piece is cut on, an offcut is kept, waste is not."""

FATES: dict[Fate, str] = {
    "part": "to the parts",
    "piece": "to be cut on",
    "offcut": "to the offcuts",
    "waste": "to the waste",
}


WANTED: tuple[Fate, ...] = ("part", "piece", "offcut", "waste")
"""Which side of a cut is measured, the first that there is."""

THIN = 20.0
"""A strip narrower than this is not led between blade and fence, but falls off beyond the
blade (common practice)."""


@dataclass(frozen=True, slots=True)
class Piece:
    """What a cut gives: its name, size along the sheet and across it, where it goes."""

    name: str
    length: float
    width: float
    fate: Fate


@dataclass(frozen=True, slots=True, kw_only=True)
class SawStep:
    """One cut through the piece in hand.

    `across` True: at right angles to the sheet's length. `measure` is the size of `gives`,
    which lies against the fence (`fence` True) or is marked from its edge; `rest` is what
    falls off beyond the kerf, None where nothing does. `line` is where the cut lies on the
    sheet, between two points of the near side of the kerf. The numbers run on through all
    sheets of one material.
    """

    sheet: str
    number: int
    yard: bool
    piece: Piece
    across: bool
    fence: bool
    measure: float
    gives: Piece
    rest: Piece | None
    line: tuple[tuple[float, float], tuple[float, float]]

    @property
    def setting(self) -> str:
        """What the saw is set to, in words."""
        return f"{self.tool} {self.measure:.1f}"

    @property
    def tool(self) -> str:
        """What cuts."""
        if self.yard:
            return "yard's saw"
        return "fence" if self.fence else "track saw"

    @property
    def sentence(self) -> str:
        """One plain sentence."""
        way = "across the sheet" if self.across else "along the sheet"
        rest = f"; beyond it {_told(self.rest)}" if self.rest else ""
        return (
            f"{self.number}. {self.piece.name} ({_size(self.piece)}): {self.setting}, cut {way}: "
            f"{_told(self.gives)}{rest}."
        )


def _told(piece: Piece) -> str:
    return f"{piece.name} ({_size(piece)}) {FATES[piece.fate]}"


def _size(piece: Piece) -> str:
    return f"{piece.length:.1f} × {piece.width:.1f}"


@dataclass(frozen=True, slots=True)
class _Work:
    """One cut to be made of a piece: how the piece is then, what it gives, what comes next."""

    sheet: str
    piece: Rect
    name: str
    across: bool
    at: float
    measured_first: bool
    fence: bool
    yard: bool
    first: Piece | None
    second: Piece | None
    then: tuple[_Work, ...]

    @property
    def measure(self) -> float:
        """The size that is measured."""
        given = self.first if self.measured_first else self.second
        assert given is not None
        return given.length if self.across else given.width

    @property
    def setting(self) -> tuple[bool, float]:
        """What is set on the saw."""
        return self.fence, round(self.measure, 3)


def saw_steps(sheet: Sheet, spec: CuttingSpec) -> tuple[SawStep, ...]:
    """The cuts of a sheet sawn alone, in order; none for a router. `spec` is how it is cut."""
    ordered = _ordered(_first(sheet, spec))
    return tuple(_step(i, work) for i, work in enumerate(ordered, start=1))


def saw_order(plan: CutPlan) -> dict[str, tuple[SawStep, ...]]:
    """Every cut of a plan in order, by the material's name: its sheets are sawn together."""
    firsts: dict[str, tuple[_Work, ...]] = {}
    for sheet in plan.sheets:
        ready = _first(sheet, plan.spec_of(sheet))
        firsts[sheet.board.key] = (*firsts.get(sheet.board.key, ()), *ready)
    return {
        key: tuple(_step(i, work) for i, work in enumerate(_ordered(ready), start=1))
        for key, ready in firsts.items()
    }


def _first(sheet: Sheet, spec: CuttingSpec) -> tuple[_Work, ...]:
    """The cut that a sheet begins with."""
    if sheet.cuts is None:
        return ()
    whole = Rect(0.0, 0.0, sheet.board.length, sheet.board.width)
    return _Planner(sheet, spec, yard_cuts(sheet, spec)).works(sheet.cuts, whole)


@dataclass(slots=True)
class _Planner:
    """Names the pieces of one sheet and works out each cut."""

    sheet: Sheet
    spec: CuttingSpec
    yard: tuple[Cut, ...]
    names: dict[int, str] = field(default_factory=dict)

    def works(self, cut: Cut, raw: Rect) -> tuple[_Work, ...]:
        """The work on a piece that is still `raw`: nothing, or the first cut of a chain."""
        yards = past_strips(cut, raw, self.spec.kerf)
        if any(yards is one for one in self.yard):
            # Thin waste that stays on doesn't change what the piece is called.
            self.names[id(yards)] = self._name(cut)
            return (self._parted(yards, raw, yard=True),)
        if self._fate(cut) == "waste":
            return ()
        return self._trimmed(cut, raw)

    def _trimmed(self, cut: Cut, raw: Rect) -> tuple[_Work, ...]:
        """Each edge that is still the sheet's own is cut off, then the piece is cut on."""
        rect = cut.rect
        ends = (
            (False, True, rect.y - raw.y),
            (False, False, raw.y + raw.width - rect.y - rect.width),
            (True, True, rect.x - raw.x),
            (True, False, raw.x + raw.length - rect.x - rect.length),
        )
        for across, low, off in ends:
            if off > CLOSE:
                return (self._edge(cut, raw, (across, low, off)),)
        return () if cut.first is None else (self._parted(cut, rect, yard=False),)

    def _edge(self, cut: Cut, raw: Rect, end: tuple[bool, bool, float]) -> _Work:
        across, low, off = end
        dx, dy = (off, 0.0) if across else (0.0, off)
        left = Rect(
            raw.x + (dx if low else 0.0),
            raw.y + (dy if low else 0.0),
            raw.length - dx,
            raw.width - dy,
        )
        strip = off - self.spec.kerf
        size = (strip, raw.width) if across else (raw.length, strip)
        waste = Piece("edge", *size, "waste") if strip > CLOSE else None
        done = _trim_is_last(cut, left)
        kept = self._piece(cut, left) if done else Piece(self._name(cut), *_extent(left), "piece")
        begin = raw.x if across else raw.y
        at = (
            begin + off - self.spec.kerf if low else begin + (left.length if across else left.width)
        )
        return _Work(
            sheet=self.sheet.number,
            piece=raw,
            name=self._name(cut),
            across=across,
            at=at,
            measured_first=not low,
            fence=self._under_fence(kept, left.length if across else left.width),
            yard=False,
            first=waste if low else kept,
            second=kept if low else waste,
            then=self._trimmed(cut, left),
        )

    def _parted(self, cut: Cut, raw: Rect, *, yard: bool) -> _Work:
        assert cut.first is not None
        kerf = self.spec.kerf
        first, second = raw_parts(cut, raw, kerf)
        low = self._piece(cut.first, first)
        high = None
        if second:
            # Where the tree sees but sawdust, an edge still to be trimmed may fall off.
            strip = Piece("edge", *_extent(second), "waste")
            high = self._piece(cut.second, second) if cut.second else strip
        sides = [(low, _along(first, cut.across))]
        if high and second:
            sides.append((high, _along(second, cut.across)))
        under = [side for side in sides if yard or self._under_fence(*side)]
        # What is wanted is measured; what falls off takes up what is left.
        wanted = min(under or sides, key=lambda side: WANTED.index(side[0].fate))
        then = self.works(cut.first, first)
        if cut.second and second:
            then += self.works(cut.second, second)
        return _Work(
            sheet=self.sheet.number,
            piece=raw,
            name=self._name(cut),
            across=cut.across,
            at=cut.at,
            measured_first=wanted[0] is low,
            fence=bool(under),
            yard=yard,
            # Where the blade runs along the piece's end nothing falls off there.
            first=low if _along(first, cut.across) > SAWDUST else None,
            second=high,
            then=then,
        )

    def _under_fence(self, piece: Piece, size: float) -> bool:
        """Whether a piece can lie between blade and fence: not too wide, no thin strip."""
        limit = self.spec.saw.fence
        thin = piece.fate in ("waste", "offcut") and size < THIN
        return not thin and (limit is None or size <= limit + CLOSE)

    def _piece(self, cut: Cut, raw: Rect) -> Piece:
        fate = self._fate(cut)
        if fate in ("part", "offcut") and not _trim_is_last(cut, raw):
            fate = "piece"
        return Piece(self._name(cut), *_extent(raw), fate)

    def _fate(self, cut: Cut) -> Fate:
        if cut.part is not None:
            return "part"
        if cut.first is not None:
            return "piece"
        return "offcut" if self._offcut(cut) else "waste"

    def _offcut(self, cut: Cut) -> int:
        """The offcut's number on its sheet, 0 for what is not kept."""
        for i, rect in enumerate(self.sheet.offcuts, start=1):
            if all(abs(a - b) < CLOSE for a, b in zip(_box(rect), _box(cut.rect), strict=True)):
                return i
        return 0

    def _name(self, cut: Cut) -> str:
        if cut.part is not None:
            return f"{cut.part[0]} copy {cut.part[1]}"
        if cut is self.sheet.cuts:
            return self.sheet.number
        fate = self._fate(cut)
        if fate == "waste":
            return "strip"
        if fate == "offcut":
            return f"{self.sheet.number}-{self._offcut(cut)}"
        if id(cut) not in self.names:
            taken = {*self.names.values()} - {self.sheet.number}
            self.names[id(cut)] = f"{self.sheet.number} {_letters(len(taken))}"
        return self.names[id(cut)]


def _trim_is_last(cut: Cut, raw: Rect) -> bool:
    """Whether nothing is left to trim."""
    return all(abs(a - b) <= CLOSE for a, b in zip(_box(raw), _box(cut.rect), strict=True))


def _extent(rect: Rect) -> tuple[float, float]:
    return rect.length, rect.width


def _along(rect: Rect, across: bool) -> float:
    return rect.length if across else rect.width


def _box(rect: Rect) -> tuple[float, float, float, float]:
    return rect.x, rect.y, rect.length, rect.width


def _letters(count: int) -> str:
    """A to Z, then AA, AB and on."""
    word = ""
    count += 1
    while count:
        count, letter = divmod(count - 1, 26)
        word = chr(ord("A") + letter) + word
    return word


def _ordered(first: tuple[_Work, ...]) -> Iterator[_Work]:
    """Every cut after that which makes its piece, alike settings together where that can be."""
    ready = list(first)
    waiting = Counter(work.setting for top in first for work in _beyond(top))
    now: tuple[bool, float] | None = None
    while ready:
        at_yard = [work for work in ready if work.yard]
        here = [work for work in ready if work.setting == now]
        work = (at_yard or here or [_next(ready, waiting)])[0]
        ready.remove(work)
        ready += work.then
        waiting.subtract(follower.setting for follower in work.then)
        now = work.setting
        yield work


def _next(ready: list[_Work], waiting: Counter[tuple[bool, float]]) -> _Work:
    """The setting that fewest cuts still to come will need again, then the largest piece."""
    return min(ready, key=lambda w: (waiting[w.setting], -w.piece.area))


def _beyond(work: _Work) -> Iterator[_Work]:
    for follower in work.then:
        yield follower
        yield from _beyond(follower)


def _step(number: int, work: _Work) -> SawStep:
    given, rest = (work.first, work.second)
    if not work.measured_first:
        given, rest = rest, given
    assert given is not None
    rect = work.piece
    if work.across:
        line = ((work.at, rect.y), (work.at, rect.y + rect.width))
    else:
        line = ((rect.x, work.at), (rect.x + rect.length, work.at))
    return SawStep(
        sheet=work.sheet,
        number=number,
        yard=work.yard,
        piece=Piece(work.name, *_extent(rect), "piece"),
        across=work.across,
        fence=work.fence,
        measure=work.measure,
        gives=given,
        rest=rest,
        line=line,
    )
