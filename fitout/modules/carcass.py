"""The carcass drawers run in: base and top; a column's sides, back, rails and toe board."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass

from fitout.model.module import Berth, JointKind, PlateDuty
from fitout.model.panel import Grain
from fitout.model.placement import across_face_rear, along, along_face_left, flat
from fitout.modules.joinery import Draft, face_screw

FRONT_GAP = 3.0
"""Gap between a front and what is beside, above or below it, mm (common practice)."""

RAIL = 60.0
"""Width of the rails between stacked drawers, mm."""

LEAST_TOE_BOARD = 25.0
"""A lower gap under the lowest front stays open, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column: the clear room between its two sides, and its name's ending."""

    suffix: str
    y0: float
    y1: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """One drawer's place: heights of its front, and the lowest its box may hang."""

    number: int
    front0: float
    front1: float
    carries_kg: float


def columns_of(count: int, berth: Berth, t: float) -> Iterator[Column]:
    """`count` equal columns side by side in a berth, with sides of thickness `t`."""
    pitch = (berth.y1 - berth.y0) / count
    for i in range(count):
        # Columns are counted from the left; each has sides of its own, so that the slides'
        # screws of two neighbours never meet in one board.
        y1 = berth.y1 - i * pitch
        suffix = "" if count == 1 else f" {('left', 'right')[i]}" if count == 2 else f" {i + 1}"
        yield Column(suffix=suffix, y0=y1 - pitch + t, y1=y1 - t)


def carcass(draft: Draft, shell: Berth, berth: Berth, columns: tuple[Column, ...]) -> None:
    """Base, top (over the fronts, from `berth.x0`), and each column's sides and back."""
    board = draft.board("carcass")
    t = board.thickness
    depth, width = shell.x1 - shell.x0, shell.y1 - shell.y0
    draft.panel("base", board, (depth, width), flat(shell.x0, shell.y0, shell.z0))
    top_board = draft.board("deck")
    draft.panel(
        "top",
        top_board,
        (berth.x1 - berth.x0, width),
        flat(berth.x0, berth.y0, berth.z1 - top_board.thickness),
        grain=Grain.ALONG_V,
        edging="rear edge rounded",
    )
    lift = shell.z1 - shell.z0 - t - top_board.thickness
    for column in columns:
        left, right = f"left side{column.suffix}", f"right side{column.suffix}"
        z = shell.z0 + t
        draft.panel(left, board, (depth, lift), along(shell.x0, column.y1 + t, z))
        draft.panel(right, board, (depth, lift), along_face_left(shell.x1, column.y0 - t, z))
        back = f"back{column.suffix}"
        clear = column.y1 - column.y0
        draft.panel(back, board, (clear, lift), across_face_rear(shell.x1, column.y1, z))
        for side, y in ((left, column.y1 + t / 2.0), (right, column.y0 - t / 2.0)):
            for plate, height_at in (("base", shell.z0), ("top", shell.z1)):
                draft.screw(plate, side, (shell.x0, y, height_at), (shell.x1, y, height_at))
            x = shell.x1 - t / 2.0
            draft.screw(side, back, (x, y, z), (x, y, z + lift))
        for plate in ("base", "top"):
            draft.join(plate, back, JointKind.FITTED)
    for a, b in itertools.pairwise(columns):
        draft.join(f"right side{a.suffix}", f"left side{b.suffix}", JointKind.SCREWED)
        draft.buy(face_screw(draft.setting, board, board), 6, "column to column")
    if shell.z0 <= draft.setting.bay.floor + 1e-6:
        draft.rest("base", "bay/floor")
    clear = columns[0].y1 - columns[0].y0
    knee = PlateDuty(
        panel=f"{draft.name}/top",
        load_kg=0.0,
        spans=(depth - t, clear),
        edges="v ends",
        purpose="a knee on the deck",
        patch=True,
    )
    draft.plates.append(knee)


def rails(draft: Draft, shell: Berth, column: Column, openings: tuple[Opening, ...]) -> None:
    """Two flat rails between each pair of stacked drawers keep the carcass square."""
    board = draft.board("carcass")
    t = board.thickness
    clear = column.y1 - column.y0
    for below in openings[:-1]:
        z = below.front1 + FRONT_GAP / 2.0 - t / 2.0
        for place, x in (("rear", shell.x0), ("front", shell.x1 - t - RAIL)):
            rail = f"{place} rail {below.number}{column.suffix}"
            draft.panel(rail, board, (RAIL, clear), flat(x, column.y0, z), grain=Grain.ALONG_V)
            for side, y in (("left", column.y1 + t / 2.0), ("right", column.y0 - t / 2.0)):
                through = f"{side} side{column.suffix}"
                middle = z + t / 2.0
                draft.screw(through, rail, (x, y, middle), (x + RAIL, y, middle))
            if place == "front":
                draft.join(rail, f"back{column.suffix}", JointKind.FITTED)


def toe_board(draft: Draft, shell: Berth, column: Column, lowest: Opening) -> None:
    """A board that closes the gap a high lip leaves under the lowest front."""
    board = draft.board("carcass")
    t = board.thickness
    z = shell.z0 + t
    height = lowest.front0 - FRONT_GAP - z
    if height < LEAST_TOE_BOARD:
        return
    name = f"toe board{column.suffix}"
    place = across_face_rear(shell.x0 + t, column.y1, z)
    draft.panel(name, board, (column.y1 - column.y0, height), place)
    draft.join(name, "base", JointKind.FITTED)
    for side, y in (("left", column.y1 + t / 2.0), ("right", column.y0 - t / 2.0)):
        x = shell.x0 + t / 2.0
        draft.screw(f"{side} side{column.suffix}", name, (x, y, z), (x, y, z + height))
