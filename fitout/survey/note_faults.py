"""What makes a tape note unusable, located, each with what to do."""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Sequence

import numpy as np

from fitout.model.fault import Fault, Path
from fitout.model.notes import NoteSpec
from fitout.model.spec import Measured
from fitout.survey.adjustment import Array
from fitout.survey.measures import ANGLES, KINDS, entry_of, said
from fitout.survey.points import Places

APART = 1.0
"""mm; points nearer to each other than this are the same place to a tape."""


def note_faults(note: NoteSpec, path: Path, places: Places, start: Array) -> Iterator[Fault]:
    """Every reason a note can't be used; `start` are the entries' values."""
    kinds = said(note)
    entry = entry_of(places, note)
    if len(kinds) != 1 and entry is None:
        found = " and ".join(kinds) if kinds else "a note that does not say what was measured"
        hint = "Or `supersedes: what was measured before`, by its name." if note.supersedes else ""
        yield Fault(path=path, found=found, expected=f"one of {', '.join(KINDS)}", hint=hint)
        return
    yield from _points(note, path, places, start)
    yield from _within(note, path, places, start)
    yield from _readings(note, path, entry)
    if note.offset_to is not None and note.string is None:
        expected = "`string`: the two points it runs between"
        yield Fault(path=(*path, "offset_to"), found="an offset and no string", expected=expected)


def _points(note: NoteSpec, path: Path, places: Places, start: Array) -> Iterator[Fault]:
    """Points must be known, and different places."""
    asked: list[tuple[Path, str]] = []
    ends: tuple[Path, tuple[str, str]] | None = None
    for key, pair in (("between", note.between), ("string", note.string)):
        if pair is not None:
            ends = (*path, key), pair
            asked += [((*path, key, i), name) for i, name in enumerate(pair)]
    if note.string is not None and note.offset_to is None:
        expected = "`offset_to`: the point measured square off the string"
        yield Fault(path=path, found="a string and nothing measured off it", expected=expected)
    if note.offset_to is not None:
        asked.append(((*path, "offset_to"), note.offset_to))
    unknown = [(where, name) for where, name in asked if name not in places.points]
    for where, name in unknown:
        near = nearest(name, list(places.points))
        hint = f"Nearest: {', '.join(near)}." if near else ""
        yield Fault(path=where, found=name, expected="a named point of this bay", hint=hint)
    if unknown or ends is None:
        return
    where, (a, b) = ends
    along = places.points[b].at(start) - places.points[a].at(start)
    if a == b:
        yield Fault(path=where, found=f"{a} twice", expected="two points")
    elif float(np.linalg.norm(along)) < APART:
        hint = f"{a} and {b} are two names of one place."
        yield Fault(path=where, found=f"{a} and {b}", expected="two places", hint=hint)
    elif note.offset_to in (a, b):
        expected = "a point away from the string's ends"
        yield Fault(path=(*path, "offset_to"), found=str(note.offset_to), expected=expected)


def _within(note: NoteSpec, path: Path, places: Places, start: Array) -> Iterator[Fault]:
    """A place must lie in the bay."""
    bay = places.bay
    if note.across is not None:
        x, z = note.across
        yield from _along((*path, "across"), x, places, start)
        roof = places.roof(x).value(start)
        if z > roof:
            found = f"{z:g} up, where the roof is at {roof:g}"
            yield Fault(path=(*path, "across"), found=found, expected="a height below the roof")
    if note.up is not None:
        yield from _along((*path, "up"), note.up, places, start)
    seat = bay.seat_back
    if note.forward is not None:
        if seat is not None and note.forward > seat.top.value:
            found = f"{note.forward:g} up, where the seat back ends at {seat.top.value:g}"
            yield Fault(path=(*path, "forward"), found=found, expected="a height below its edge")
        highest = max(section.roof.value for section in bay.sections)
        if seat is None and note.forward > highest:
            found = f"{note.forward:g} up, where the roof is at {highest:g}"
            yield Fault(path=(*path, "forward"), found=found, expected="a height below the roof")
    if note.angle == "seat_back" and seat is None:
        hint = "It ends at a front wall."
        expected = "an angle of the floor"
        yield Fault(path=(*path, "angle"), found="seat_back", expected=expected, hint=hint)


def _along(path: Path, x: float, places: Places, start: Array) -> Iterator[Fault]:
    # Above the floor the seat back leans over; folded down, it lets the tape reach further.
    end = places.front(0.0).value(start)
    if x < 0.0:
        yield Fault(path=path, found=f"{x:g} forward", expected="0 or more, from the sill")
    elif x > end + APART:
        found = f"{x:g} forward, where the bay ends at {end:.0f}"
        yield Fault(path=path, found=found, expected="a place in the bay")


def _readings(note: NoteSpec, path: Path, entry: Path | None) -> Iterator[Fault]:
    """There must be a reading, of the right kind, and it must be possible."""
    taped = {"reads": note.reads, "pressed": note.pressed}
    if note.angle is not None or (entry is not None and entry[-1] in ANGLES):
        if note.degrees is None:
            yield Fault(path=path, found="no `degrees`", expected="what the level read")
        else:
            yield from _reading((*path, "degrees"), note.degrees)
        given = [key for key, reading in taped.items() if reading is not None]
        if given or note.again:
            key = given[0] if given else "again"
            yield Fault(path=(*path, key), found="a length", expected="`degrees` for an angle")
        return
    if note.degrees is not None:
        yield Fault(path=(*path, "degrees"), found="an angle", expected="`reads` for a length")
    if note.reads is None and note.pressed is None:
        yield Fault(path=path, found="no `reads`", expected="what the tape read")
    lengths = [((*path, key), reading) for key, reading in taped.items() if reading is not None]
    lengths += [((*path, "again", i), reading) for i, reading in enumerate(note.again)]
    for where, reading in lengths:
        yield from _reading(where, reading)
        yield from _length(where, reading, offset=note.string is not None or _from_nought(entry))
    if note.reads and note.pressed and note.pressed.value < note.reads.value:
        found = f"{note.pressed.value:g} pressed, {note.reads.value:g} touching"
        expected = "no less with the lining pressed than touching it"
        yield Fault(path=(*path, "pressed"), found=found, expected=expected)


def _from_nought(entry: Path | None) -> bool:
    """Whether an entry may be 0: what lies at the sill, or level with the floor."""
    return entry is not None and (entry[-1] in ("at", "lip") or entry[0] == "tailgate")


def _reading(path: Path, reading: Measured) -> Iterator[Fault]:
    if reading.about:
        found, expected = f"about {reading.value:g}", "what was read, without about"
        yield Fault(path=path, found=found, expected=expected, hint="A guess is no note.")


def _length(path: Path, reading: Measured, *, offset: bool) -> Iterator[Fault]:
    value, tolerance = reading.value, reading.tolerance
    if value < 0.0 or (value == 0.0 and not offset):
        yield Fault(path=path, found=f"{value:g}", expected="a length above 0")
    elif tolerance is not None and tolerance >= value and not offset:
        found = f"{value:g} ± {tolerance:g}"
        yield Fault(path=path, found=found, expected="a tolerance less than the length")


def nearest(name: str, known: Sequence[str]) -> list[str]:
    """The known names most like one, best first, at most three."""
    plain = name.strip().lower().replace("_", " ")
    return difflib.get_close_matches(plain, known, n=3, cutoff=0.5)
