"""The catalogue for those who write a design: the fields of a row, the names there are."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from typing import Any

from fitout.catalogue.tables import ALL
from fitout.catalogue.words import COMMON, FIELD_WORDS
from fitout.design_file.entry_words import wrapped

TABLES = {table.name: table for table in ALL}

COLUMNS: Mapping[str, Mapping[str, str]] = {
    "sheets": {
        "thickness": "thickness",
        "±": "thickness_tolerance",
        "length": "length",
        "width": "width",
        "kg/m³": "density_kg_m3",
        "kind": "kind",
    },
    "slides": {
        "length": "length",
        "travel": "travel",
        "pair carries, kg": "rating_kg",
        "room a side": "side_clearance",
        "height": "height",
        "locks": "locks",
    },
    "sections": {
        "width": "width",
        "height": "height",
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
        "striker": "striker",
    },
    "strikers": {"length": "length", "width": "width", "lip": "lip", "panels from": "least_panel"},
}
"""What is told of each row beside its name, by the column's heading."""


def field_lines(table: str) -> str:
    """The fields of a row, each with its meaning and what holds when it is left out."""
    words = {**FIELD_WORDS[table], **COMMON}
    return "\n".join(
        wrapped(f"- `{field.name}`: {words[field.name]}. {_left_out(field)}")
        for field in TABLES[table].fields
        if field.name != "key"
    )


def _left_out(field: dataclasses.Field[Any]) -> str:
    if field.name == "source":
        return "Left out: given in the design."
    if field.default is dataclasses.MISSING:
        return "Must be given."
    return f"Left out: {'not known' if field.default is None else f'`{_shown(field.default)}`'}."


def name_table(table: str, rows: Mapping[str, Any]) -> str:
    """The names of a table's rows with what tells them apart; articles by their kind."""
    if table == "articles":
        kinds = dict.fromkeys(row.kind for row in rows.values())
        return _markdown(
            ("kind", "names"),
            [
                (kind, "; ".join(name for name, row in rows.items() if row.kind == kind))
                for kind in kinds
            ],
        )
    columns = COLUMNS[table]
    return _markdown(
        ("name", *columns),
        [
            (name, *(_shown(getattr(row, field)) for field in columns.values()))
            for name, row in rows.items()
        ],
    )


def _shown(value: Any) -> str:
    if value is None:
        return "–"
    if isinstance(value, bool):
        return "true" if value else "false"
    return f"{value:g}" if isinstance(value, float) else str(value)


def _markdown(head: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """A Markdown table whose columns also line up as plain text."""
    widths = [max(len(row[i]) for row in (head, *rows)) for i in range(len(head))]
    # The last column is left ragged: a long cell would widen every row.
    widths[-1] = len(head[-1])

    def line(cells: Sequence[str]) -> str:
        return f"| {' | '.join(c.ljust(w) for c, w in zip(cells, widths, strict=True))} |"

    return "\n".join([line(head), f"|{'|'.join('-' * (w + 2) for w in widths)}|", *map(line, rows)])
