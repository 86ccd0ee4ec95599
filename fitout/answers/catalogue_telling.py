"""Rows of the catalogue in words, within 80 columns, as data, and as YAML to copy."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import yaml

from fitout.answers.catalogue_search import Row, by_table, kinds
from fitout.answers.telling import WIDTH
from fitout.catalogue.words import COMMON, FIELD_WORDS

COLUMNS: Mapping[str, Mapping[str, str]] = {
    "sheets": {
        "thick": "thickness",
        "±": "thickness_tolerance",
        "long": "length",
        "wide": "width",
        "kg/m³": "density_kg_m3",
        "kind": "kind",
    },
    "slides": {
        "long": "length",
        "travel": "travel",
        "kg/pair": "rating_kg",
        "a side": "side_clearance",
        "high": "height",
        "locks": "locks",
    },
    "articles": {
        "kg": "mass_kg",
        "across": "diameter",
        "long": "length",
        "hole": "clearance_hole",
        "holds N": "rating_n",
    },
    "sections": {
        "wide": "width",
        "high": "height",
        "wall": "wall",
        "sold in": "stock_length",
        "kg/m³": "density_kg_m3",
    },
    "latches": {
        "case": "length",
        "wide": "width",
        "deep": "depth",
        "hole": "clearance_hole",
        "panels from": "least_panel",
        "to": "most_panel",
        "slams": "slams",
    },
    "strikers": {"long": "length", "wide": "width", "lip": "lip", "panels from": "least_panel"},
    "items": {
        "long": "length",
        "wide": "width",
        "high": "height",
        "kg": "mass_kg",
        "holds kg": "contents_kg",
    },
}
"""What is told of each row beside its name and source, by the column's heading."""

HOLDS: Mapping[str, str] = {
    "sheets": "boards and foam, at the thickness they really have",
    "slides": "drawer slides, in pairs",
    "articles": "all bought by the piece or metre",
    "sections": "bars and tubes",
    "latches": "latches for drawers and lids",
    "strikers": "what a latch's bolt catches behind",
    "items": "what the design buys as a whole",
}

GAP = "  "
SOURCE = "source"


def tables_lines(every: Sequence[Row]) -> Iterator[str]:
    """Which tables there are, how many rows each has, and how to go on."""
    for table, mine in by_table(every):
        text = f"{table:<9}{_rows(mine):>8}   {HOLDS[table]}"
        if table == "articles":
            text += f": {', '.join(kinds(mine))}"
        yield from textwrap.wrap(text, WIDTH, subsequent_indent=" " * 20)
    yield ""
    yield from (
        "fitout catalogue sheets birch            rows of a table with these words",
        "fitout catalogue bolts                   articles of a kind",
        "fitout catalogue --row 'birch ply 12'    one row as YAML, to copy and change",
    )


def _rows(mine: Sequence[Row]) -> str:
    return f"{len(mine)} row{'' if len(mine) == 1 else 's'}"


def rows_lines(found: Sequence[Row]) -> Iterator[str]:
    """Each table's rows, and where their numbers come from."""
    sources = {text: i for i, text in enumerate(dict.fromkeys(r.record.source for r in found), 1)}
    for table, mine in by_table(found):
        yield f"{table}: {_rows(mine)}; mm unless said otherwise"
        yield ""
        yield from _grid(table, mine, sources)
        yield ""
    yield "Sources:"
    width = len(f"[{len(sources)}]")
    for text, number in sources.items():
        mark = f"{f'[{number}]':<{width}} "
        room = " " * len(mark)
        yield from textwrap.wrap(text, WIDTH, initial_indent=mark, subsequent_indent=room)


def _grid(table: str, mine: Sequence[Row], sources: Mapping[str, int]) -> Iterator[str]:
    """A table where it is narrow enough; else each row as a sentence."""
    columns = COLUMNS[table]
    head = ["name", *columns, SOURCE]
    cells = [
        [
            row.name,
            *(_cell(getattr(row.record, field)) for field in columns.values()),
            f"[{sources[row.record.source]}]",
        ]
        for row in mine
    ]
    right = [False, *(_is_number(mine, field) for field in columns.values()), False]
    widths = [max(len(line[i]) for line in (head, *cells)) for i in range(len(head))]
    if sum(widths) + len(GAP) * (len(head) - 1) > WIDTH:
        for line in cells:
            told = (f"{h} {c}" for h, c in zip(head[1:-1], line[1:-1], strict=True) if c != "-")
            text = f"{line[0]}: {', '.join(told)} {line[-1]}"
            yield from textwrap.wrap(text, WIDTH, subsequent_indent="    ")
        return
    for line in (head, *cells):
        yield GAP.join(
            c.rjust(w) if r else c.ljust(w) for c, w, r in zip(line, widths, right, strict=True)
        ).rstrip()


def _is_number(mine: Sequence[Row], field: str) -> bool:
    values = [getattr(row.record, field) for row in mine]
    return all(v is None or (isinstance(v, float) and not isinstance(v, bool)) for v in values)


def _cell(value: object) -> str:
    if value is None:
        return "-"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, float) else str(value)


def rows_object(found: Sequence[Row]) -> dict[str, object]:
    """The rows as data: every field that is known, in the units of the design file."""
    return {"rows": [{"table": r.table, "name": r.name, **r.fields()} for r in found]}


def row_yaml(row: Row) -> Iterator[str]:
    """One row as it would stand in a file of one's own, each field with what it means."""
    words = {**FIELD_WORDS[row.table], **COMMON}
    yield "# For a file of your own that a design names: `catalogue: my-catalogue.yaml`."
    yield "# Change the name (else the row takes the place of the one there is), then what"
    yield "# differs, and let the source say where your numbers come from."
    yield f"{row.table}:"
    yield f"  {_scalar(row.name)}:"
    for field, value in row.fields().items():
        if field == SOURCE:
            yield "    source: >-"
            yield from (f"      {line}" for line in textwrap.wrap(str(value), WIDTH - 6))
            continue
        line, meaning = f"    {field}: {_scalar(value)}", words[field]
        if len(line) + len(meaning) + 4 <= WIDTH:
            yield f"{line}  # {meaning}"
        else:
            yield from textwrap.wrap(
                meaning, WIDTH, initial_indent="    # ", subsequent_indent="    # "
            )
            yield line


def _scalar(value: Any) -> str:
    """A value as YAML writes it, numbers as short as they are."""
    if isinstance(value, tuple):
        return f"[{', '.join(map(_scalar, value))}]"
    if isinstance(value, float):
        return repr(int(value)) if value.is_integer() else repr(value)
    text: str = yaml.safe_dump(value, allow_unicode=True, width=1000)
    return text.splitlines()[0]
