"""What a sheet's cut file holds for the router besides the parts: layers of marks.

TAB_0015_STANDING         where 1.5 mm of the thickness stay standing: a rectangle beside
                          the part, as wide as the bit, that its path crosses; between
                          parts close together it reaches to both, and both paths rise
LEAD_IN                   a circle of the bit's size where it may go down beside a part
HOLD_DOWN                 a circle where a screw may hold the sheet, clear of all paths
DATUM_PIN                 two circles on the sheet's middle line, only if a part is worked
                          from its far face: pins to turn the sheet over about that line
"""

from __future__ import annotations

from collections.abc import Sequence

from fitout.cutting.holding import (
    LEAST_SCREWS,
    lead_ins,
    pins,
    screws,
    worked_from_behind,
)
from fitout.cutting.plan import Sheet
from fitout.cutting.tabs import Stretch, around, tabs_of
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Loop
from fitout.model.panel import Hole, Panel

SCREW = 5.0
"""Diameter of a hold-down's mark, mm."""

PIN = 8.0
"""Diameter of a dowel pin to turn the sheet over by, mm (common practice)."""

Mark = tuple[str, Loop | Hole]


def marks(
    sheet: Sheet, panels: Sequence[Panel], mates: Sequence[Sequence[Stretch]], spec: CuttingSpec
) -> tuple[list[Mark], list[str]]:
    """The marks of a sheet that a router cuts, and what is to be said on it.

    `mates` are, for each panel, the stretches of its edge that meet other parts.
    """
    found: list[Mark] = []
    notes: list[str] = []
    standing = f"TAB_{round(spec.tabs.height * 10.0):04d}_STANDING"
    size = (sheet.board.length, sheet.board.width)
    tabs = [
        tab
        for panel, near, meets in zip(panels, around(panels, spec, size), mates, strict=True)
        for tab in tabs_of(panel, spec, near, meets)
    ]
    found += [(standing, tab) for tab in tabs]
    starts = lead_ins(panels, spec, tabs)
    found += [("LEAD_IN", Hole(*at, spec.kerf)) for at in starts if at is not None]
    if None in starts:
        notes.append(f"no room to lead in beside {starts.count(None)} part(s): plunge on the path")
    held = screws(sheet, panels, spec)
    found += [("HOLD_DOWN", Hole(*at, SCREW)) for at in held]
    if len(held) < LEAST_SCREWS:
        notes.append("little room for hold-down screws: clamp, or hold by vacuum")
    if worked_from_behind(panels):
        both = pins(sheet, panels, spec)
        if both is None:
            notes.append("worked from both faces, no room for datum pins: mark a datum edge")
        else:
            found += [("DATUM_PIN", Hole(*at, PIN)) for at in both]
            notes.append("worked from both faces: drill DATUM_PIN first, turn over about them")
    return found, notes
