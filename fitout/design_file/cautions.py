"""Doubts about a design that was read: numbers that look like a slip of unit.

A caution stops nothing; the builder looks at the tape again.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fitout.design_file.messages import located
from fitout.design_file.parts import Parts, parts_of
from fitout.design_file.vehicle_doubts import vehicle
from fitout.model.cutting import CuttingSpec
from fitout.model.design import Design, ItemSpec, OpeningSpec, Sides
from fitout.model.fault import Fault, Path
from fitout.model.spec import Measured

SLIP = 4.0
"""A number this many times larger or smaller than its like is taken for a slip of unit."""

LEAST_BAY = 300.0
LARGEST_BAY = 4000.0
COARSEST_TOLERANCE = 25.0
LARGEST_ITEM = 2500.0
HEAVIEST_ITEM_KG = 300.0
SMALL_ITEM = 120.0
LIGHTEST_SMALL_ITEM_KG = 3.0
"""What is smaller than the one in every direction and heavier than the other was given in cm
(common practice: 3 kg in such a cube is heavier than water)."""

WIDEST_KERF = 12.0
MOST_TO_SCRIBE = 30.0
"""What is left on to be scribed is a few millimetres; no wall is so uneven (common practice)."""

FARTHEST_FROM_SILL = 150.0
MM3_PER_LITRE = 1e6


def cautions(design: Design) -> tuple[Fault, ...]:
    """Every doubt about the numbers of a design, located where its sources are known."""
    parts = parts_of(design)
    found = (doubt for rule in RULES for doubt in rule(parts))
    return tuple(located(doubt, design.sources) for doubt in found)


def unlike_others(parts: Parts) -> Iterator[Fault]:
    """A roof or width that is far from the others of its kind."""
    roofs = [
        (path, length)
        for path, length in parts.measured()
        if path[:2] == ("bay", "sections") and path[-1] == "roof"
    ]
    widths = [
        (path, _total(value))
        for path, value in parts.values.items()
        if path[:2] == ("bay", "sections")
        and len(path) == 5
        and path[3] == "widths"
        and isinstance(value, Measured | Sides)
    ]
    yield from _odd_ones([(path, roof.value) for path, roof in roofs], "roof")
    yield from _odd_ones(widths, "width")


def _odd_ones(lengths: Sequence[tuple[Path, float]], what: str) -> Iterator[Fault]:
    for index, (path, value) in enumerate(lengths):
        others = [other for i, (_, other) in enumerate(lengths) if i != index]
        if not others:
            continue
        ranked = sorted(others)
        usual = (ranked[(len(ranked) - 1) // 2] + ranked[len(ranked) // 2]) / 2.0
        if len(others) == 1 and value > usual:
            # Of two alone, only the smaller is reported.
            continue
        if value * SLIP <= usual or usual * SLIP <= value:
            hint = "Is the unit right? A bare number is mm."
            yield _doubt(path, f"a {what} of {value:g} mm", f"about {usual:g}, as elsewhere", hint)


def size_of_bay(parts: Parts) -> Iterator[Fault]:
    """A bay shorter than 300 mm or larger than 4 m in any direction."""
    sections = parts.sections()
    widths = [_total(width) for section in sections for width in section.widths.values()]
    seat = parts.record(Measured, "bay", "seat_back", "foot")
    wall = parts.record(Measured, "bay", "front_wall")
    front = seat or wall
    measures: list[tuple[Path, str, float]] = []
    if widths:
        measures.append((("bay", "sections"), "wide", max(widths)))
        measures.append((("bay", "sections"), "high", max(s.roof.value for s in sections)))
    if front is not None:
        path: Path = ("bay", "seat_back", "foot") if seat else ("bay", "front_wall")
        measures.append((path, "long", front.value))
    for path, direction, value in measures:
        if not LEAST_BAY <= value <= LARGEST_BAY:
            wanted = f"{LEAST_BAY:g} mm to {LARGEST_BAY / 1000:g} m"
            hint = "Is the unit right? A bare number is mm."
            yield _doubt(path, f"a bay {value:g} mm {direction}", wanted, hint)


def widths_above_roof(parts: Parts) -> Iterator[Fault]:
    """A width taken at a height above the roof."""
    for index, section in enumerate(parts.values.get(("bay", "sections"), ())):
        for height in section.widths:
            if height > section.roof.value > 0.0:
                found = f"a width at {height:g}, above the roof at {section.roof.value:g}"
                path = ("bay", "sections", index, "widths", f"{height:g}")
                yield _doubt(path, found, "heights up to the roof")


def opening_at_sill(parts: Parts) -> Iterator[Fault]:
    """An opening larger than the bay just behind it."""
    opening = parts.record(OpeningSpec, "bay", "opening")
    sections = parts.sections()
    if opening is None or not sections:
        return
    nearest = sections[0]
    if opening.height.value > nearest.roof.value:
        found = f"an opening {opening.height.value:g} high, a roof at {nearest.roof.value:g}"
        yield _doubt(("bay", "opening", "height"), found, "an opening lower than the bay")
    widest = max(_total(width) for width in nearest.widths.values())
    for height, width in opening.widths.items():
        if _total(width) > widest:
            found = f"an opening {_total(width):g} wide, a bay {widest:g} wide at the sill"
            path = ("bay", "opening", "widths", f"{height:g}")
            yield _doubt(path, found, "an opening narrower than the bay")


def coarse_tolerances(parts: Parts) -> Iterator[Fault]:
    """A tolerance so wide that it may be a slip of unit."""
    for path, length in parts.measured():
        if length.tolerance is not None and length.tolerance > COARSEST_TOLERANCE:
            wanted = f"at most ± {COARSEST_TOLERANCE:g} mm from a tape"
            yield _doubt(path, f"± {length.tolerance:g} mm", wanted, "Is the unit right?")


def items(parts: Parts) -> Iterator[Fault]:
    """Items longer than a bay, too heavy to lift in, or too small for their mass or contents."""
    for name, item in parts.below("items"):
        longest = max(item.size.length, item.size.width, item.size.height)
        if longest > LARGEST_ITEM:
            hint = "Is the unit right? A bare number is mm."
            wanted = f"at most {LARGEST_ITEM:g}"
            yield _doubt(("items", name, "size"), f"an item {longest:g} mm long", wanted, hint)
        if item.mass > HEAVIEST_ITEM_KG:
            wanted = f"at most {HEAVIEST_ITEM_KG:g} kg"
            yield _doubt(("items", name, "mass"), f"{item.mass:g} kg", wanted, "Is the unit right?")
        if longest < SMALL_ITEM and item.mass > LIGHTEST_SMALL_ITEM_KG:
            found = f"an item of {item.mass:g} kg, {longest:g} mm at its longest"
            wanted = "a size in mm"
            yield _doubt(("items", name, "size"), found, wanted, "Are the numbers cm?")
        yield from _overfull(str(name), item)


def _overfull(name: str, item: ItemSpec) -> Iterator[Fault]:
    """A tank that holds more than the block it fills."""
    size, top = item.size, item.top or (0.0, 0.0)
    outer = max(size.length, top[0]) * max(size.width, top[1]) * size.height / MM3_PER_LITRE
    if item.holds is not None and item.holds > outer:
        found = f"{item.holds:g} l in a tank of {outer:.3g} l, measured outside"
        hint = "Are size and unit right?"
        yield _doubt(("items", name, "holds"), found, f"at most {outer:.3g} l", hint)


def kerf(parts: Parts) -> Iterator[Fault]:
    """A cut wider than any blade or router bit for sheets."""
    cutting = parts.record(CuttingSpec, "cutting")
    if cutting is None:
        return
    widths = ((("kerf",), cutting.kerf), (("saw", "kerf"), cutting.saw.kerf or 0.0))
    for path, width in widths:
        if width > WIDEST_KERF:
            wanted = f"at most {WIDEST_KERF:g}, the width of the cut"
            hint = "Is the unit right? A bare number is mm."
            yield _doubt(("cutting", *path), f"a kerf of {width:g} mm", wanted, hint)


def scribe_allowance(parts: Parts) -> Iterator[Fault]:
    """More left on along the vehicle than anyone scribes off."""
    cutting = parts.record(CuttingSpec, "cutting")
    if cutting is not None and cutting.scribe_allowance > MOST_TO_SCRIBE:
        found = f"a scribe allowance of {cutting.scribe_allowance:g} mm"
        wanted = f"at most {MOST_TO_SCRIBE:g}, what is to be scribed off"
        hint = "Is the unit right? A bare number is mm."
        yield _doubt(("cutting", "scribe_allowance"), found, wanted, hint)


def section_at_sill(parts: Parts) -> Iterator[Fault]:
    """No width taken near the sill: the walls there are only carried on from further in."""
    sections = parts.sections()
    nearest = min((section.at.value for section in sections), default=0.0)
    if nearest > FARTHEST_FROM_SILL:
        wanted = f"one within {FARTHEST_FROM_SILL:g} of the sill"
        hint = "The walls between it and the sill are only carried on; measure there too."
        path: Path = ("bay", "sections")
        yield _doubt(path, f"no section nearer to the sill than {nearest:g}", wanted, hint)


RULES = (
    unlike_others,
    size_of_bay,
    widths_above_roof,
    opening_at_sill,
    coarse_tolerances,
    items,
    kerf,
    scribe_allowance,
    section_at_sill,
    vehicle,
)


def _total(width: Measured | Sides) -> float:
    return width.value if isinstance(width, Measured) else width.left.value + width.right.value


def _doubt(path: Path, found: str, expected: str, hint: str = "") -> Fault:
    return Fault(path=path, found=found, expected=expected, hint=hint, caution=True)
