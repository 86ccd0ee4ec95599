"""The first sheet: what is in the book, how to read it, and what it is not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fitout.documents.dossier import Dossier
from fitout.documents.drawings.cutting_sheets import CUT
from fitout.documents.drawings.packing import GAP, packed
from fitout.documents.drawings.panel_marks import FINISHED
from fitout.documents.drawings.sketch import Sketch
from fitout.documents.paper.dimension import arrow
from fitout.documents.paper.fonts import wrapped
from fitout.documents.paper.marks import (
    CENTRE,
    HIDDEN,
    MEDIUM,
    NARROW,
    PHANTOM,
    WIDE,
    Arc,
    Mark,
    Pen,
    Text,
    line,
)
from fitout.documents.paper.table import Block, Column, Table, blocks
from fitout.documents.wording import Wording

WIDTH = 150.0
"""Width of the notes, mm."""

LINE, HEIGHT, HEADING = 4.2, 2.5, 3.5
"""From line to line, the height of letters and of headings, mm."""

SAMPLE = 26.0
"""Length of a line in the key, mm."""

TALL = 255.0
"""The list of contents is parted to be no higher, mm; it stands beside the title block."""

KEY: tuple[tuple[Pen, str], ...] = (
    (WIDE, "key_visible"),
    (MEDIUM, "key_feature"),
    (HIDDEN, "key_hidden"),
    (CENTRE, "key_centre"),
    (PHANTOM, "key_adjacent"),
    (FINISHED, "key_finished"),
    (CUT, "key_cut"),
    (NARROW, "key_dimension"),
)

NOTES = ("note_lengths", "note_datum", "note_holes", "note_face", "note_sides", "note_scale")

SAFETY = ("safety_approval", "safety_checked", "safety_yours")


@dataclass(frozen=True, slots=True)
class Entry:
    """A line of the contents: page, what it shows, its scale."""

    page: int
    title: str
    number: str
    scale: str


def cover_sheets(dossier: Dossier, entries: Sequence[Entry]) -> tuple[Sketch, ...]:
    """The first sheet, and more where the contents need them."""
    wording = dossier.wording
    contents = blocks(_contents(entries, wording), TALL)
    keys = (*NOTES, "note_inches") if wording.unit == "in" else NOTES
    notes = [
        _paragraphs(wording.say("safety"), [wording.say(key) for key in SAFETY]),
        _paragraphs(wording.say("reading"), [wording.say(key) for key in keys]),
        _key(wording),
    ]
    found = []
    for i, page in enumerate(packed([[[contents[0], *notes, *contents[1:]]]])):
        title = wording.say("contents")
        found.append(
            Sketch(
                title=dossier.design.name if i == 0 else wording.say("continued", title=title),
                kind=title,
                name="contents" + (f"-{i + 1}" if i else ""),
                marks=tuple(page.marks),
            )
        )
    return tuple(found)


def _contents(entries: Sequence[Entry], wording: Wording) -> Table:
    say = wording.say
    columns = (
        Column(say("title_page"), "right"),
        Column(say("title_title"), most=76.0),
        Column(say("title_number"), most=54.0),
        Column(say("scale"), most=24.0),
    )
    rows = tuple((f"{e.page}", e.title, e.number, e.scale) for e in entries)
    return Table(columns, rows, say("contents"))


def _paragraphs(heading: str, texts: Sequence[str]) -> Block:
    marks: list[Mark] = [Text((0.0, -HEADING), heading, HEADING, bold=True)]
    y = -HEADING - 5.2
    for words in texts:
        for told in wrapped(words, HEIGHT, WIDTH):
            marks.append(Text((0.0, y), told, HEIGHT))
            y -= LINE
        y -= 1.0
    return Block(WIDTH, -y - LINE, tuple(marks))


def _key(wording: Wording) -> Block:
    """Line types and symbols with what they mean."""
    marks: list[Mark] = [Text((0.0, -HEADING), wording.say("key"), HEADING, bold=True)]
    y = -HEADING - 5.2
    for pen, words in KEY:
        middle = y + HEIGHT / 2.0
        marks.append(line((0.0, middle), (SAMPLE, middle), pen, "KEY"))
        if words == "key_dimension":
            marks += [arrow((0.0, middle), 3.14159265), arrow((SAMPLE, middle), 0.0)]
        marks.append(Text((SAMPLE + 4.0, y), wording.say(words), HEIGHT))
        y -= LINE + 0.8
    marks.append(Arc((SAMPLE / 2.0, y + HEIGHT / 2.0), 1.0, pen=NARROW, layer="KEY"))
    marks.append(Text((SAMPLE + 4.0, y), wording.say("key_datum"), HEIGHT))
    y -= LINE + 2.4
    marks.append(Arc((SAMPLE / 2.0, y + HEIGHT / 2.0), 2.8, pen=NARROW, layer="KEY"))
    marks.append(Text((SAMPLE / 2.0, y), "A", HEIGHT, "middle", bold=True))
    marks.append(Text((SAMPLE + 4.0, y), wording.say("key_face"), HEIGHT))
    return Block(WIDTH, -y + GAP, tuple(marks))
