"""Rows of the hardware catalogue and the lines of a hardware list."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Slide:
    """A pair of drawer slides. `holes` are distances from the slide's front end.

    `side_clearance` is the room one slide takes between drawer side and carcass;
    `travel` how far the drawer comes out; `rating_kg` is per pair, side-mounted, evenly
    spread, fully out. The screw holes lie on the slide's centre line. `rolling_share` is the
    pull that moves it over the load it carries, `lock_n` what the locks of the pair hold along
    the slides; None where the maker does not say.

    What the maker states of the rating besides: it holds for drawers up to `rated_width`, each
    100 mm more take off `derate_width` of it (0.1 is a tenth), and where it is for a shut
    drawer, `derate_open` is the share of it that holds fully out. None where nothing is stated.
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
    rolling_share: float | None = None
    rated_width: float | None = None
    derate_width: float | None = None
    derate_open: float | None = None
    lock_n: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Article:
    """Any other bought hardware: hinges, stays, bolts, screws, latches, feet, straps.

    `stroke` is by how much a stay gets shorter than its `length` as it closes.
    """

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
    stroke: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LatchType(Article):
    """A latch whose case is bolted to the moving panel, its bolt thrown along the panel's face.

    Lengths are seen on the case as it is mounted. `length` runs along the bolt, from the case's
    end where it comes out; `width` is across it, over the ears with the two fixing holes; `depth`
    is how far the case stands off the panel. The bolt reaches `throw` beyond the case, is
    `bolt_width` wide and lies from `bolt_at` to `bolt_at + bolt_height` off the panel. The fixing
    holes lie `screw_inset` from the bolt's end and `screw_pitch` apart, `backset` is from the
    bolt's end to its button, spindle or lever. `clearance_hole` is what button or spindle pass
    through, None for a latch opened from behind through a finger hole. Panels from `least_panel`
    to `most_panel` thick serve, counted together where the button passes several. It stands
    `stands_out` in front of the front when shut; `slams` if it catches by itself, and must be
    turned by hand if not. `rating_n` is what the bolt holds.
    """

    depth: float
    throw: float
    bolt_width: float
    bolt_height: float
    bolt_at: float
    screw_pitch: float
    screw_inset: float
    backset: float
    least_panel: float
    most_panel: float
    stands_out: float
    slams: bool
    striker: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StrikerType(Article):
    """A striker: ears bolted to a panel's face, between them a lip that the bolt catches behind.

    `length` is over the ears, `width` across them; the lip is `lip_width` wide, `lip_thickness`
    thick and stands `lip` off the face. Its catching face is one of its two long sides. The
    fixing holes lie `screw_inset` beyond that face, `screw_pitch` apart. A panel from
    `least_panel` on holds it.
    """

    lip: float
    lip_width: float
    lip_thickness: float
    screw_pitch: float
    screw_inset: float
    least_panel: float


@dataclass(frozen=True, slots=True, kw_only=True)
class HardwareLine:
    """How many of an article a module needs, and what for."""

    article: str
    quantity: int
    module: str
    purpose: str
