"""What the fields of a catalogue row mean, for those who write rows of their own."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

COMMON: Mapping[str, str] = MappingProxyType(
    {
        "price": "what one costs, in your own money",
        "source": "where the numbers come from",
    }
)

ARTICLE: Mapping[str, str] = MappingProxyType(
    {
        "kind": "bolt, hinge, strap, or what else it is",
        "mass_kg": "mass of one, kg",
        "diameter": "its diameter, mm",
        "length": "its length, mm",
        "width": "its width, or its head's, mm",
        "clearance_hole": "the hole in the part it passes through, mm",
        "pilot_hole": "the hole in the part it bites into or sits in, mm",
        "rating_n": "the force it may carry, N",
        "stroke": "how much shorter a stay gets as it closes, mm",
    }
)

FIELD_WORDS: Mapping[str, Mapping[str, str]] = MappingProxyType(
    {
        "sheets": MappingProxyType(
            {
                "nominal": "the thickness it is sold by, mm",
                "thickness": "the thickness it really has, mm",
                "thickness_tolerance": "how far that may be off, ± mm",
                "density_kg_m3": "mass of a cubic metre, kg",
                "length": "the sheet's size along the face grain, mm",
                "width": "the sheet's size across the face grain, mm",
                "grain": "true if parts must keep to the grain",
                "kind": "plywood, foam, or what else it is",
                "e_along_mpa": "stiffness in bending along the grain, N/mm²",
                "e_across_mpa": "stiffness in bending across the grain, N/mm²",
                "shear_mpa": "shear stiffness in the sheet's plane, N/mm²",
                "strength_along_mpa": "bending strength along the grain, N/mm²",
                "strength_across_mpa": "bending strength across the grain, N/mm²",
            }
        ),
        "slides": MappingProxyType(
            {
                "length": "length when shut, mm",
                "travel": "how far the drawer comes out, mm",
                "rating_kg": "what a pair carries fully out, kg",
                "side_clearance": "room for one slide between drawer side and carcass, mm",
                "height": "height of the slide, mm",
                "mass_pair_kg": "mass of a pair, kg",
                "locks": "true if it locks in and out",
                "carcass_holes": "screw holes in the carcass, from the slide's front end, mm",
                "drawer_holes": "screw holes in the drawer, from the slide's front end, mm",
                "screw": "the article it is screwed on with",
                "rolling_share": "the pull that moves it over the load it carries",
                "rated_width": "the widest drawer its rating holds for, mm",
                "derate_width": "the share of its rating lost per 100 mm more (0.1 is a tenth)",
                "derate_open": "the share of its rating that holds fully out, where the rating is "
                "for a shut drawer",
                "lock_n": "what the locks of the pair hold along the slides, N",
            }
        ),
        "articles": ARTICLE,
        "latches": MappingProxyType(
            {
                **ARTICLE,
                "kind": "latch",
                "length": "its case along the bolt, from the end the bolt comes out of, mm",
                "width": "its case across the bolt, over the ears with the holes, mm",
                "clearance_hole": "the hole for button or spindle; null for a lever behind, mm",
                "rating_n": "what its bolt holds, N",
                "depth": "how far the case stands off the panel, mm",
                "throw": "how far the bolt reaches beyond the case, mm",
                "bolt_width": "width of the bolt, mm",
                "bolt_height": "thickness of the bolt, off the panel, mm",
                "bolt_at": "from the panel to the bolt's near side, mm",
                "screw_pitch": "distance between its two fixing holes, mm",
                "screw_inset": "from the bolt's end to the line through those holes, mm",
                "backset": "from the bolt's end to the middle of button, spindle or lever, mm",
                "least_panel": "the thinnest panel it serves, mm",
                "most_panel": "the thickest, all that the button passes counted together, mm",
                "stands_out": "how far it stands out in front when shut, mm",
                "slams": "true if it catches by itself, false if it must be turned",
                "striker": "the striker its bolt catches behind",
            }
        ),
        "strikers": MappingProxyType(
            {
                **ARTICLE,
                "kind": "striker",
                "length": "its length over the ears, mm",
                "width": "its width across them, mm",
                "lip": "how far its lip stands off the panel, mm",
                "lip_width": "width of the lip, mm",
                "lip_thickness": "thickness of the lip, mm",
                "screw_pitch": "distance between its two fixing holes, mm",
                "screw_inset": "from the lip's catching face to the line through the holes, mm",
                "least_panel": "the thinnest panel that holds it, mm",
            }
        ),
        "sections": MappingProxyType(
            {
                "width": "outer width, mm",
                "height": "outer height, mm",
                "wall": "thickness of the wall, mm; null for a solid bar",
                "density_kg_m3": "mass of a cubic metre, kg",
                "stock_length": "the length it is sold in, mm",
                "yield_mpa": "yield strength, N/mm²",
                "e_mpa": "stiffness, N/mm²",
            }
        ),
    }
)
"""What each field of each table means; `COMMON` holds those that every table has."""
