"""The drawings of bars and tubes: each different one from its drilled side, and its section."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fitout.cutting.cut_list import BarLine
from fitout.documents.dossier import Dossier
from fitout.documents.drawings.features import distinct
from fitout.documents.drawings.packing import packed
from fitout.documents.drawings.panel_sheets import (
    SCALES,
    mass_told,
    ranges,
    scales_told,
    with_heading,
)
from fitout.documents.drawings.sketch import Sketch
from fitout.documents.facing import side_of_edge
from fitout.documents.paper.dimension import Ordinate, leader, linear, running
from fitout.documents.paper.layout import Layout
from fitout.documents.paper.marks import (
    CENTRE,
    HIDDEN,
    MEDIUM,
    NARROW,
    WIDE,
    Arc,
    Mark,
    Stroke,
    box,
    line,
)
from fitout.documents.paper.table import Block
from fitout.documents.wording import Wording
from fitout.model.stock import Section

LONGEST, WIDEST = 270.0, 30.0
"""A bar's picture is no longer and no wider, mm on paper."""

SECTIONS = (1, 2, 5)
LARGEST_SECTION = 25.0
"""Scales of a section, and how large it may be, mm on paper."""

AROUND = 100.0
CROSS = 1.1
SECTION_ROOM = 34.0
"""Room for dimensions around a picture, of a centre cross beyond its hole, and between the
picture and the section, mm."""


def bar_sheets(dossier: Dossier) -> tuple[Sketch, ...]:
    """Every different bar, in the order of the cut list."""
    wording, lines = dossier.wording, dossier.cuts.cut_list.bars
    groups = [[[bar_block(bar, wording)]] for bar in lines]
    found = []
    for sheet in packed(groups):
        on_it = [lines[number] for number in dict.fromkeys(sheet.groups)]
        found.append(_sketch(on_it, sheet.marks, wording))
    return tuple(found)


def _sketch(lines: Sequence[BarLine], marks: Sequence[Mark], wording: Wording) -> Sketch:
    first, last = lines[0], lines[-1]
    alone = len(lines) == 1
    number = ranges([one.number for one in lines])
    modules = dict.fromkeys(bar.module for one in lines for bar in one.bars)
    title = wording.say("bars_titled", numbers=number)
    if alone:
        title = f"{', '.join(modules)}: {first.name}"
    return Sketch(
        title=title,
        kind=wording.say("part_drawing"),
        name=f"bars-{first.number}" + ("" if alone else f"-{last.number}"),
        marks=tuple(marks),
        number=number,
        module=", ".join(modules),
        scale=scales_told(sorted({scale_of(one) for one in lines})),
        material="; ".join(dict.fromkeys(one.section.key for one in lines)),
        mass=mass_told(first.mass_each_kg) if alone else "",
    )


def scale_of(bar: BarLine) -> int:
    """The reduction a bar is drawn at."""
    fitting = (s for s in SCALES if bar.length <= LONGEST * s and bar.section.width <= WIDEST * s)
    return next(fitting, SCALES[-1])


def bar_block(bar: BarLine, wording: Wording) -> Block:
    """A bar's picture and section with heading and notes."""
    say, scale = wording.say, 1.0 / scale_of(bar)
    length, width = bar.length * scale, bar.section.width * scale
    layout = Layout((-AROUND, -AROUND, length + 2.0 * AROUND, width + AROUND))
    layout.draw(_side(bar, scale))
    _dimensions(layout, bar, scale, wording)
    layout.draw(line((-3.0, width / 2.0), (length + 3.0, width / 2.0), CENTRE, "CENTRE")
                for _ in bar.bars[0].holes[:1])  # fmt: skip
    _section(layout, bar.section, (length + SECTION_ROOM, width), wording)
    modules = ", ".join(dict.fromkeys(one.module for one in bar.bars))
    notes = [
        f"{modules} · {say('count_off', count=bar.quantity)} · {bar.section.key} · "
        f"{wording.size(bar.length)} · {mass_told(bar.mass_each_kg)} · 1:{scale_of(bar)}",
        say("bar_ends"),
    ]
    ends = {side_of_edge(one.placement, "left") for one in bar.bars}
    if bar.bars[0].holes and len(ends) == 1:
        notes.append(say("bar_datum", side=say(f"side_{ends.pop()}")))
    return with_heading(layout.marks, f"{bar.number}  {bar.name}", notes)


def _side(bar: BarLine, scale: float) -> Iterator[Mark]:
    section = bar.section
    length, width = bar.length * scale, section.width * scale
    yield box(0.0, 0.0, length, width, WIDE, "OUTLINE")
    if section.wall is not None:
        for y in (section.wall * scale, width - section.wall * scale):
            yield line((0.0, y), (length, y), HIDDEN, "HIDDEN")
    for at, diameter in bar.bars[0].holes:
        x, y, radius = at * scale, width / 2.0, diameter / 2.0 * scale
        yield Arc((x, y), radius, pen=MEDIUM, layer="HOLE")
        reach = radius + CROSS
        yield Stroke(((x, y - reach), (x, y + reach)), NARROW, layer="CENTRE")
        yield Stroke(((x - reach, y), (x + reach, y)), NARROW, layer="CENTRE")


def _dimensions(layout: Layout, bar: BarLine, scale: float, wording: Wording) -> None:
    length, width = bar.length * scale, bar.section.width * scale
    holes = bar.bars[0].holes
    told = [
        Ordinate((at * scale, width / 2.0), wording.length(at))
        for at in distinct(at for at, _ in holes)
    ]
    if told:
        running(layout, (0.0, 0.0), told, "below", 0.0)
    linear(layout, (0.0, width), (length, width), wording.length(bar.length), "above")
    kinds: dict[float, list[float]] = {}
    for at, diameter in holes:
        kinds.setdefault(round(diameter, 3), []).append(at)
    for diameter, places in sorted(kinds.items()):
        words = wording.say("bar_holes", count=len(places), diameter=wording.tool(diameter, 2))
        tip = (max(places) * scale, width / 2.0)
        leader(layout, tip, words, radius=diameter / 2.0 * scale)


def _section(
    layout: Layout, section: Section, corner: tuple[float, float], wording: Wording
) -> None:
    """The section beside the bar: its width level, its height upright."""
    largest = max(section.width, section.height)
    reduced = next((s for s in SECTIONS if largest <= LARGEST_SECTION * s), SECTIONS[-1])
    scale = 1.0 / reduced
    wide, high = section.width * scale, section.height * scale
    left, bottom = corner[0], corner[1] - high
    marks: list[Mark] = [box(left, bottom, wide, high, WIDE, "OUTLINE")]
    if section.wall is not None:
        wall = section.wall * scale
        inner = (wide - 2.0 * wall, high - 2.0 * wall)
        marks.append(box(left + wall, bottom + wall, *inner, WIDE, "OUTLINE"))
    layout.draw(marks)
    right, top = left + wide, bottom + high
    linear(layout, (left, top), (right, top), wording.length(section.width), "above")
    linear(layout, (right, bottom), (right, top), wording.length(section.height), "right")
    if section.wall is not None:
        told = wording.say("bar_wall", wall=wording.length(section.wall))
        leader(layout, (left + wall / 2.0, bottom + high / 2.0), told, dot=True)
    leader(layout, (right, bottom), wording.say("bar_section", scale=f"1:{reduced}"))
