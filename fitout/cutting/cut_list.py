"""The cut list: one line for each different part, with everything it stands for."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from fitout.cutting.edging import finished_size, strips_told
from fitout.cutting.frame import (
    COORDINATE_DIGITS,
    Key,
    Turn,
    drawing_turn,
    grain_locked,
    part_key,
    reframed,
)
from fitout.cutting.scribing import scribe_told
from fitout.model.outline import Point
from fitout.model.panel import Bar, Panel
from fitout.model.stock import Board, Section


@dataclass(frozen=True, slots=True)
class CutLine:
    """One part and the panels that are made to it.

    `panels` are told in the part's drawing frame (see `fitout.cutting.frame`), each with
    the placement that puts the drawn part in its place in the bay; the first is drawn.
    `by_hand` counts the inside corners that a router leaves round and another part needs
    square (see `fitout.cutting.corners`). `mates` are the stretches of its edge, in the
    drawing frame, that stand against other parts (see `fitout.cutting.mates`).
    """

    number: str
    panels: tuple[Panel, ...]
    by_hand: int = 0
    mates: tuple[tuple[Point, Point], ...] = ()

    @property
    def panel(self) -> Panel:
        """The part as it is drawn."""
        return self.panels[0]

    @property
    def name(self) -> str:
        """The name, or the names where the panels are called differently."""
        return " / ".join(dict.fromkeys(panel.name for panel in self.panels))

    @property
    def modules(self) -> tuple[str, ...]:
        """The modules the part goes into, each once."""
        return tuple(dict.fromkeys(panel.module for panel in self.panels))

    @property
    def quantity(self) -> int:
        """How many to cut."""
        return len(self.panels)

    @property
    def board(self) -> Board:
        """What it is cut from."""
        return self.panel.board

    @property
    def length(self) -> float:
        """Length of the blank, along the grain (the longer side where the grain is free)."""
        return self.panel.outline.size[0]

    @property
    def width(self) -> float:
        """Width of the blank."""
        return self.panel.outline.size[1]

    @property
    def thickness(self) -> float:
        """The board's actual thickness."""
        return self.panel.thickness

    @property
    def grain_locked(self) -> bool:
        """Whether the length must follow the sheet's face grain."""
        return grain_locked(self.panel)

    @property
    def edging(self) -> str:
        """What is done to the edges; which have strips is told as the part is drawn."""
        return "; ".join(told for told in (self.panel.edging, strips_told(self.panel)) if told)

    @property
    def finished(self) -> tuple[float, float]:
        """Length and width once the strips are on its edges, and others scribed."""
        return finished_size(self.panel)

    @property
    def scribe(self) -> str:
        """Which edges were cut larger to be scribed to the vehicle, and by how much."""
        return scribe_told(self.panel)

    @property
    def scribed(self) -> bool:
        """Whether an edge of any of them follows the vehicle."""
        return any(panel.scribed for panel in self.panels)

    @property
    def mass_each_kg(self) -> float:
        """Mass of one."""
        return self.panel.mass_kg

    @property
    def mass_kg(self) -> float:
        """Mass of all of them."""
        return sum(panel.mass_kg for panel in self.panels)

    @property
    def price(self) -> float | None:
        """The sheet price's share that all the blanks take, None without a sheet price."""
        if self.board.price is None:
            return None
        share = self.length * self.width / (self.board.length * self.board.width)
        return self.board.price * share * self.quantity


@dataclass(frozen=True, slots=True)
class BarLine:
    """Bars of one section, cut to the same length with the same holes."""

    number: str
    bars: tuple[Bar, ...]

    @property
    def section(self) -> Section:
        """What it is cut from."""
        return self.bars[0].section

    @property
    def length(self) -> float:
        """Length to cut."""
        return self.bars[0].length

    @property
    def name(self) -> str:
        """The name, or the names where the bars are called differently."""
        return " / ".join(dict.fromkeys(bar.name for bar in self.bars))

    @property
    def quantity(self) -> int:
        """How many to cut."""
        return len(self.bars)

    @property
    def mass_each_kg(self) -> float:
        """Mass of one."""
        return self.bars[0].mass_kg

    @property
    def mass_kg(self) -> float:
        """Mass of all of them."""
        return sum(bar.mass_kg for bar in self.bars)


@dataclass(frozen=True, slots=True)
class CutList:
    """Every part to cut: panels as P01, P02 and on, bars as B01, B02 and on."""

    lines: tuple[CutLine, ...]
    bars: tuple[BarLine, ...] = ()

    def line(self, number: str) -> CutLine:
        """The line of a panel part's number; KeyError if there is none."""
        for line in self.lines:
            if line.number == number:
                return line
        raise KeyError(number)

    @property
    def mass_kg(self) -> float:
        """Mass of everything on the list."""
        panels = sum(line.mass_kg for line in self.lines)
        return panels + sum(line.mass_kg for line in self.bars)


def cut_list(panels: Iterable[Panel], bars: Iterable[Bar] = ()) -> CutList:
    """One line for each different part.

    Numbers follow the order in which modules first appear, then the board, then size
    (largest first). Panels are the same part when outline, holes, pockets, board, grain
    and edging agree after turning (see `frame.part_key`).
    """
    bars = tuple(bars)
    panels = tuple(panels)
    modules = dict.fromkeys([*(p.module for p in panels), *(b.module for b in bars)])
    order = {name: i for i, name in enumerate(modules)}
    groups: dict[Key, list[tuple[Panel, Turn]]] = {}
    for panel in panels:
        key, turn = part_key(panel)
        groups.setdefault((panel.board, key), []).append((panel, turn))
    drawn = sorted(
        ((_drawn(group), key) for (_, key), group in groups.items()),
        key=lambda pair: (*_panel_order(pair[0][0], order), repr(pair[1])),
    )
    digits = max(2, len(str(len(drawn))))
    return CutList(
        tuple(CutLine(f"P{i:0{digits}}", group) for i, (group, _) in enumerate(drawn, start=1)),
        _bar_lines(bars, order),
    )


def _drawn(group: list[tuple[Panel, Turn]]) -> tuple[Panel, ...]:
    """The panels of one part, all told in the drawing frame of the first."""
    first, first_turn = group[0]
    from_common = drawing_turn(first).after(first_turn.undone())
    return tuple(reframed(panel, from_common.after(turn)) for panel, turn in group)


def _panel_order(panel: Panel, order: dict[str, int]) -> tuple[object, ...]:
    length, width = (round(side, COORDINATE_DIGITS) for side in panel.outline.size)
    return order[panel.module], panel.board.key, panel.thickness, -length, -width, panel.name


def _bar_lines(bars: tuple[Bar, ...], order: dict[str, int]) -> tuple[BarLine, ...]:
    groups: dict[Key, list[Bar]] = {}
    for bar in bars:
        groups.setdefault((bar.section, _bar_key(bar)), []).append(bar)
    ordered = sorted(
        groups.values(),
        key=lambda g: (order[g[0].module], g[0].section.key, -g[0].length, g[0].name, g[0].holes),
    )
    digits = max(2, len(str(len(ordered))))
    return tuple(
        BarLine(f"B{i:0{digits}}", tuple(group)) for i, group in enumerate(ordered, start=1)
    )


def _bar_key(bar: Bar) -> Key:
    """Length and holes; a bar turned end for end is the same bar."""
    there = sorted((_rounded(at), _rounded(size)) for at, size in bar.holes)
    back = sorted((_rounded(bar.length - at), _rounded(size)) for at, size in bar.holes)
    return _rounded(bar.length), tuple(min(there, back))


def _rounded(value: float) -> float:
    return round(value, COORDINATE_DIGITS)
