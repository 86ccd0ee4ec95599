"""Sheets that would do instead, and where a design chooses a panel's board."""

import dataclasses
from collections.abc import Callable
from typing import Any

import pytest

from fitout import catalogue
from fitout.checks.remedies import board_entry, larger_sheets, thicker_sheets
from fitout.model.panel import Grain

Make = Callable[..., Any]
SPAN = (0.0, 600.0)


@pytest.fixture
def sheets() -> Any:
    return catalogue.load({}).sheets


@pytest.mark.parametrize(
    ("sheet", "thicker"),
    [
        ("birch ply 15", ["birch ply 18", "birch ply 21", "birch ply 24"]),
        ("birch ply 12 square", ["birch ply 15 square", "birch ply 18 square"]),
        ("film-faced birch ply 12", ["film-faced birch ply 15"]),
        ("birch ply 24", []),
        ("mdf 12", ["mdf 18"]),
    ],
)
def test_thicker_sheets_of_the_same_sort(
    subject: Make, module: Make, sheets: Any, sheet: str, thicker: list[str]
) -> None:
    found = thicker_sheets(subject(module("a")), sheets[sheet])
    assert [board.key for board in found] == thicker


def test_a_sheet_measured_thin_is_not_its_own_remedy(
    subject: Make, module: Make, sheets: Any
) -> None:
    thin = dataclasses.replace(sheets["birch ply 18"], thickness=16.0)
    found = thicker_sheets(subject(module("a")), thin)
    assert [board.key for board in found] == ["birch ply 21", "birch ply 24"]


@pytest.mark.parametrize(
    ("size", "grain", "larger"),
    [
        ((1300.0, 1300.0), Grain.ALONG_U, ["birch ply 12 square"]),
        ((800.0, 1300.0), Grain.ALONG_U, ["birch ply 12 square"]),
        ((800.0, 1300.0), Grain.EITHER, ["birch ply 12 square", "birch ply 12"]),
        ((1600.0, 1300.0), Grain.ALONG_U, []),
    ],
)
def test_larger_sheets_of_the_same_make(
    subject: Make, module: Make, panel: Make, sheets: Any, size: Any, grain: Grain, larger: Any
) -> None:
    """However thick the stack was measured."""
    board = dataclasses.replace(sheets["birch ply 12"], thickness=11.8, price=40.0)
    part = panel("a/top", (0.0, size[0]), (0.0, size[1]), board=board, grain=grain)
    found = larger_sheets(subject(module("a", part)), part)
    assert [sheet.key for sheet in found] == larger


@pytest.mark.parametrize(
    ("name", "sheet", "kind", "entry"),
    [
        ("drawer 1 bottom left", "birch ply 6.5", "drawers", "`boards: bottom:`"),
        ("top", "birch ply 12", "drawers", "`boards: deck:`"),
        ("base", "birch ply 12", "drawers", "`boards: carcass:`"),
        ("drawer 2 front", "birch ply 12", "drawers", "`boards: front:`"),
        ("shelf", "birch ply 12", "barrier", "`boards: barrier:`"),
        ("layer 1", "closed-cell foam 30", "seat tray", "`boards: foam:`"),
        ("base", "birch ply 6.5", "seat tray", "`boards: tray:`"),
        ("shelf", "birch ply 6.5", "box", "under `boards:`, for bottom or tray"),
        ("shelf", "birch ply 15", "box", "under `boards:`"),
    ],
)
def test_where_a_panels_board_is_chosen(
    subject: Make,
    module: Make,
    panel: Make,
    sheets: Any,
    name: str,
    sheet: str,
    kind: str,
    entry: str,
) -> None:
    part = panel(f"a/{name}", SPAN, SPAN, board=sheets[sheet])
    assert board_entry(subject(module("a", part, kind=kind)), part) == entry
