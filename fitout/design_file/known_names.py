"""The names a file may refer to, by table."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from fitout.design_file.layout import CATALOGUE_TABLES
from fitout.design_file.nodes import Node, Table, Text
from fitout.model.cutting import OTHERS
from fitout.model.design import ROLES


def left_out(node: Node | None) -> bool:
    """Whether nothing is written there."""
    return node is None or (isinstance(node, Text) and node.is_nothing)


def known_names(
    root: Node, catalogue_names: Mapping[str, Collection[str]] | None
) -> Mapping[str, tuple[str, ...] | None]:
    """The names each table holds, the file's own among them; None where that can't be judged.

    `catalogue_names` is None where the file of own rows can't be read.
    """

    def keys(node: Node | None) -> tuple[str, ...] | None:
        if node is None or isinstance(node, Table):
            return node.keys() if node is not None else ()
        return None if not left_out(node) else ()

    def under(node: Node | None, key: str) -> Node | None:
        return node.get(key) if isinstance(node, Table) else None

    own = under(root, "catalogue")
    tables: dict[str, tuple[str, ...] | None] = dict.fromkeys(CATALOGUE_TABLES)
    if catalogue_names is not None:
        for table in CATALOGUE_TABLES:
            rows = keys(under(own, table)) or ()
            tables[table] = (*catalogue_names.get(table, ()), *rows)
    sheets = tables["sheets"]
    return {
        "boards": ROLES,
        "items": keys(under(root, "items")),
        "modules": keys(under(root, "modules")),
        # Seats stand in a list, places in what is built: rules judge these.
        "seats": None,
        "places": None,
        "materials": None if sheets is None else (*sheets, *ROLES, OTHERS),
        **tables,
    }
