"""Boards and panels for the cutting tests."""

from collections.abc import Callable

import pytest

from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Grain, Panel
from fitout.model.placement import flat
from fitout.model.stock import Board

MakePanel = Callable[..., Panel]


@pytest.fixture(scope="session")
def ply() -> Board:
    return Board(
        key="ply 12",
        nominal=12.0,
        thickness=11.8,
        thickness_tolerance=0.4,
        density_kg_m3=680.0,
        length=2440.0,
        width=1220.0,
        price=100.0,
    )


@pytest.fixture(scope="session")
def make(ply: Board) -> MakePanel:
    """make(length, width, name=..., grain=..., **other fields) -> a plain panel."""

    def made(length: float = 700.0, width: float = 300.0, **fields: object) -> Panel:
        settings: dict[str, object] = {
            "name": "panel",
            "module": "box",
            "outline": Outline(rectangle(length, width)),
            "board": ply,
            "placement": flat(0.0, 0.0, 0.0),
            "grain": Grain.ALONG_U,
        }
        return Panel(**(settings | fields))

    return made
