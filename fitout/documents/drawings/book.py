"""The whole book: every sheet in its frame with a title block, numbered, as PDF and as DXF."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from fitout.documents.dossier import Dossier
from fitout.documents.drawings.bar_sheets import bar_sheets
from fitout.documents.drawings.cutting_sheets import cutting_sheets
from fitout.documents.drawings.panel_sheets import panel_sheets
from fitout.documents.drawings.sketch import Sketch
from fitout.documents.paper.frame import Cell, framed
from fitout.documents.paper.marks import Page
from fitout.documents.paper.pdf import pdf

Sheets = Callable[[Dossier], tuple[Sketch, ...]]

SHEETS: tuple[Sheets, ...] = (panel_sheets, bar_sheets, cutting_sheets)
"""Who draws which sheets, in the order of the pages."""


def drawings_pages(dossier: Dossier) -> tuple[Page, ...]:
    """Every page of the book."""
    sketches = [sketch for sheets in SHEETS for sketch in sheets(dossier)]
    return tuple(_page(sketch, i, len(sketches), dossier) for i, sketch in enumerate(sketches, 1))


def drawings_pdf(dossier: Dossier) -> bytes:
    """The book as one PDF."""
    title = f"{dossier.design.name}: {dossier.wording.say('drawings')}"
    return pdf(drawings_pages(dossier), title)


def _page(sketch: Sketch, number: int, count: int, dossier: Dossier) -> Page:
    name = f"{number:02d}-{re.sub(r'[^A-Za-z0-9]+', '-', sketch.name).strip('-')}"
    shown = dossier.spec.projection if sketch.scale else None
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
