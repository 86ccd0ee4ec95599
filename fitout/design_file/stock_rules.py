"""Faults of meaning about what sheets are cut with and from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from fitout.catalogue.tables import DEFAULT_BOARDS
from fitout.design_file.parts import Parts
from fitout.model.cutting import OTHERS, CuttingSpec, StockSpec
from fitout.model.design import BoardSpec
from fitout.model.fault import Fault, Path


def tools(parts: Parts) -> Iterator[Fault]:
    """A sheet that serves several purposes is cut one way: its parts share sheets."""
    cutting = parts.record(CuttingSpec, "cutting")
    if cutting is None or not isinstance(cutting.by, Mapping):
        return
    # Of a purpose that was written but not read the sheet is not known.
    sheets = {r: s for r, s in DEFAULT_BOARDS.items() if not parts.has("boards", r)}
    for role in parts.names("boards"):
        board, sheet = parts.record(BoardSpec, "boards", role), parts.values.get(("boards", role))
        if board is not None:
            sheets[role] = board.sheet
        elif isinstance(sheet, str):
            sheets[role] = sheet
    first: dict[str, tuple[str, str]] = {}
    for name, way in cutting.by.items():
        if name == OTHERS:
            continue
        sheet = sheets.get(name, name)
        other, before = first.setdefault(sheet, (name, way))
        if way != before:
            yield Fault(
                path=("cutting", "by", name),
                found=f"{way} for {name}",
                expected=f"{before}, as for {other}: both are cut from {sheet}",
                hint="Parts of one sheet lie on it together. Choose another sheet for one of them.",
            )


def no_stock(parts: Parts) -> Iterator[Fault]:
    """A list of sizes holds one at least; none at all is told by leaving the material out."""
    stock = parts.record(StockSpec, "stock")
    if stock is None:
        return
    for group, listed in (("sheets", stock.sheets or {}), ("bars", stock.bars or {})):
        for name, sizes in listed.items():
            if not sizes:
                path: Path = ("stock", group, name)
                hint = f"Leave {name} out to buy as many as it takes."
                yield Fault(path=path, found="no size", expected="one size or more", hint=hint)


RULES = (tools, no_stock)
