"""The catalogue: six tables read from the package, with a design's own rows over them."""

from __future__ import annotations

import dataclasses
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

import yaml

from fitout.catalogue.rows import Finding, Record, Row, Table, nearest, resolve, shown
from fitout.model.fault import DesignError, Fault
from fitout.model.hardware import Article, LatchType, Slide, StrikerType
from fitout.model.stock import Board, Section

DEFAULT_BOARDS: Mapping[str, str] = MappingProxyType(
    {
        "carcass": "birch ply 12",
        "drawer": "birch ply 12",
        "bottom": "birch ply 6.5",
        "front": "birch ply 12",
        "deck": "birch ply 12",
        "barrier": "birch ply 12",
        "tray": "birch ply 6.5",
        "lid": "birch ply 12",
        "foam": "closed-cell foam 30",
    }
)
"""The sheet each purpose is cut from unless the design says otherwise."""

NO_OVERRIDES: Mapping[str, Mapping[str, Any]] = MappingProxyType({})


@dataclass(frozen=True, slots=True, kw_only=True)
class Catalogue:
    """Everything that can be bought, by table and name."""

    sheets: Mapping[str, Board]
    slides: Mapping[str, Slide]
    articles: Mapping[str, Article]
    sections: Mapping[str, Section]
    latches: Mapping[str, LatchType]
    strikers: Mapping[str, StrikerType]

    @property
    def goods(self) -> Mapping[str, Article]:
        """All that a hardware list may name: articles, latches and strikers."""
        return {**self.articles, **self.latches, **self.strikers}


def _board_faults(board: Board) -> Iterator[Finding]:
    if board.thickness_tolerance >= board.thickness:
        yield "thickness_tolerance", f"{board.thickness_tolerance:g}", "less than the thickness"


def _slide_faults(slide: Slide) -> Iterator[Finding]:
    for field, holes in (
        ("carcass_holes", slide.carcass_holes),
        ("drawer_holes", slide.drawer_holes),
    ):
        if len(holes) < 2 or sorted(set(holes)) != list(holes) or holes[-1] >= slide.length:
            wanted = f"two holes or more, rising, all before the rear end at {slide.length:g}"
            yield field, ", ".join(f"{hole:g}" for hole in holes) or "no holes", wanted
    for field, share in (("derate_width", slide.derate_width), ("derate_open", slide.derate_open)):
        if share is not None and share > 1.0:
            yield field, f"{share:g}", "a share of the rating, such as 0.1 for a tenth"
    if slide.derate_width is not None and slide.rated_width is None:
        yield "derate_width", f"{slide.derate_width:g}", "`rated_width` beside it"


def _section_faults(section: Section) -> Iterator[Finding]:
    if section.wall is not None and 2.0 * section.wall >= min(section.width, section.height):
        yield "wall", f"{section.wall:g}", "less than half the width and half the height"


def _latch_faults(latch: LatchType) -> Iterator[Finding]:
    """What of a case does not go together: each size must lie within the one that holds it."""
    if latch.length is None or latch.width is None:
        yield "length", "no length or width", "the size of its case"
        return
    sizes = (
        ("screw_pitch", latch.screw_pitch, "width", latch.width),
        ("bolt_width", latch.bolt_width, "screw_pitch", latch.screw_pitch),
        ("screw_inset", latch.screw_inset, "length", latch.length),
        ("backset", latch.backset, "length", latch.length),
        ("bolt_height", latch.bolt_at + latch.bolt_height, "depth", latch.depth),
    )
    for field, size, within, limit in sizes:
        if size > limit:
            yield field, f"{size:g}", f"no more than its {within}, {limit:g}"
    if latch.least_panel > latch.most_panel:
        yield "least_panel", f"{latch.least_panel:g}", "no more than `most_panel`"


def _striker_faults(striker: StrikerType) -> Iterator[Finding]:
    if striker.length is None or striker.width is None:
        yield "length", "no length or width", "its size over the ears and across them"
    elif not striker.lip_width < striker.screw_pitch < striker.length:
        yield "screw_pitch", f"{striker.screw_pitch:g}", "more than the lip, less than the length"


# Edging belongs to a purpose, not to a sheet: a design gives it under boards.
OF_A_SHEET = tuple(field for field in dataclasses.fields(Board) if field.name != "edging")
SHEETS = Table("sheets", Board, OF_A_SHEET, _board_faults)
SLIDES = Table("slides", Slide, dataclasses.fields(Slide), _slide_faults)
ARTICLES = Table("articles", Article, dataclasses.fields(Article))
SECTIONS = Table("sections", Section, dataclasses.fields(Section), _section_faults)
LATCHES = Table("latches", LatchType, dataclasses.fields(LatchType), _latch_faults)
STRIKERS = Table("strikers", StrikerType, dataclasses.fields(StrikerType), _striker_faults)
ALL = (SHEETS, SLIDES, ARTICLES, SECTIONS, LATCHES, STRIKERS)
TABLES = tuple(table.name for table in ALL)


def load(overrides: Mapping[str, Mapping[str, Any]] = NO_OVERRIDES) -> Catalogue:
    """The shipped catalogue with `overrides` (table, then row name, then fields) over it.

    An override adds a row or replaces the shipped one of that name; `like: other row`
    copies the fields it does not give. Lengths in mm, the rest in the unit its field names.

    Raises:
        DesignError: with every fault, each at ("catalogue", table, row, field).
    """
    faults: list[Fault] = []
    added: dict[str, Mapping[str, object]] = {}
    for table, rows in overrides.items():
        fault = _table_fault(table, rows)
        if fault:
            faults.append(fault)
        else:
            added[table] = rows

    whole: dict[str, Mapping[str, Row]] = {}
    for table in TABLES:
        whole[table], wrong = resolve(table, _shipped(table), added.get(table, {}))
        faults += wrong

    def records(table: Table[Record]) -> Mapping[str, Record]:
        read, wrong = table.read(whole[table.name])
        faults.extend(wrong)
        return MappingProxyType(read)

    catalogue = Catalogue(
        sheets=records(SHEETS),
        slides=records(SLIDES),
        articles=records(ARTICLES),
        sections=records(SECTIONS),
        latches=records(LATCHES),
        strikers=records(STRIKERS),
    )
    known = {**whole["articles"], **added.get("articles", {})}
    faults += _missing_screws(catalogue.slides.values(), known)
    strikers = {**whole["strikers"], **added.get("strikers", {})}
    faults += _missing_strikers(catalogue.latches.values(), strikers)
    if faults:
        raise DesignError(faults)
    return catalogue


def names() -> Mapping[str, tuple[str, ...]]:
    """The row names of each shipped table, in the order of its file."""
    return {table: tuple(_shipped(table)) for table in TABLES}


@cache
def _shipped(table: str) -> Mapping[str, Row]:
    """The rows of one of the package's own files; they don't change while a program runs."""
    text = Path(__file__).with_name(f"{table}.yaml").read_text(encoding="utf-8")
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    rows: Mapping[str, Row] = yaml.load(text, Loader=loader)  # noqa: S506 (both are safe loaders)
    return MappingProxyType(rows)


def _table_fault(table: str, rows: object) -> Fault | None:
    if table not in TABLES:
        return Fault(
            path=("catalogue", table),
            found=f"{table!r}",
            expected=f"one of {', '.join(TABLES)}",
            hint=nearest(table, TABLES),
        )
    if not isinstance(rows, Mapping):
        return Fault(
            path=("catalogue", table), found=shown(rows), expected="rows, each under its name"
        )
    return None


def _missing_screws(slides: Iterable[Slide], articles: Collection[str]) -> list[Fault]:
    return [
        Fault(
            path=("catalogue", "slides", slide.key, "screw"),
            found=f"{slide.screw!r}",
            expected="the name of an article",
            hint=nearest(slide.screw, articles),
        )
        for slide in slides
        if slide.screw not in articles
    ]


def _missing_strikers(latches: Iterable[LatchType], strikers: Collection[str]) -> list[Fault]:
    return [
        Fault(
            path=("catalogue", "latches", latch.key, "striker"),
            found=f"{latch.striker!r}" if latch.striker else "no striker",
            expected="the name of a striker that its bolt catches behind",
            hint=nearest(latch.striker, strikers),
        )
        for latch in latches
        if latch.striker not in strikers
    ]
