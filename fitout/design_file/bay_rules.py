"""What can't be true of a bay: crossing walls, arches through the roof, a seat leaning forward."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence

from fitout.design_file.parts import Parts
from fitout.model.design import (
    ArchSpec,
    KeepClearSpec,
    OpeningSpec,
    SeatBackSpec,
    SectionSpec,
    Sides,
    TrimSpec,
)
from fitout.model.fault import Fault, Path
from fitout.model.free_places import StrapSpec
from fitout.model.restraint import AnchorSpec
from fitout.model.spec import Measured
from fitout.model.tailgate import TailgateSpec

Polyline = Sequence[tuple[float, float]]

ABOVE_ZERO = frozenset({"widths", "between", "roof", "height", "foot", "top", "front_wall"})
ZERO_OR_MORE = frozenset({"at", "lip"})
STEEPEST_LEAN = 80.0
"""A back that leans this far, degrees, is folded rather than leaning."""

LEAST_PROFILE = 3
ARCHES: Path = ("bay", "wheel_arches")
SEAT: Path = ("bay", "seat_back")


def signs(parts: Parts) -> Iterator[Fault]:
    """Measured lengths that must be above 0, or 0 or more."""
    for path, length in parts.measured():
        what = _what(path)
        if what in ABOVE_ZERO and length.value <= 0.0:
            hint = "The walls would cross." if what in ("widths", "between") else ""
            yield _fault(path, f"{length.value:g}", "a length above 0", hint)
        elif what in ZERO_OR_MORE and length.value < 0.0:
            yield _fault(path, f"{length.value:g}", "a length of 0 or more")


def tolerances(parts: Parts) -> Iterator[Fault]:
    """Tolerances that are none, or swallow the length they belong to."""
    for path, length in parts.measured():
        if length.tolerance is None:
            continue
        found = f"{length.value:g} ± {length.tolerance:g}"
        if length.tolerance <= 0.0:
            hint = "Leave ± out where it is not known."
            yield _fault(path, found, "a tolerance above 0", hint)
        elif _what(path) in ABOVE_ZERO and 0.0 < length.value <= length.tolerance:
            yield _fault(path, found, "a tolerance less than the length")


def stations(parts: Parts) -> Iterator[Fault]:
    """At least one section, no two at the same distance, each with a width."""
    seen: dict[float, int] = {}
    for index, section in parts.below("bay", "sections"):
        if not isinstance(section, SectionSpec):
            continue
        path: Path = ("bay", "sections", index)
        first = seen.setdefault(section.at.value, int(index))
        if first != index:
            found = f"a second section at {section.at.value:g}"
            hint = f"Section {first + 1} of the list stands there already."
            yield _fault((*path, "at"), found, "each station once", hint)
        if not section.widths:
            yield _fault((*path, "widths"), "no widths", "at least one height: width")
    if parts.values.get(("bay", "sections")) == ():
        yield _fault(("bay", "sections"), "no sections", "at least one, measured at the sill")


def front(parts: Parts) -> Iterator[Fault]:
    """Just one thing closes the bay ahead: a seat back or a wall."""
    if not any(path[:1] == ("bay",) and len(path) > 1 for path in parts.written or parts.values):
        return
    seat, wall = parts.has(*SEAT), parts.has("bay", "front_wall")
    if seat and wall:
        yield _fault(("bay", "front_wall"), "both seat_back and front_wall", "only one of them")
    if not seat and not wall:
        hint = "Measure forward from the sill, along the floor."
        yield _fault(("bay",), "no seat_back and no front_wall", "one of them", hint)


def seat(parts: Parts) -> Iterator[Fault]:
    """The seat leans rearward, and not as far as the sill."""
    spec = parts.record(SeatBackSpec, *SEAT)
    if spec is None:
        return
    leans = [((*SEAT, "leans"), spec.leans.value)]
    leans += [((*SEAT, "notches", i), lean) for i, lean in enumerate(spec.notches)]
    usual = spec.leans.value
    # A lean that is at fault tells nothing of the back's length, and so of its other notches.
    length = spec.top.value / math.cos(math.radians(usual if abs(usual) < STEEPEST_LEAN else 0.0))
    for path, lean in leans:
        if lean < 0.0:
            hint = "A lean is measured from upright, rearward."
            yield _fault(path, f"{lean:g} deg, leaning forward", "0 or more", hint)
        elif lean >= STEEPEST_LEAN:
            hint = "Write folds: yes for a back that folds flat."
            yield _fault(path, f"{lean:g} deg", f"a lean less than {STEEPEST_LEAN:g} deg", hint)
        elif spec.foot.value > 0.0 and length * math.sin(math.radians(lean)) >= spec.foot.value:
            found = f"{lean:g} deg, which puts its top behind the sill"
            yield _fault(path, found, "a back that ends within the bay")


def arches(parts: Parts) -> Iterator[Fault]:
    """Wheel arches: either a box or a profile, below the roof and within the walls."""
    spec = parts.record(ArchSpec, *ARCHES)
    if spec is None:
        return
    yield from _arch_form(spec)
    sections = parts.sections()
    if not sections:
        return
    roof = [(section.at.value, section.roof.value) for section in sections]
    for path, x, height in _arch_tops(spec, roof):
        above = _between(roof, x)
        if 0.0 < above <= height:
            found = f"an arch {height:g} high at {x:g}, where the roof is at {round(above):g}"
            yield _fault(path, found, "an arch below the roof")
    widest = max((_total(w) for s in sections for w in s.widths.values()), default=math.inf)
    total = _total(spec.between)
    if 0.0 < widest <= total:
        found = f"{total:g} between the arches, where the bay is at most {widest:g} wide"
        yield _fault((*ARCHES, "between"), found, "less than the bay's width")


def _arch_form(spec: ArchSpec) -> Iterator[Fault]:
    box = {"from": spec.start, "to": spec.end, "height": spec.height}
    given = [key for key, value in box.items() if value is not None]
    if spec.profile and given:
        found = f"both profile and {given[0]}"
        yield _fault((*ARCHES, "profile"), found, "profile alone, or from, to and height")
    elif not spec.profile and len(given) < len(box):
        missing = ", ".join(key for key in box if key not in given)
        yield _fault(ARCHES, f"nothing for {missing}", "from, to and height, or a profile")
    if spec.start and spec.end and spec.start.value >= spec.end.value:
        found = f"an arch from {spec.start.value:g} to {spec.end.value:g}"
        yield _fault((*ARCHES, "from"), found, "from less than to")
    if spec.profile:
        if len(spec.profile) < LEAST_PROFILE:
            found = f"a profile of {len(spec.profile)} points"
            yield _fault((*ARCHES, "profile"), found, f"at least {LEAST_PROFILE}")
        for index in range(1, len(spec.profile)):
            if spec.profile[index][0] <= spec.profile[index - 1][0]:
                found = f"{spec.profile[index][0]:g} after {spec.profile[index - 1][0]:g}"
                path: Path = (*ARCHES, "profile", index)
                yield _fault(path, found, "points from the sill forward")


def _arch_tops(spec: ArchSpec, roof: Polyline) -> Iterator[tuple[Path, float, float]]:
    """Where an arch is to be held against the roof: path, distance forward, height.

    A box is held against the roof at its lowest above the arch, a profile at each point.
    """
    if spec.profile:
        for index, (x, height) in enumerate(spec.profile):
            yield (*ARCHES, "profile", index), x, height
    elif spec.start and spec.end and spec.height:
        start, end = spec.start.value, spec.end.value
        places = [start, end, *(x for x, _ in roof if start < x < end)]
        lowest = min(places, key=lambda x: _between(roof, x))
        yield (*ARCHES, "height"), lowest, spec.height.value


def rear(parts: Parts) -> Iterator[Fault]:
    """The opening has a height and widths; the tailgate a face."""
    opening = parts.record(OpeningSpec, "bay", "opening")
    if opening is not None:
        if 0.0 < opening.height.value <= opening.lip.value:
            found = f"an upper edge at {opening.height.value:g}, a lip of {opening.lip.value:g}"
            yield _fault(("bay", "opening", "height"), found, "an upper edge above the lip")
        if not opening.widths:
            path: Path = ("bay", "opening", "widths")
            yield _fault(path, "no widths", "at least one height: width")
    tailgate = parts.record(TailgateSpec, "bay", "tailgate")
    if tailgate is not None and not tailgate.inner_face:
        path = ("bay", "tailgate", "inner_face")
        yield _fault(path, "no points", "at least one height: distance from the sill")


def kept_clear(parts: Parts) -> Iterator[Fault]:
    """Each kept-clear place has a size, and stands where it says."""
    for index, zone in parts.below("bay", "keep_clear"):
        if not isinstance(zone, KeepClearSpec):
            continue
        path: Path = ("bay", "keep_clear", index)
        if zone.start >= zone.end:
            found = f"a place from {zone.start:g} to {zone.end:g}"
            yield _fault((*path, "from"), found, "from less than to")
        if zone.above >= zone.up_to:
            found = f"a place from {zone.above:g} up to {zone.up_to:g}"
            yield _fault((*path, "up_to"), found, "its top above its underside")
        if zone.side != "floor" and zone.reach is None:
            yield _fault(path, "nothing for reach", "reach: how far it comes out from the wall")
        if zone.side == "floor":
            if zone.left is None or zone.right is None:
                wanted = "left and right: its edges from the centre line, right of it negative"
                yield _fault(path, "a place on the floor with no edges", wanted)
            elif zone.left <= zone.right:
                found = f"a left edge at {zone.left:g}, a right edge at {zone.right:g}"
                yield _fault((*path, "left"), found, "left more than right")


def straps(parts: Parts) -> Iterator[Fault]:
    """The path of a belt or tether leads from one point to another."""
    for index, strap in parts.below("bay", "straps"):
        if isinstance(strap, StrapSpec) and math.dist(strap.start, strap.end) < strap.width:
            found = f"a path {math.dist(strap.start, strap.end):g} long"
            wanted = "ends further apart than the path is wide"
            yield _fault(("bay", "straps", index, "to"), found, wanted)


def names_once(parts: Parts) -> Iterator[Fault]:
    """Anchors have names of their own, and so have all kept-clear places and paths."""
    kept: set[str] = set()
    groups = (("anchors", AnchorSpec, set[str]()), ("keep_clear", KeepClearSpec, kept))
    for group, kind, seen in (*groups, ("straps", StrapSpec, kept)):
        for index, record in parts.below("bay", group):
            if not isinstance(record, kind):
                continue
            if record.name in seen:
                found = f"{record.name} a second time"
                yield _fault(("bay", group, index, "name"), found, "a name of its own")
            seen.add(record.name)


def lining(parts: Parts) -> Iterator[Fault]:
    """Soft lining leaves room between the walls and below the roof."""
    trim = parts.record(TrimSpec, "bay", "trim")
    sections = parts.sections()
    if trim is None or not sections:
        return
    narrowest = min((_total(w) for s in sections for w in s.widths.values()), default=math.inf)
    lowest = min(section.roof.value for section in sections)
    if 0.0 < narrowest <= 2.0 * trim.walls:
        found = f"lining of {trim.walls:g} on each wall of a bay {narrowest:g} wide"
        yield _fault(("bay", "trim", "walls"), found, "lining that leaves room between")
    if 0.0 < lowest <= trim.floor + trim.roof:
        found = f"lining of {trim.floor + trim.roof:g} below a roof at {lowest:g}"
        yield _fault(("bay", "trim"), found, "lining that leaves room between")


RULES = (
    signs,
    tolerances,
    stations,
    front,
    seat,
    arches,
    rear,
    kept_clear,
    straps,
    names_once,
    lining,
)


def _what(path: Path) -> str:
    """Which entry a measured length belongs to, whatever height or side it is for."""
    for name in ("widths", "between"):
        if name in path:
            return name
    return str(path[-1])


def _total(width: Measured | Sides) -> float:
    if isinstance(width, Measured):
        return width.value
    return width.left.value + width.right.value


def _between(points: Polyline, x: float) -> float:
    """The second coordinate at `x`, straight between points and level beyond them."""
    if x <= points[0][0]:
        return points[0][1]
    for (x0, y0), (x1, y1) in itertools.pairwise(points):
        if x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0) if x1 > x0 else y1
    return points[-1][1]


def _fault(path: Path, found: str, expected: str, hint: str = "") -> Fault:
    return Fault(path=path, found=found, expected=expected, hint=hint)
