"""The part drawings: every different panel once, several small ones on a sheet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from fitout.cutting.cut_list import CutLine
from fitout.documents.dossier import Dossier
from fitout.documents.drawings.features import hole_kinds
from fitout.documents.drawings.packing import HEIGHT as ROOM_HEIGHT
from fitout.documents.drawings.packing import WIDTH as ROOM_WIDTH
from fitout.documents.drawings.packing import packed
from fitout.documents.drawings.panel_picture import kind_told, picture, plan_of
from fitout.documents.drawings.panel_tables import tables
from fitout.documents.drawings.sketch import Sketch
from fitout.documents.facing import looks
from fitout.documents.paper.fonts import wrapped
from fitout.documents.paper.marks import Mark, Text, moved
from fitout.documents.paper.room import extent
from fitout.documents.paper.table import Block, Table, blocks
from fitout.documents.wording import Wording, decimal
from fitout.model.panel import Panel

SCALES = (1, 2, 5, 10, 20)
"""Full size and reductions (ISO 5455)."""

LARGEST: tuple[tuple[int, tuple[tuple[float, float], ...]], ...] = (
    (0, ((115.0, 61.0),)),
    (6, ((155.0, 90.0),)),
    (14, ((180.0, 92.0), (115.0, 165.0))),
    (10_000, ((305.0, 150.0),)),
)
"""A picture with up to so many features is no larger than one of these, mm on paper."""

HEADING, LINE = 3.5, 4.2
"""Height of a part's number, and from one line of its notes to the next, mm."""

STRIP = (290.0, 30.0)
"""A picture of a long part may be so long if it is no higher, mm on paper."""

ROUNDED = (3.0, 2.0, 1.0)
"""Radii of rounded edges, mm: the largest that the board is thick enough for is taken, as router
bits are to be had (common practice)."""

FLAT = 3.5
"""A board is at least so many radii thick, so that some of its edge stays flat."""

NOTES_WIDTH = 135.0
"""Notes are wrapped at this width, or at the picture's if it is wider, mm."""

PARTED = (ROOM_HEIGHT - 62.0, 130.0, 95.0, 70.0, 50.0)
"""Tables are parted to be no higher than one of these, the first that lets a part and its
tables stand on one sheet, mm."""


def panel_sheets(dossier: Dossier) -> tuple[Sketch, ...]:
    """Every different panel, in the order of the cut list."""
    wording, lines = dossier.wording, dossier.cuts.cut_list.lines
    groups = [panel_blocks(line, wording) for line in lines]
    found: list[Sketch] = []
    begun: set[int] = set()
    for sheet in packed(groups):
        on_it = [lines[number] for number in dict.fromkeys(sheet.groups)]
        drawn = _sketch(on_it, sheet.marks, wording)
        if begun.issuperset(sheet.groups):
            name, title = f"{drawn.name}-{len(found)}", drawn.title
            title = wording.say("continued", title=title)
            drawn = replace(drawn, title=title, name=name)
        begun.update(sheet.groups)
        found.append(drawn)
    return tuple(found)


def _sketch(lines: Sequence[CutLine], marks: Sequence[Mark], wording: Wording) -> Sketch:
    first, last = lines[0], lines[-1]
    alone = len(lines) == 1
    number = ranges([line.number for line in lines])
    title = wording.say("parts_titled", numbers=number)
    if alone:
        title = f"{', '.join(first.modules)}: {first.name}"
    name = first.number if alone else f"{first.number}-{last.number}"
    scales = sorted({scale_of(line) for line in lines})
    # On a sheet with several boards each part's heading tells its thickness.
    boards = {line.board.key: material(line.panel, wording) for line in lines}
    return Sketch(
        title=title,
        kind=wording.say("part_drawing"),
        name=f"parts-{name}",
        marks=tuple(marks),
        number=number,
        module=", ".join(dict.fromkeys(m for line in lines for m in line.modules)),
        scale=scales_told(scales),
        material="; ".join(boards) if len(boards) > 1 else "".join(boards.values()),
        mass=mass_told(first.mass_each_kg) if alone else "",
    )


def ranges(numbers: Sequence[str]) -> str:
    """Part numbers, three and more in a row by the first and the last: `P01, P04–P06`."""
    rows: list[list[str]] = []
    for number in sorted(numbers, key=lambda n: (n[:1], _digits(n))):
        if rows and _digits(number) == _digits(rows[-1][-1]) + 1 and number[0] == rows[-1][0][0]:
            rows[-1].append(number)
        else:
            rows.append([number])
    return ", ".join(f"{row[0]}–{row[-1]}" if len(row) > 2 else ", ".join(row) for row in rows)


def _digits(number: str) -> int:
    return int("".join(c for c in number if c.isdigit()) or 0)


def scales_told(scales: Sequence[int]) -> str:
    """The scales of a sheet, the first and the last where there are many."""
    if len(scales) <= 2:
        return ", ".join(f"1:{scale}" for scale in scales)
    return f"1:{scales[0]} … 1:{scales[-1]}"


def material(panel: Panel, wording: Wording) -> str:
    """The board and its actual thickness: `birch ply 12, 11.8 mm`."""
    return f"{panel.board.key}, {wording.size(panel.thickness)}"


def mass_told(kg: float) -> str:
    """A mass with its unit."""
    return f"{decimal(kg, 2)} kg"


def scale_of(line: CutLine) -> int:
    """The reduction a panel is drawn at: the larger, the more there is to see."""
    plan = plan_of(line.panel)
    features = len(line.panel.holes) + len(plan.corners) - 4 + 2 * len(plan.openings)
    fitting = (*next(sizes for most, sizes in LARGEST if features <= most), STRIP)
    return next(
        (
            scale
            for scale in SCALES
            for length, width in fitting
            if line.length <= length * scale and line.width <= width * scale
        ),
        SCALES[-1],
    )


def panel_blocks(line: CutLine, wording: Wording) -> list[list[Block]]:
    """The picture with its heading and then its tables, these parted in several ways."""
    drawn = picture(line, 1.0 / scale_of(line), wording)
    plan = plan_of(line.panel)
    first = with_heading(drawn, _heading(line), _notes(line, wording))
    listed = list(tables(line, plan, wording))
    whole = [(table, blocks(table, PARTED[0])) for table in listed]
    ways = [
        [first, *(part for table, own in whole for part in _parted(table, own, high))]
        for high in PARTED
    ]
    return [way for i, way in enumerate(ways) if i == 0 or len(way) > len(ways[i - 1])]


def _parted(table: Table, whole: list[Block], high: float) -> list[Block]:
    """The table in parts no higher than that; as it is where it is one part and no higher."""
    return whole if len(whole) == 1 and whole[0].height <= high else blocks(table, high)


def with_heading(marks: Sequence[Mark], heading: str, notes: Iterable[str]) -> Block:
    """Marks as a block with a heading and notes above them, as wide as the widest of both."""
    left, _, right, top = extent(marks)
    width = min(max(right - left, NOTES_WIDTH), ROOM_WIDTH)
    told: list[Mark] = []
    y = -HEADING
    for words in wrapped(heading, HEADING, width, bold=True):
        told.append(Text((0.0, y), words, HEADING, bold=True))
        y -= LINE + 1.0
    y += 0.8
    for note in notes:
        for words in wrapped(note, 2.5, width):
            told.append(Text((0.0, y), words.removesuffix(" ·"), 2.5))
            y -= LINE
    y -= 1.0
    told += moved(marks, (-left, y - top))
    box = extent(told)
    return Block(box[2], -box[1], tuple(told))


def _heading(line: CutLine) -> str:
    return f"{line.number}  {line.name}"


def _notes(line: CutLine, wording: Wording) -> list[str]:
    say, panel = wording.say, line.panel
    size = wording.size(line.length, line.width, line.thickness)
    notes = [
        f"{', '.join(line.modules)} · {say('count_off', count=line.quantity)} · {line.board.key} · "
        f"{size} · {mass_told(line.mass_each_kg)} · 1:{scale_of(line)}"
    ]
    notes.append(_edges(line, wording))
    sides = {looks(one) for one in line.panels}
    seen = say("face_seen")
    if len(sides) == 1:
        seen = say("face_looks", side=say(f"side_{looks(panel)}"))
    notes[-1] += " · " + seen
    if panel.board.grain and not line.grain_locked:
        notes[-1] += " " + say("grain_free")
    kinds = hole_kinds(panel)
    if len(kinds) > 1 and plan_of(panel).holes_run:
        told = (f"{kind.letter}: {kind_told(kind, wording)}" for kind in kinds)
        notes.append("; ".join(told))
    if line.scribe:
        size = wording.size(*line.finished)
        notes.append(say("scribe_left", edges=wording.work(line.scribe), size=size))
    elif line.scribed:
        notes.append(say("scribe_note"))
    if line.by_hand:
        notes.append(say("by_hand_note", count=line.by_hand))
    return notes


def _edges(line: CutLine, wording: Wording) -> str:
    """What is done to the edges, with the radius they are rounded to."""
    say = wording.say
    if not line.edging:
        return say("edges_cut" if line.board.kind == "foam" else "edges_bare")
    done = "; ".join(wording.work(words) for words in line.edging.split("; "))
    if line.panel.edging.endswith("rounded"):
        radius = next((r for r in ROUNDED if FLAT * r <= line.thickness), ROUNDED[-1])
        done += " · " + say("edges_radius", radius=wording.length(radius))
    return say("edges_done", edging=done)
