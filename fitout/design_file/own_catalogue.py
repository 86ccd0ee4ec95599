"""A design file read with a builder's own catalogue: a file beside it that designs may share."""

from __future__ import annotations

import dataclasses
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from fitout import catalogue
from fitout.design_file.beside import read_beside, there
from fitout.design_file.files import file_text
from fitout.design_file.layout import CATALOGUE_TABLES, CatalogueFile
from fitout.design_file.messages import located
from fitout.design_file.nodes import Node, Table, Text, parse, walk
from fitout.design_file.reader import read_record, read_root
from fitout.design_file.scalars import plain
from fitout.model.design import Design, ModuleSpec
from fitout.model.fault import DesignError, Fault
from fitout.model.fault import Path as Keys

PLACE: Keys = ("catalogue",)
WANTED = "the name of a file beside the design, with rows of your own"
HELD = "rows by table and name"
SOURCE_HINT = "For example source: maker's sheet of 2026, or source: measured with a calliper."

Rows = Mapping[str, Mapping[str, Any]]


def read_file(
    path: str | Path,
    specs: Mapping[str, type[ModuleSpec]],
    catalogue_names: Mapping[str, Collection[str]],
) -> Design:
    """The design in a file, with the rows of the catalogue file it names; see `read_text`.

    Raises:
        DesignError: with every fault found in both; with one when the file itself can't be read.
    """
    root, form = parse(file_text(path).removeprefix("\ufeff"))
    if root is None:
        raise DesignError(form)
    own = own_catalogue(root, Path(path))
    try:
        design = read_root(root, form, str(path), specs, own.names(catalogue_names))
    except DesignError as error:
        raise DesignError([*error.faults, *own.faults]) from None
    if own.faults:
        raise DesignError(own.faults)
    if not own.file or own.rows is None:
        return design
    return dataclasses.replace(design, catalogue=own.rows, beside=(own.file,))


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnCatalogue:
    """What a file of rows holds: rows by table and name, None if unreadable, and every fault."""

    file: str = ""
    rows: Rows | None = field(default_factory=dict)
    faults: tuple[Fault, ...] = ()

    def names(self, shipped: Mapping[str, Collection[str]]) -> Mapping[str, tuple[str, ...]] | None:
        """The row names of each table, the file's own behind the shipped; None if not known."""
        if self.rows is None:
            return None
        return {
            table: (*names, *(name for name in self.rows.get(table, {}) if name not in names))
            for table, names in shipped.items()
        }


def own_catalogue(root: Node, design: Path) -> OwnCatalogue:
    """The rows of the file that a design names under `catalogue`; none where it names none.

    Nothing is raised: faults are handed back, to be told together with the design's own.
    """
    node = root.get("catalogue") if isinstance(root, Table) else None
    if not isinstance(node, Text) or node.is_nothing:
        return OwnCatalogue()
    try:
        text = read_beside(design, node.value, PLACE, WANTED)
    except DesignError as error:
        faults = tuple(located(fault, {PLACE: node.place}) for fault in error.faults)
        return OwnCatalogue(rows=None, faults=faults)
    rows, faults = rows_of(text)
    return OwnCatalogue(file=node.value, rows=rows, faults=there(faults, node.value, text))


def rows_of(text: str) -> tuple[Rows | None, tuple[Fault, ...]]:
    """The rows a text holds, by table and name, and every fault with its place in the text.

    Faulty rows are among them, so that a design may name them without a second fault; None
    where the text can't be followed.
    """
    if not text.strip():
        return None, (Fault(path=(), found="an empty file", expected=HELD, line=1, column=1),)
    root, faults = parse(text.removeprefix("\ufeff"))
    if root is None:
        return None, faults
    _, faults = read_record(text, CatalogueFile, {})
    rows: Rows = {}
    if isinstance(root, Table):
        rows = {
            table: plain(node)
            for table, _, node in root.entries
            if table in CATALOGUE_TABLES and isinstance(node, Table)
        }
    found = _without_source(rows)
    try:
        catalogue.load(rows)
    except DesignError as error:
        found += [dataclasses.replace(fault, path=fault.path[1:]) for fault in error.faults]
    places = {path: node.label for path, node in walk(root)}
    told = {fault.line for fault in faults}
    further = (located(fault, places) for fault in found)
    # A row of the wrong form was told already.
    return rows, (*faults, *(fault for fault in further if fault.line not in told))


def _without_source(rows: Rows) -> list[Fault]:
    """What is kept for many designs must still say years later where it came from."""
    return [
        Fault(
            path=(table, name),
            found=f"no source for {name}",
            expected="where its numbers come from",
            hint=SOURCE_HINT,
        )
        for table, named in rows.items()
        for name, row in named.items()
        if isinstance(row, Mapping) and not row.get("source")
    ]
