"""Placing for a saw: every cut runs from edge to edge of the piece it divides."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Literal

from fitout.cutting.fits import CLOSE
from fitout.cutting.layout import Blank, Laid, Layout, Piece, sawn

Choice = Literal["least area", "least short side", "least long side"]
Split = Literal["shorter rest", "longer rest", "large piece", "even pieces", "across", "lengthwise"]
Rule = tuple[Choice, Split, bool]
"""Which free piece takes a blank, how it is then divided, whether the first sheet that can
take the blank must take it."""

CHOICES: tuple[Choice, ...] = ("least area", "least short side", "least long side")
SPLITS: tuple[Split, ...] = (
    "shorter rest",
    "longer rest",
    "large piece",
    "even pieces",
    "across",
    "lengthwise",
)
RULES: tuple[Rule, ...] = tuple(
    (choice, split, first_sheet)
    for first_sheet in (True, False)
    for choice in CHOICES
    for split in SPLITS
)


def fill(
    blanks: Sequence[Blank], size: tuple[float, float], rule: Rule, most: float = math.inf
) -> list[Layout]:
    """Lay `blanks` in the order given on as few sheets of `size` as the rule manages.

    Every blank must fit an empty sheet in one of its turns. Gives nothing where it would
    take more than `most` sheets.
    """
    choice, split, first_sheet = rule
    roots: list[Piece] = []
    free: list[list[Piece]] = []
    for blank in blanks:
        found = _best(free, blank, choice, first_sheet)
        if found is None:
            if len(roots) >= most:
                return []
            root = Piece(0.0, 0.0, *size)
            roots.append(root)
            free.append([root])
            found = _best(free[-1:], blank, choice, first_sheet)
            if found is None:
                raise ValueError(f"{blank.number} is larger than a sheet")
            found = (len(free) - 1, *found[1:])
        sheet, spot, turned = found
        pieces = free[sheet]
        piece = pieces.pop(spot)
        pieces.extend(_divided(piece, blank, turned, split))
    return [sawn(root) for root in roots]


def _best(
    free: Sequence[Sequence[Piece]], blank: Blank, choice: Choice, first_sheet: bool
) -> tuple[int, int, bool] | None:
    """Sheet, piece and turn with the least waste by `choice`; earlier ones win ties."""
    best: tuple[int, int, bool] | None = None
    least, then = math.inf, math.inf
    turns = blank.turns
    for sheet, pieces in enumerate(free):
        for spot, piece in enumerate(pieces):
            along, across = piece.length, piece.width
            for length, width, turned in turns:
                rest_length, rest_width = along - length, across - width
                if rest_length < -CLOSE or rest_width < -CLOSE:
                    continue
                if rest_length < rest_width:
                    short, long = rest_length, rest_width
                else:
                    short, long = rest_width, rest_length
                if choice == "least short side":
                    waste, next_waste = short, long
                elif choice == "least area":
                    waste, next_waste = along * across, short
                else:
                    waste, next_waste = long, short
                if waste < least or (waste == least and next_waste < then):
                    least, then, best = waste, next_waste, (sheet, spot, turned)
        if first_sheet and best is not None:
            return best
    return best


def _divided(piece: Piece, blank: Blank, turned: bool, split: Split) -> Iterator[Piece]:
    """Cut the blank out of the piece's lower left corner; yields the free pieces left."""
    length, width = (blank.width, blank.length) if turned else (blank.length, blank.width)
    rest_length, rest_width = piece.length - length, piece.width - width
    across_first = _across_first(split, (length, width), (rest_length, rest_width))
    for across in (across_first, not across_first):
        rest = rest_length if across else rest_width
        if rest <= CLOSE:
            continue
        x, y = piece.x, piece.y
        piece.across = across
        if across:
            piece.at = x + length
            piece.first = Piece(x, y, length, piece.width)
            piece.second = Piece(x + length, y, rest, piece.width)
        else:
            piece.at = y + width
            piece.first = Piece(x, y, piece.length, width)
            piece.second = Piece(x, y + width, piece.length, rest)
        yield piece.second
        piece = piece.first
    piece.laid = Laid(blank, piece.x, piece.y, turned)


def _across_first(split: Split, size: tuple[float, float], rest: tuple[float, float]) -> bool:
    """Whether the first cut runs across the piece's length."""
    if split == "across" or split == "lengthwise":
        return split == "across"
    if split == "shorter rest":
        return rest[0] > rest[1]
    if split == "longer rest":
        return rest[0] <= rest[1]
    # The strips beside and above the blank, without the corner that goes to either.
    beside, above = rest[0] * size[1], size[0] * rest[1]
    return (beside > above) == (split == "large piece")
