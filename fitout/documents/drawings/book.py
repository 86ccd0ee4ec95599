"""The whole book: every sheet in its frame with a title block, numbered, as PDF and as DXF."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from fitout.documents.dossier import Dossier
from fitout.documents.drawings.arrangement import arrangement_sheets
from fitout.documents.drawings.bar_sheets import bar_sheets
from fitout.documents.drawings.bill_sheets import bill_sheets
from fitout.documents.drawings.cover import Entry, cover_sheets
from fitout.documents.drawings.cutting_sheets import cutting_sheets
from fitout.documents.drawings.exploded import exploded_sheets
from fitout.documents.drawings.panel_sheets import panel_sheets
from fitout.documents.drawings.sketch import Sketch
from fitout.documents.paper.frame import Cell, framed
from fitout.documents.paper.marks import Page
from fitout.documents.paper.page_dxf import page_dxf
from fitout.documents.paper.pdf import pdf

Sheets = Callable[[Dossier], tuple[Sketch, ...]]

SHEETS: tuple[Sheets, ...] = (
    arrangement_sheets,
    exploded_sheets,
    panel_sheets,
    bar_sheets,
    cutting_sheets,
    bill_sheets,
)
"""Who draws which sheets, in the order of the pages, after the contents."""

NAME_LENGTH = 40
"""File names are cut to so many letters."""


def drawings_pages(dossier: Dossier) -> tuple[Page, ...]:
    """Every page of the book, A3 landscape; a page's name is the file name of its DXF."""
    drawn = [sketch for sheets in SHEETS for sketch in sheets(dossier)]
    sketches = [*_cover(drawn, dossier), *drawn]
    return tuple(_page(sketch, i, len(sketches), dossier) for i, sketch in enumerate(sketches, 1))


def drawings_pdf(dossier: Dossier, pages: Sequence[Page] | None = None) -> bytes:
    """The book as one PDF; `pages` are those of `drawings_pages`, if they are made already."""
    title = f"{dossier.design.name}: {dossier.wording.say('drawings')}"
    return pdf(drawings_pages(dossier) if pages is None else pages, title)


def drawings_dxf(dossier: Dossier, pages: Sequence[Page] | None = None) -> dict[str, bytes]:
    """Each page as a DXF file, by its path below the export folder."""
    made = drawings_pages(dossier) if pages is None else pages
    return {f"drawings/{page.name}.dxf": page_dxf(page) for page in made}


def _cover(drawn: Sequence[Sketch], dossier: Dossier) -> tuple[Sketch, ...]:
    """The contents; how many sheets they take themselves shows in the page numbers."""
    first = 2
    while True:
        entries = [
            Entry(i, sketch.title, sketch.number, sketch.scale)
            for i, sketch in enumerate(drawn, first)
        ]
        found = cover_sheets(dossier, entries)
        if len(found) + 1 == first:
            return found
        first = len(found) + 1


def _page(sketch: Sketch, number: int, count: int, dossier: Dossier) -> Page:
    plain = re.sub(r"[^A-Za-z0-9]+", "-", sketch.name).strip("-")[:NAME_LENGTH]
    name = f"{number:02d}-{plain}" if plain else f"{number:02d}"
    shown = dossier.spec.projection if sketch.scale or sketch.views else None
    return framed(sketch.marks, _title(sketch, number, count, dossier), name, shown)


def _title(
    sketch: Sketch, number: int, count: int, dossier: Dossier
) -> Sequence[tuple[float, Sequence[Cell]]]:
    """The fields of the title block (ISO 7200): what, of what, by whom, which page of how many.

    Checking and its date are left to be written by hand: no drawing is approved by being made.
    """
    say, spec = dossier.wording.say, dossier.spec
    page = say("page_of", page=number, pages=count)
    return (
        (11.0, (
            Cell(say("material"), sketch.material, 98.0),
            Cell(say("mass"), sketch.mass, 26.0),
            Cell(say("scale"), sketch.scale, 32.0, 3.5),
            Cell("", "", 24.0),
        )),
        (10.0, (
            Cell(say("module"), sketch.module, 98.0),
            Cell(say("title_lengths"), spec.lengths, 26.0),
            Cell(say("title_paper"), "A3", 32.0),
            Cell(say("title_page"), page, 24.0),
        )),
        (14.0, (
            Cell(say("title_title"), sketch.title, 124.0, 5.0, bold=True),
            Cell(say("title_number"), sketch.number, 56.0, 5.0, bold=True),
        )),
        (11.0, (
            Cell(say("title_design"), dossier.design.name, 124.0, 3.5),
            Cell(say("title_kind"), sketch.kind, 56.0),
        )),
        (10.0, (
            Cell(say("title_drawn"), spec.drawn_by, 62.0),
            Cell(say("title_checked"), "", 62.0),
            Cell(say("title_date"), "", 56.0),
        )),
    )  # fmt: skip
