"""Templates as a book: what to do and the map of tiles first, then the tiles, many on a page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from fitout.cutting.cut_list import CutLine
from fitout.documents.dossier import Dossier
from fitout.documents.paper.marks import Mark, Page, moved
from fitout.documents.paper.pdf import pdf
from fitout.documents.templates.content import content
from fitout.documents.templates.cuttings import ways
from fitout.documents.templates.map import map_pages
from fitout.documents.templates.sheet import Sheet, furniture
from fitout.documents.templates.tile import Tile, head_height, marks_of, tiles
from fitout.documents.wording import Wording
from fitout.model.documents import PAPERS
from fitout.model.outline import Point

BETWEEN = 3.0
"""Between tiles on a page, for the scissors, mm."""

HEAD_LINES = 4
"""Lines of a tile's head that room is kept for."""

BACK = 4
"""How many pages back there may still be room for a tile."""


@dataclass(slots=True)
class _Shelf:
    """A row of tiles: its upper edge's distance from the top, its height, how far it is full."""

    top: float
    height: float
    full: float = 0.0


@dataclass(slots=True)
class Filled:
    """A page being filled: tiles with their lower left corners."""

    sheet: Sheet
    shelves: list[_Shelf] = field(default_factory=list)
    placed: list[tuple[Tile, Point]] = field(default_factory=list)

    def take(self, tile: Tile) -> bool:
        """Put a tile where there is room; False if there is none."""
        width, height = tile.size
        room = self.sheet.room
        for shelf in self.shelves:
            if shelf.height >= height - 1e-9 and shelf.full + width <= room[0] + 1e-9:
                self._put(tile, shelf)
                return True
        top = sum(shelf.height + BETWEEN for shelf in self.shelves)
        if top + height > room[1] + 1e-9 or width > room[0] + 1e-9:
            return False
        self.shelves.append(_Shelf(top, height))
        self._put(tile, self.shelves[-1])
        return True

    def _put(self, tile: Tile, shelf: _Shelf) -> None:
        x, y = self.sheet.corner
        at = (x + shelf.full, y + self.sheet.room[1] - shelf.top - tile.size[1])
        self.placed.append((tile, at))
        shelf.full += tile.size[0] + BETWEEN


def templates_pdf(dossier: Dossier) -> bytes:
    """Maps and tiles; one page that says so if no part needs a template."""
    return pdf(
        template_pages(dossier), f"{dossier.design.name} · {dossier.wording.say('templates')}"
    )


def _title(dossier: Dossier) -> str:
    return f"{dossier.design.name} · {dossier.wording.say('templates')}"


def template_pages(dossier: Dossier) -> list[Page]:
    """Every page, the map's first."""
    words = dossier.wording
    width, height = PAPERS[dossier.spec.paper]
    sheets = (Sheet(width, height), Sheet(height, width))
    made = tiles_of(dossier.cuts.cut_list.lines, sheets, words)
    filled = filled_pages(made)
    lines = dossier.cuts.cut_list.lines
    rest = [one.number for one in lines if one.panel.holes and one.number not in made]
    maps = list(map_pages(made, _pages_of(filled, 0), sheets[0], words, rest))
    # Where tiles are is told in pages of the whole book, so the maps are made again.
    maps = list(map_pages(made, _pages_of(filled, len(maps)), sheets[0], words, rest))
    drawn = [(sheets[0], marks) for marks in maps]
    drawn += [(page.sheet, list(_drawn(page, words))) for page in filled]
    title = _title(dossier)
    return [
        Page(
            sheet.width,
            sheet.height,
            (
                *furniture(
                    sheet,
                    title,
                    words.say("templates_print"),
                    words.say("page_of", page=number, pages=len(drawn)),
                ),
                *marks,
            ),
        )
        for number, (sheet, marks) in enumerate(drawn, start=1)
    ]


def tiles_of(
    lines: Iterable[CutLine], sheets: Sequence[Sheet], words: Wording
) -> Mapping[str, tuple[Sheet, tuple[Tile, ...]]]:
    """The tiles of each part that needs any, by its number, and how their pages lie."""
    found: dict[str, tuple[Sheet, tuple[Tile, ...]]] = {}
    for line in lines:
        wanted = content(line)
        tried = []
        for sheet in sheets:
            most = (sheet.room[0], sheet.room[1] - head_height(HEAD_LINES))
            cut = ways(wanted, line.panel.outline.bounds, most)
            tried += [(sheet, tiles(line, way, words)) for way in cut]
        if tried:
            found[line.number] = min(tried, key=_paper)
    return found


def _paper(way: tuple[Sheet, tuple[Tile, ...]]) -> tuple[int, int, int, float]:
    """Pages a part's tiles would take by themselves, how many bands, tiles, what they cover."""
    made = way[1]
    bands = {tile.cutting.name.rstrip("0123456789") for tile in made}
    area = sum(tile.size[0] * tile.size[1] for tile in made)
    return len(filled_pages({"": way})), len(bands), len(made), area


def filled_pages(made: Mapping[str, tuple[Sheet, tuple[Tile, ...]]]) -> list[Filled]:
    """The tiles on pages, part after part; a tile goes back a few pages where there is room."""
    pages: list[Filled] = []
    for sheet, ordered in made.values():
        for tile in sorted(ordered, key=lambda one: -one.size[1]):
            near = [page for page in pages if page.sheet == sheet][-BACK:]
            if not any(page.take(tile) for page in near):
                pages.append(Filled(sheet))
                assert pages[-1].take(tile), tile.name
    return pages


def _pages_of(filled: Sequence[Filled], before: int) -> dict[str, tuple[int, ...]]:
    """The pages on which a part's tiles are, by its number."""
    found: dict[str, list[int]] = {}
    for number, page in enumerate(filled, start=before + 1):
        for tile, _ in page.placed:
            found.setdefault(tile.line.number, []).append(number)
    return {part: tuple(dict.fromkeys(pages)) for part, pages in found.items()}


def _drawn(page: Filled, words: Wording) -> Iterator[Mark]:
    for tile, at in page.placed:
        yield from moved(marks_of(tile, words), at)
