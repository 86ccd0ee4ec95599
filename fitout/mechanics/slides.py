"""Drawer slides: how much of their rating a load uses, and what pull moves it."""

from __future__ import annotations

import math

from fitout.mechanics.boards import STANDARD_GRAVITY

ROLLING_SHARE = 0.03
"""Pull over load of a ball-bearing slide that runs (common practice: 0.02 to 0.05)."""


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


def pull_n(mass_kg: float, rolling_share: float, slope_deg: float = 0.0) -> float:
    """Force, N, that keeps a load moving on slides, up a slope of `slope_deg` degrees.

    m g (rolling_share cos slope + sin slope): below 0 the load runs down by itself and must be
    held back by so much. Starting it takes more: detents and latches are not in it.

    Raises:
        ValueError: on a negative mass or share, or a slope not within 90 degrees of level.

    Source: statics of a load on an incline; the share is the maker's or common practice.
    """
    if mass_kg < 0.0 or rolling_share < 0.0:
        raise ValueError(f"mass_kg {mass_kg:g}, rolling_share {rolling_share:g}: below 0")
    if not -90.0 <= slope_deg <= 90.0:
        raise ValueError(f"slope_deg: {slope_deg:g}; must be from -90 to 90")
    slope = math.radians(slope_deg)
    return mass_kg * STANDARD_GRAVITY * (rolling_share * math.cos(slope) + math.sin(slope))


def slope_of_pull_deg(mass_kg: float, rolling_share: float, most_n: float) -> float:
    """The steepest slope, degrees, up which a pull of `most_n` N moves a load on slides.

    Solves `pull_n` for the slope: with tan p = rolling_share, sin(slope + p) =
    most_n cos p / (m g). 90 where the pull lifts the load; below 0 where even a level floor
    asks for more.

    Raises:
        ValueError: on a mass that is not positive or a negative share or pull.
    """
    if not mass_kg > 0.0 or rolling_share < 0.0 or most_n < 0.0:
        raise ValueError(f"mass_kg {mass_kg:g}, rolling_share {rolling_share:g}, most_n {most_n:g}")
    friction = math.atan(rolling_share)
    share = most_n * math.cos(friction) / (mass_kg * STANDARD_GRAVITY)
    return 90.0 if share >= 1.0 else math.degrees(math.asin(share) - friction)
