"""Colours of materials where a solid is looked at: red, green and blue from 0 to 1, as sRGB."""

from __future__ import annotations

from fitout.model.module import Part
from fitout.model.panel import Bar, Panel

Colour = tuple[float, float, float]

COLOURS: dict[str, Colour] = {
    "plywood": (0.85, 0.72, 0.53),
    "mdf": (0.66, 0.52, 0.37),
    "foam": (0.35, 0.38, 0.42),
    "metal": (0.72, 0.74, 0.76),
    "item": (0.36, 0.50, 0.62),
}
"""By kind of board; bars are metal, bought-in items have a colour of their own."""

OTHER: Colour = (0.80, 0.80, 0.76)


def colour_of(part: Part) -> Colour:
    """The colour of what a part is made of."""
    if isinstance(part, Panel):
        return COLOURS.get(part.board.kind, OTHER)
    return COLOURS["metal" if isinstance(part, Bar) else "item"]


def material_of(part: Part) -> str:
    """What a part is made of, or bought as: its board, its section, its article or its name."""
    if isinstance(part, Panel):
        return part.board.key
    return part.section.key if isinstance(part, Bar) else part.article or part.name
