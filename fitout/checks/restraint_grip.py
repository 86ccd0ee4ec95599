"""What a bolt or screw holds with what is round it: ply under its washer, floor, thread."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from fitout.mechanics import bolts, fasteners
from fitout.mechanics.bolts import Basis
from fitout.model.restraint import HeldBy

ACROSS_MPA = 2.5
"""Strength of wood pressed across its grain, characteristic: class C24 of EN 338 (from memory).
Birch ply holds more; by how much its maker must say."""

PLY_SHARE = 0.9 / 1.2
"""Share of ply's characteristic strength for a short load: k_mod 0.9, γ_M 1.2, EN 1995-1-1
Tables 3.1 and 2.3."""

EDGE_SHARE = 0.75
"""A thread in a board's edge holds this much of one in its face: as end grain, Wood Handbook
ch. 8."""

HEAD_SHARE = 0.8
"""A countersunk head carries this share of the bolt's tension: ISO 10642 (from memory)."""

HEAD_WIDTH = 2.3
"""A countersunk head is no wider than this times the bolt: ISO 10642 (from memory)."""

SCREW_STEEL_MPA = 600.0
"""Tensile strength of a hardened wood screw's steel, at least (common practice)."""

LARGE_WASHERS = {4: 12.0, 5: 15.0, 6: 18.0, 8: 24.0, 10: 30.0, 12: 37.0}
"""Diameters of the large washers of ISO 7093-1 (from memory)."""

Share = tuple[str, float]
"""What might give way, in words, with what it holds in N or the share of that which is used."""

SCREWS = "screws between base and sides"


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What the parts of a grip hold, N: in tension, in shear, and (bolt, screw) in both at once.

    `rating_n` is what the vehicle's maker allows in any direction.
    """

    bolt: tuple[float, float] | None = None
    screw: tuple[float, float] | None = None
    pulled: tuple[Share, ...] = ()
    pushed: tuple[Share, ...] = ()
    rating_n: float | None = None

    def shares(self, tension: float, shear: float) -> Iterator[Share]:
        """How much of each part's strength a tension and a shear use."""
        if self.bolt is not None:
            yield "bolt", bolts.tension_and_shear(tension, shear, *self.bolt)
        if self.screw is not None:
            # Combined as smooth nails and screws are: EN 1995-1-1 eq. 8.28 (from memory).
            yield SCREWS, math.hypot(tension / self.screw[0], shear / self.screw[1])
        for name, most in self.pulled:
            yield name, tension / most
        for name, most in self.pushed:
            yield name, shear / most
        if self.rating_n is not None:
            yield "anchor's rating", math.hypot(tension, shear) / self.rating_n


@dataclass(frozen=True, slots=True, kw_only=True)
class Grip:
    """A bolt and what is round it. Lengths mm, strengths N/mm², forces N.

    `washer` is under its head, on a board `board` thick of mean density `density_kg_m3`; 0
    where it stands on steel. `sheet` None where the floor is not known. `plate` is the side of
    a plate beneath the floor, 0 where there is but a washer like the one above. `insert_n` is
    what an insert nut in a board beneath holds at most.
    """

    thread: str
    grade: str
    washer: float
    board: float = 0.0
    density_kg_m3: float = 0.0
    countersunk: bool = False
    into: HeldBy | None = "nut"
    tested_n: float | None = None
    sheet: float | None = None
    sheet_mpa: float = 0.0
    plate: float = 0.0
    plate_thickness: float = 3.0
    rating_n: float | None = None
    insert_n: float | None = None

    @property
    def lacks(self) -> str:
        """What must be known to say whether the vehicle's side holds, "" if it is."""
        if self.rating_n is not None or self.into is None:
            return ""
        if self.into != "nut" and self.tested_n is None:
            return "nut"
        return "" if self.sheet is not None else "sheet"

    def limits(self, basis: Basis) -> Limits:
        """What each part holds in tension and in shear, N."""
        d = bolts.diameter(self.thread)
        head = HEAD_SHARE if self.countersunk else 1.0
        pulls = head * bolts.tension_n(self.thread, self.grade, basis)
        pulled = list(self._ply_pulled(d, basis))
        pushed = list(self._ply_pushed(d, basis))
        if self.insert_n is not None:
            safety = fasteners.SCREW_RESERVE if basis == "working" else 1.0
            pulled.append(("insert nut in the board below", self.insert_n / safety))
        if self.rating_n is None and self.sheet is not None and self.into is not None:
            pulled.append(self._floor_pulled(self.sheet, basis))
            holds = fasteners.bolt_in_sheet_n(self.sheet, d, self.sheet_mpa, basis)
            pushed.append(("floor sheet beside the bolt", holds))
        return Limits(
            bolt=(pulls, bolts.shear_n(self.thread, self.grade, basis)),
            pulled=tuple(pulled),
            pushed=tuple(pushed),
            rating_n=self.rating_n,
        )

    def _ply_pulled(self, d: float, basis: Basis) -> Iterator[Share]:
        if self.board:
            share = PLY_SHARE if basis == "working" else 1.0
            let_in = self.countersunk and self.washer > HEAD_WIDTH * d
            head = "plate let into the ply" if let_in else "bolt's head in the ply"
            name = head if self.countersunk else "washer in the ply"
            yield name, share * fasteners.washer_n(ACROSS_MPA, self.washer, d)

    def _ply_pushed(self, d: float, basis: Basis) -> Iterator[Share]:
        if self.board:
            share = PLY_SHARE if basis == "working" else 1.0
            density = fasteners.LEAST_OVER_MEAN * self.density_kg_m3
            beside = fasteners.bolt_embedment_mpa(density, d) * d * self.board
            yield "ply beside the bolt", share * beside

    def _floor_pulled(self, sheet: float, basis: Basis) -> Share:
        if self.into != "nut" and self.tested_n is not None:
            safety = fasteners.AISI_SAFETY if basis == "working" else 1.0
            return f"{self.into} in the floor", self.tested_n / safety
        wide = self.plate or self.washer
        holds = fasteners.washer_through_sheet_n(sheet, wide, self.sheet_mpa, basis)
        return f"floor sheet round the {'plate' if self.plate else 'washer'} below", holds


@dataclass(frozen=True, slots=True, kw_only=True)
class Screws:
    """Screws of one joint: shank and length, the board they pass, the one they bite into.

    `upright` for screws that a pull upwards draws out of an edge; else they lie in the floor
    panel's edge and a pull upwards loads them sideways.
    """

    shank: float
    length: float
    through: float
    density_kg_m3: float
    upright: bool

    def limits(self, basis: Basis) -> Limits:
        """What a screw holds against a pull away from the floor and a push along it, N."""
        deep = self.length - self.through
        safety = fasteners.SCREW_RESERVE if basis == "working" else 1.0
        out = fasteners.withdrawal_n(self.density_kg_m3 / 1000.0, self.shank, deep)
        share = PLY_SHARE if basis == "working" else 1.0
        aside = share * self._aside(deep)
        return Limits(screw=(EDGE_SHARE / safety * out if self.upright else aside, aside))

    def _aside(self, deep: float) -> float:
        density = fasteners.LEAST_OVER_MEAN * self.density_kg_m3
        embeds = fasteners.screw_embedment_mpa(density, self.shank)
        moment = fasteners.yield_moment_nmm(SCREW_STEEL_MPA, self.shank)
        return fasteners.lateral_screw_n(
            (embeds, EDGE_SHARE * embeds), (self.through, deep), self.shank, moment
        )
