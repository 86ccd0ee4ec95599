"""Drawer slides: how much of their rating a load uses."""

from __future__ import annotations


def slide_utilisation(load_kg: float, rating_kg: float, vertical_g: float = 1.0) -> float:
    """The share of a pair's rating that a load uses: load × vertical_g / rating.

    The rating is the maker's, for the pair, side-mounted, the load spread evenly and the
    slide fully out. It holds for standing still: `vertical_g` is the whole vertical
    acceleration in g, 1 at rest, 2 where a bump adds another 1 g. Lying slides and drawers
    wider than the slide is long carry less; by how much only the maker can say.

    Raises:
        ValueError: on a negative load or acceleration, or a rating that is not positive.

    Source: statics. EN 15338 tests slides, but its results hold for the tested slide only.
    """
    if load_kg < 0.0 or vertical_g < 0.0:
        raise ValueError(f"load_kg {load_kg:g} and vertical_g {vertical_g:g} must not be negative")
    if not rating_kg > 0.0:
        raise ValueError(f"rating_kg: {rating_kg:g}; must be above 0")
    return load_kg * vertical_g / rating_kg
