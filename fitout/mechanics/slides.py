"""Drawer slides: what share of their rating a load uses, what moves it, what screws bear."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from fitout.mechanics.boards import STANDARD_GRAVITY

ROLLING_SHARE = 0.03
"""Pull over load of a ball-bearing slide that runs (common practice: 0.02 to 0.05)."""


@dataclass(frozen=True, slots=True)
class Derating:
    """What the maker states beside the rating; None where nothing is stated.

    The rating holds for drawers up to `rated_width` mm, and loses `loss_per_100` of itself for
    each 100 mm more; fully out only `open_share` of it holds.
    """

    rated_width: float | None = None
    loss_per_100: float | None = None
    open_share: float | None = None


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


def derated_kg(rating_kg: float, width: float, derating: Derating) -> float:
    """What a pair of slides may carry fully out under a drawer `width` mm wide, kg.

    Raises:
        ValueError: on a rating or width that is not positive.

    Source: the maker's own rules; statics gives none.
    """
    if not (rating_kg > 0.0 and width > 0.0):
        raise ValueError(f"rating_kg {rating_kg:g}, width {width:g}: must be above 0")
    share = 1.0 if derating.open_share is None else derating.open_share
    if derating.rated_width is not None and derating.loss_per_100 is not None:
        wider = max(0.0, width - derating.rated_width)
        share *= max(0.0, 1.0 - derating.loss_per_100 * wider / 100.0)
    return rating_kg * share


def row_forces_n(load_n: float, at: float, places: Sequence[float]) -> tuple[float, ...]:
    """What each of a row of like screws through a stiff rail bears of a load at `at`, N.

    P / n + P (a - m) (x - m) / Σ (x - m)², m the row's middle, places in mm along the rail;
    below 0 it acts against the load.

    Raises:
        ValueError: on fewer than two places, or all at one.

    Source: elastic distribution in a group of fasteners, as in any text on joints.
    """
    if len(places) < 2:
        raise ValueError("places: two or more are needed to hold a rail")
    middle = sum(places) / len(places)
    spread = sum((x - middle) ** 2 for x in places)
    if not spread > 0.0:
        raise ValueError("places: all at one; they can't hold a rail")
    turn = (at - middle) / spread
    return tuple(load_n / len(places) + load_n * turn * (x - middle) for x in places)
