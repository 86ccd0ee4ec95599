"""The views of a measuring sheet: outlines, named points, and where each thing is measured."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from fitout.model.fault import Path
from fitout.model.notes import NoteSpec
from fitout.model.outline import Point
from fitout.survey.adjustment import Array
from fitout.survey.measures import between_arches
from fitout.survey.observations import Notebook
from fitout.survey.points import NamedPoint, constant

PLAN, SIDE, OPENING = "plan", "side", "opening"


@dataclass(frozen=True, slots=True)
class Line:
    """Where something is measured: the view and both ends; an angle has one end twice."""

    view: str
    start: Point
    end: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """One view: its name and title, outlines, and points with their letters."""

    name: str
    title: str
    outlines: tuple[tuple[Point, ...], ...]
    points: tuple[tuple[str, Point], ...]


def section_view(number: int) -> str:
    """The view of a section by its number from the sill."""
    return f"section {number}"


def views(book: Notebook, letters: Mapping[str, str]) -> tuple[View, ...]:
    """Plan, side, a view from behind of each section and of the opening."""
    drawn = [
        _view(book, letters, PLAN, "Plan: forward is right, left is up", _plan(book)),
        _view(book, letters, SIDE, "Side: forward is right", _side(book)),
    ]
    for number in range(1, len(book.places.order) + 1):
        title = f"Section {number}, from behind"
        drawn.append(_view(book, letters, section_view(number), title, _section(book, number)))
    if book.places.bay.opening is not None:
        drawn.append(
            _view(book, letters, OPENING, "Opening, from behind", [_jambs(book, book.start)])
        )
    return tuple(drawn)


def _view(
    book: Notebook,
    letters: Mapping[str, str],
    name: str,
    title: str,
    outlines: list[tuple[Point, ...]],
) -> View:
    placed: dict[Point, list[str]] = {}
    for point in book.places.points.values():
        at = _in_view(point, name, book.start)
        if at is not None:
            # Seen from the side, left and right lie behind each other.
            placed.setdefault(at, []).append(letters[point.name])
    points = tuple(("/".join(names), at) for at, names in placed.items())
    return View(name=name, title=title, outlines=tuple(outlines), points=points)


def _in_view(point: NamedPoint, view: str, start: Array) -> Point | None:
    """Where a point is drawn in a view; each is drawn once, where it shows best."""
    x, y, z = (float(c) for c in point.at(start))
    name = point.name.removeprefix("left ").removeprefix("right ")
    if " wall " in point.name or name.startswith(("wall ", "roof ")):
        number = name.split()[1].split("/")[0]
        return (-y, z) if view == section_view(int(number)) else None
    if name.startswith("opening"):
        return (-y, z) if view == OPENING else None
    if (
        name == "seat top"
        or name.startswith("tailgate ")
        or (name.endswith(" top") and name.startswith("arch"))
    ):
        return (x, z) if view == SIDE else None
    return (x, y) if view == PLAN else None


def _plan(book: Notebook) -> list[tuple[Point, ...]]:
    places, now = book.places, book.start
    front = places.front(0.0).value(now)
    stations = [places.bay.sections[i].at.value for i in places.order]
    xs = sorted({0.0, front, *(x for x in stations if 0.0 < x < front)})
    loop: list[Point] = []
    for side, sign, along in (("left", 1.0, xs), ("right", -1.0, xs[::-1])):
        loop += [(x, sign * _half(book, side, x, 0.0)) for x in along]
    found = [(*loop, loop[0])]
    for side, sign in (("left", 1.0), ("right", -1.0)):
        arch = _arch_profile(book)
        if arch:
            inner = sign * _arch_half(book, side)
            outer = sign * _half(book, side, arch[0][0], 0.0)
            a, b = arch[0][0], arch[-1][0]
            found.append(((a, outer), (a, inner), (b, inner), (b, outer)))
    return found


def _side(book: Notebook) -> list[tuple[Point, ...]]:
    places, now = book.places, book.start
    bay = places.bay
    front = places.front(0.0).value(now)
    roof = [(x, places.roof(x).value(now)) for x in _stations(book)]
    roof = [(0.0, roof[0][1]), *(p for p in roof if p[0] > 0.0)]
    if roof[-1][0] < front:
        roof.append((front, roof[-1][1]))
    found: list[tuple[Point, ...]] = [((0.0, 0.0), (front, 0.0)), tuple(roof)]
    if bay.seat_back is not None:
        top = bay.seat_back.top.value
        found.append(((front, 0.0), (places.front(top).value(now), top)))
    else:
        found.append(((front, 0.0), (front, roof[-1][1])))
    if bay.tailgate is not None:
        face = sorted((z, x.value) for z, x in bay.tailgate.inner_face.items())
        found.append(tuple((x, z) for z, x in face))
    arch = _arch_profile(book)
    if arch:
        found.append(((arch[0][0], 0.0), *arch, (arch[-1][0], 0.0)))
    return found


def _section(book: Notebook, number: int) -> list[tuple[Point, ...]]:
    places, now = book.places, book.start
    i = places.order[number - 1]
    section = places.bay.sections[i]
    roof = section.roof.value
    levels = sorted({0.0, *(h for h in section.widths if h < roof), roof})
    left = [(-places.half_at_section(i, "left", z).value(now), z) for z in levels]
    right = [(places.half_at_section(i, "right", z).value(now), z) for z in levels[::-1]]
    found = [(*left, *right, left[0])]
    x = section.at.value
    arch = _arch_profile(book)
    if arch and arch[0][0] <= x <= arch[-1][0]:
        top = float(np.interp(x, [p for p, _ in arch], [z for _, z in arch]))
        for side, sign in (("left", -1.0), ("right", 1.0)):
            inner, outer = sign * _arch_half(book, side), sign * _half(book, side, x, 0.0)
            found.append(((inner, 0.0), (inner, top), (outer, top)))
    return found


def _jambs(book: Notebook, now: Array) -> tuple[Point, ...]:
    opening = book.places.bay.opening
    assert opening is not None
    heights = sorted(opening.widths)
    path: Path = ("opening", "widths")

    def side(name: str, sign: float) -> list[Point]:
        half = book.places.half
        return [
            (sign * half(opening.widths[h], name, *path, f"{h:g}").value(now), h) for h in heights
        ]

    left, right = side("left", -1.0), side("right", 1.0)
    return (*left, *right[::-1], left[0])


def line_of_entry(book: Notebook, path: Path) -> Iterator[Line]:
    """Where an entry is measured."""
    value = book.places.entry(*path).value(book.start)
    if path[0] == "sections":
        yield _line_of_section(book, path, value)
    elif path[0] in ("front_wall", "seat_back"):
        yield from _line_of_front(book, path, value)
    elif path[0] == "wheel_arches":
        yield from _line_of_arch(book, path, value)
    elif path[0] == "tailgate":
        z = float(path[2])
        yield Line(SIDE, (0.0, z), (value, z))
    elif path[1] == "widths":
        yield _across(OPENING, float(path[2]), path[3:], value)
    else:
        x = 0.0 if path[1] == "height" else 0.25 * _half(book, "right", 0.0, 0.0)
        yield Line(OPENING, (x, 0.0), (x, value))


def _line_of_section(book: Notebook, path: Path, value: float) -> Line:
    number = book.places.order.index(int(path[1])) + 1
    if path[2] == "at":
        y = -0.62 * _half(book, "right", 0.0, 0.0) + 60.0 * number
        return Line(PLAN, (0.0, y), (value, y))
    if path[2] == "roof":
        return Line(section_view(number), (0.0, 0.0), (0.0, value))
    return _across(section_view(number), float(path[3]), path[4:], value)


def _across(view: str, z: float, side: Path, value: float) -> Line:
    if not side:
        return Line(view, (-value / 2.0, z), (value / 2.0, z))
    return Line(view, (0.0, z), (-value if side[0] == "left" else value, z))


def _line_of_front(book: Notebook, path: Path, value: float) -> Iterator[Line]:
    if path[-1] in ("front_wall", "foot"):
        yield Line(PLAN, (0.0, 0.0), (value, 0.0))
        return
    seat = book.places.bay.seat_back
    assert seat is not None
    if path[-1] == "leans":
        z = 0.75 * seat.top.value
        x = book.places.front(z).value(book.start)
        yield Line(SIDE, (x, z), (x, z))
    else:
        x = book.places.front(value).value(book.start)
        yield Line(SIDE, (x, 0.0), (x, value))


def _line_of_arch(book: Notebook, path: Path, value: float) -> Iterator[Line]:
    arch = _arch_profile(book)
    middle = (arch[0][0] + arch[-1][0]) / 2.0
    if path[1] == "height":
        yield Line(SIDE, (middle, 0.0), (middle, value))
    elif path[1] == "between":
        ends = {"left": (0.0, value), "right": (-value, 0.0)}
        low, high = ends[str(path[2])] if len(path) > 2 else (-value / 2.0, value / 2.0)
        yield Line(PLAN, (middle, low), (middle, high))
    else:
        y = (1.0 if path[1] == "from" else 0.9) * _arch_half(book, "left")
        yield Line(PLAN, (0.0, y), (value, y))


def line_of_note(book: Notebook, note: NoteSpec) -> Iterator[Line]:
    """Where a note is measured."""
    places, now = book.places, book.start
    if note.between is not None:
        yield from _line_between(book, *(places.points[name] for name in note.between))
    elif note.across is not None:
        x, z = note.across
        if between_arches(places, x, z, now):
            left, right = _arch_half(book, "left"), _arch_half(book, "right")
        else:
            left, right = (_half(book, side, x, z) for side in ("left", "right"))
        yield Line(PLAN, (x, -right), (x, left))
    elif note.forward is not None:
        yield Line(SIDE, (0.0, note.forward), (places.front(note.forward).value(now), note.forward))
    elif note.angle == "floor":
        x = 0.2 * places.front(0.0).value(now)
        yield Line(SIDE, (x, 0.0), (x, 0.0))
    else:
        x = places.front(100.0).value(now)
        yield Line(SIDE, (x, 100.0), (x, 100.0))


def _line_between(book: Notebook, a: NamedPoint, b: NamedPoint) -> Iterator[Line]:
    """In every view that shows both points; from the side if none does."""
    shown = False
    for view in (PLAN, *(section_view(k + 1) for k in range(len(book.places.order)))):
        first, second = (_in_view(point, view, book.start) for point in (a, b))
        if first is not None and second is not None:
            shown = True
            yield Line(view, first, second)
    if not shown:
        (x, _, z), (to_x, _, to_z) = (point.at(book.start).tolist() for point in (a, b))
        yield Line(SIDE, (x, z), (to_x, to_z))


def _stations(book: Notebook) -> list[float]:
    return [book.places.bay.sections[i].at.value for i in book.places.order]


def _half(book: Notebook, side: str, x: float, z: float) -> float:
    return book.places.half_at(side, constant(x), z).value(book.start)


def _arch_half(book: Notebook, side: str) -> float:
    arches = book.places.bay.wheel_arches
    assert arches is not None
    return book.places.half(arches.between, side, "wheel_arches", "between").value(book.start)


def _arch_profile(book: Notebook) -> tuple[Point, ...]:
    """The arches' upper edge seen from the side; nothing where there are none."""
    arches = book.places.bay.wheel_arches
    if arches is None:
        return ()
    if arches.profile:
        return tuple(sorted(arches.profile))
    entry, now = book.places.entry, book.start
    start, end, top = (entry("wheel_arches", k).value(now) for k in ("from", "to", "height"))
    return (start, top), (end, top)
