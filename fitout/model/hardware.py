"""Rows of the hardware catalogue and the lines of a hardware list."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Slide:
    """A pair of drawer slides. `holes` are distances from the slide's front end.

    `side_clearance` is the room one slide takes between drawer side and carcass;
    `travel` how far the drawer comes out; `rating_kg` is per pair, side-mounted, evenly
    spread, fully out. The screw holes lie on the slide's centre line.
    """

    key: str
    length: float
    travel: float
    rating_kg: float
    side_clearance: float
    height: float
    mass_pair_kg: float
    locks: bool
    carcass_holes: tuple[float, ...]
    drawer_holes: tuple[float, ...]
    screw: str
    price: float | None = None
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Article:
    """Any other bought hardware: hinges, stays, bolts, screws, latches, feet, straps."""

    key: str
    kind: str
    mass_kg: float
    diameter: float | None = None
    length: float | None = None
    width: float | None = None
    clearance_hole: float | None = None
    pilot_hole: float | None = None
    rating_n: float | None = None
    price: float | None = None
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class HardwareLine:
    """How many of an article a module needs, and what for."""

    article: str
    quantity: int
    module: str
    purpose: str
