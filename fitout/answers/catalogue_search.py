"""Which rows of the catalogue are meant: a table, a kind of article, words in a row."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from fitout.catalogue import Catalogue
from fitout.catalogue.tables import ALL
from fitout.design_file.messages import nearest
from fitout.model.design import Design

ARTICLES, ITEMS = "articles", "items"
FIELDS = {
    **{t.name: tuple(field.name for field in t.fields if field.name != "key") for t in ALL},
    ITEMS: ("length", "width", "height", "mass_kg", "contents_kg", "price", "source"),
}
"""The fields of a row of each table, in their order."""

MUST = {
    t.name: {field.name for field in t.fields if field.default is dataclasses.MISSING} for t in ALL
}
"""Those that must be given, if only as nothing: a solid bar has no wall."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """What a design buys as a whole, as the other tables tell theirs: mm, kg."""

    length: float
    width: float
    height: float
    mass_kg: float
    contents_kg: float | None
    price: float | None
    source: str


@dataclass(frozen=True, slots=True)
class Row:
    """One row: the table it stands in, its name, its record."""

    table: str
    name: str
    record: Any

    def fields(self) -> dict[str, Any]:
        """Every field that is known or must be given, the source last."""
        must = MUST.get(self.table, set())
        told = {field: getattr(self.record, field) for field in FIELDS[self.table]}
        source = told.pop("source")
        known = {f: v for f, v in told.items() if v is not None or f in must}
        return {**known, "source": source}

    @property
    def label(self) -> str:
        """What a search looks at first: name, kind, and the table it stands in."""
        kind = getattr(self.record, "kind", "")
        return f"{self.name} {kind} {self.table}".casefold()


class UnknownRowError(Exception):
    """No row is called so, or has such words; the message says what there is instead."""


def rows(catalogue: Catalogue, design: Design | None = None) -> tuple[Row, ...]:
    """Every row, table by table, the items of a design last."""
    bought = tuple(
        Row(table.name, name, record)
        for table in ALL
        for name, record in getattr(catalogue, table.name).items()
    )
    return bought if design is None else (*bought, *_items(design))


def _items(design: Design) -> Iterator[Row]:
    for name, item in design.items.items():
        line, _ = design.sources.get((ITEMS, name), (None, None))
        weighed = "weighed" if item.weighed_to is not None else "entered"
        yield Row(
            ITEMS,
            name,
            Item(
                length=item.size.length,
                width=item.size.width,
                height=item.size.height,
                mass_kg=item.mass,
                contents_kg=item.contents,
                price=item.price,
                source=f"{weighed}, {design.file} line {line}",
            ),
        )


def search(every: Sequence[Row], words: Sequence[str]) -> tuple[Row, ...]:
    """The rows of the table or kind that the first word names, with all other words in them.

    Without such a first word every table is searched. Words are looked for in name and kind;
    where no row has them all, in the sources too.

    Raises:
        UnknownRowError: when there is no such row.
    """
    if not words:
        return tuple(every)
    shelf = _shelf(every, words[0])
    rest = [word.casefold() for word in (words if shelf is None else words[1:])]
    among = every if shelf is None else shelf
    labelled = tuple(row for row in among if all(word in row.label for word in rest))
    if labelled:
        return labelled
    sourced = tuple(
        row
        for row in among
        if all(word in f"{row.label} {row.record.source.casefold()}" for word in rest)
    )
    if sourced:
        return sourced
    raise UnknownRowError(_nothing(every, among, words, shelf is not None))


def row_named(every: Sequence[Row], name: str, table: str | None = None) -> Row:
    """The row of that name that a file can hold, in the table or kind if one is said.

    Raises:
        UnknownRowError: when there is none.
    """
    every = tuple(row for row in every if row.table != ITEMS)
    among = every if table is None else _shelf(every, table)
    if among is None:
        raise UnknownRowError(_no_table(every, table or ""))
    for row in among:
        if row.name.casefold() == name.casefold():
            return row
    raise UnknownRowError(f"no row is called {name!r}. {_near(name, (r.name for r in among))}")


def kinds(every: Iterable[Row]) -> tuple[str, ...]:
    """The kinds of articles, in the order of their table."""
    return tuple(dict.fromkeys(row.record.kind for row in every if row.table == ARTICLES))


def _shelf(every: Sequence[Row], word: str) -> tuple[Row, ...] | None:
    """The rows of a table, or of articles whose kind ends so; None where neither is called so."""
    asked = _one(word)
    for table in FIELDS:
        if asked == _one(table):
            return tuple(row for row in every if row.table == table) or None
    found = tuple(
        row
        for row in every
        if row.table == ARTICLES and f" {_one(row.record.kind)}".endswith(f" {asked}")
    )
    return found or None


def _one(word: str) -> str:
    """A word as it is said of one thing: bolts and bolt are the same."""
    plain = word.casefold().replace("_", " ").replace("-", " ").strip()
    for many, one in (("ches", "ch"), ("xes", "x"), ("s", "")):
        if plain.endswith(many) and not plain.endswith("ss"):
            return plain.removesuffix(many) + one
    return plain


def _nothing(
    every: Sequence[Row], among: Sequence[Row], words: Sequence[str], in_table: bool
) -> str:
    if in_table:
        said = " ".join(words[1:])
        near = nearest(said, tuple(row.name for row in among)) or _near_words(among, words[1:])
        known = f"Did you mean {' or '.join(near)}?" if near else f"It has {len(among)} rows."
        return f"no row of {words[0]} has {said!r}. {known}"
    if len(words) == 1:
        return _no_table(every, words[0])
    return f"no row has {' '.join(words)!r}. {_near(' '.join(words), (r.name for r in every))}"


def _no_table(every: Sequence[Row], word: str) -> str:
    if _one(word) == _one(ITEMS):
        return "items are each design's own; add `--design my-car.yaml` to see them."
    tables = tuple(table for table in FIELDS if table != ITEMS)
    near = nearest(word, (*tables, *kinds(every), *(row.name for row in every)))
    known = f"Did you mean {' or '.join(near)}?" if near else f"Tables: {', '.join(tables)}."
    return f"no table, kind or row is called {word!r}. {known}"


def _near_words(among: Sequence[Row], words: Sequence[str]) -> tuple[str, ...]:
    known = tuple(dict.fromkeys(word for row in among for word in row.label.split()))
    return tuple(near for word in words if word.casefold() not in known
                 for near in nearest(word, known)[:1])  # fmt: skip


def _near(name: str, names: Iterable[str]) -> str:
    near = nearest(name, tuple(names))
    return f"Did you mean {' or '.join(near)}?" if near else "Search with a word of its name."


def by_table(found: Iterable[Row]) -> Iterator[tuple[str, tuple[Row, ...]]]:
    """The rows of each table that has any."""
    kept = tuple(found)
    for table in FIELDS:
        mine = tuple(row for row in kept if row.table == table)
        if mine:
            yield table, mine
