"""The boards a design is built of: catalogue sheets at the thickness measured."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping

from fitout.catalogue.tables import DEFAULT_BOARDS, Catalogue
from fitout.model.design import BoardSpec
from fitout.model.stock import Board

MEASURED_TOLERANCE = 0.3
"""Thickness left uncertain once a board was measured, mm: half the 0.6 mm that one sanded
panel of 4 to 24 mm may vary (supplier table after EN 315)."""


def boards_of(wishes: Mapping[str, BoardSpec], catalogue: Catalogue) -> dict[str, Board]:
    """The board for every purpose: the catalogue's sheet at the thickness measured.

    A sheet measured (or priced) for one purpose is the same sheet for every other that
    says nothing else: one stack of ply, one thickness. Edging is for its own purpose only.
    """
    keys = {**DEFAULT_BOARDS, **{role: wish.sheet for role, wish in wishes.items()}}
    measured = {w.sheet: w.measured for w in wishes.values() if w.measured is not None}
    prices = {w.sheet: w.price for w in wishes.values() if w.price is not None}
    boards = {}
    for role, key in keys.items():
        board, wish = catalogue.sheets[key], wishes.get(role)
        thickness = (wish and wish.measured) or measured.get(key)
        if thickness is not None:
            board = dataclasses.replace(
                board, thickness=thickness, thickness_tolerance=MEASURED_TOLERANCE
            )
        price = prices.get(key) if wish is None or wish.price is None else wish.price
        if price is not None:
            board = dataclasses.replace(board, price=price)
        if wish is not None and wish.edging is not None:
            board = dataclasses.replace(board, edging=wish.edging)
        boards[role] = board
    return boards
