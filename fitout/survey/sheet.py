"""What a measuring sheet asks for, in the order one person can work through it, and where.

Views are drawn in mm of the bay: the plan (x forward, y left), the side (x forward, z up),
each section and the opening as seen from behind (−y, z up).
"""

from __future__ import annotations

import itertools
import string
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from fitout.model.design import BaySpec
from fitout.model.fault import Path
from fitout.model.notes import NoteSpec
from fitout.model.spec import Measured
from fitout.survey.candidates import upright
from fitout.survey.measures import between_arches
from fitout.survey.note_faults import note_faults
from fitout.survey.observations import Notebook, notebook
from fitout.survey.parameters import parameters
from fitout.survey.sheet_views import Line, View, line_of_entry, line_of_note, views
from fitout.survey.words import describe

DEPTH_AT = (150.0, 300.0, 450.0)
"""Heights at which the depth is asked for besides, mm, as far as there is a face."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """One thing to measure: its number, what, how, where it goes in the file, where it is.

    `repeats`: whether the file has room for a second reading and a pressed one. `ends` are the
    named points it runs between, if any; `lines` the views it is drawn in with both ends there.
    """

    number: int
    part: str
    what: str
    how: str
    goes_to: str
    degrees: bool
    repeats: bool
    lines: tuple[Line, ...]
    ends: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """Everything a measuring sheet shows; `letters` gives each named point its letter."""

    views: tuple[View, ...]
    asks: tuple[Ask, ...]
    letters: Mapping[str, str]


def sheet_of(bay: BaySpec) -> Sheet:
    """The measuring sheet of a bay, whatever of it is measured or guessed."""
    book = notebook(bay)
    letters = dict(zip(book.places.points, _letters(), strict=False))
    drawn = views(book, letters)
    return Sheet(views=drawn, asks=tuple(_asks(book)), letters=letters)


def _letters() -> Iterator[str]:
    yield from string.ascii_uppercase
    for first in string.ascii_uppercase:
        for second in string.ascii_uppercase:
            yield first + second


def _asks(book: Notebook) -> Iterator[Ask]:
    entries = sorted(
        (number.path for number in parameters(book.places.bay)),
        key=lambda path: _turn(path, book.places.order),
    )
    first = book.places.order[0]
    asked = [path for path in entries if path != ("sections", first, "at")]
    number = 0
    for path in asked:
        number += 1
        again = _again(book, path)
        yield Ask(
            number=number,
            part=_part(path, book.places.order),
            what=book.places.names[path],
            how=_how(book, path),
            goes_to=_file_words(path, again),
            degrees=path[-1] == "leans",
            repeats=bool(again),
            lines=tuple(line_of_entry(book, path)),
        )
    for note in _checks(book):
        number += 1
        yield Ask(
            number=number,
            part="Checks: without these a slip of the tape goes unseen",
            what=describe(note),
            how=_how_note(note),
            goes_to=_note_words(note),
            degrees=note.angle is not None,
            repeats=note.angle is None,
            lines=tuple(line_of_note(book, note)),
            ends=note.between or (),
        )


def _turn(path: Path, order: Sequence[int]) -> tuple[float, ...]:
    """Where one stands: on the floor first, then section by section, then at the opening."""
    if path[0] in ("seat_back", "front_wall"):
        return (0.0,)
    if path[0] == "wheel_arches":
        return (1.0,)
    if path[0] == "sections":
        turn = {"at": 0.0, "widths": 1.0, "roof": 2.0}[str(path[2])]
        height = float(path[3]) if path[2] == "widths" else 0.0
        return (2.0, float(order.index(int(path[1]))), turn, height)
    return (3.0 if path[0] == "opening" else 4.0,)


def _part(path: Path, order: Sequence[int]) -> str:
    if path[0] == "sections":
        return f"Section {order.index(int(path[1])) + 1}"
    return {
        "seat_back": "Depth, along the middle",
        "front_wall": "Depth, along the middle",
        "wheel_arches": "Wheel arches",
        "opening": "Opening, from outside",
        "tailgate": "Tailgate shut, from inside",
    }[str(path[0])]


HOW: Mapping[str, str] = {
    "foot": "Tape on the floor, hook on the sill's line, square to it, to the seat back.",
    "front_wall": "Tape on the floor, hook on the sill's line, square to it, to the wall.",
    "leans": "Level up the seat back, where it is used; less what it shows on the floor.",
    "top": "Plumb from the floor up to its upper edge.",
    "from": "On the floor from the sill's line to where the arch begins.",
    "to": "On the floor from the sill's line to where the arch ends.",
    "between": "Level from arch to arch, where they are nearest.",
    "at": "On the floor from the sill's line. Mark it on both walls with tape.",
    "roof": "Plumb from the floor to the roof lining, in the middle.",
    "lip": "From the floor up to the top of the sill.",
    "inner_face": "Plumb line from the sill's line: how far forward of it the tailgate lies.",
}


def _how(book: Notebook, path: Path) -> str:
    if path[0] == "wheel_arches" and path[-1] == "height":
        return "From the floor up to the arch's highest point."
    if path[0] == "opening" and path[1] == "height":
        return "From the floor up to the lower side of the upper edge."
    if "widths" in path:
        if path[0] == "sections":
            x = book.places.bay.sections[int(path[1])].at.value
            if between_arches(book.places, x, float(path[3]), book.start):
                return "The arches are in the way: “about”, from what is before and behind."
        side = path[-1] in ("left", "right")
        ends = "From the centre line" if side else "From side to side"
        return f"{ends}, tape level and square across."
    for key in reversed(path):
        if key in HOW:
            return HOW[str(key)]
    return ""


def _how_note(note: NoteSpec) -> str:
    if note.between is not None and note.between[0].startswith("tailgate "):
        return "From inside, tailgate shut: from its inner face straight to the point, tape tight."
    if note.between is not None:
        return "Straight from point to point, tape tight, ends in the very corner."
    if note.angle is not None:
        return "As the level shows, leaning rearward positive."
    if note.across is not None:
        return "Tape level and square across, wall to wall or arch to arch."
    return "Tape level from the sill's line, along the middle, to the seat back or wall."


def _file_words(path: Path, again: str) -> str:
    """Where an entry stands in the design file, sections counted as they are listed there.

    A further reading of it is a note.
    """
    words = [f"({step + 1})" if isinstance(step, int) else str(step) for step in path]
    entry = ": ".join(words).replace(": (", " (")
    return f"{entry}; again: {again}" if again else entry


def _again(book: Notebook, path: Path) -> str:
    """The note that says the same as an entry, if there is one that a tape can take."""
    if path in (("front_wall",), ("seat_back", "foot")):
        return "{forward: 0, reads: …}"
    if path[0] != "sections" or path[2] == "at":
        return ""
    x = book.places.bay.sections[int(path[1])].at.value
    if path[2] == "roof":
        return f"{{up: {x:g}, reads: …}}"
    height = float(path[3])
    if len(path) > 4 or between_arches(book.places, x, height, book.start):
        return ""
    return f"{{across: [{x:g}, {height:g}], reads: …}}"


def _note_words(note: NoteSpec) -> str:
    """A note as it is written in the design file, its reading left open."""
    if note.between is not None:
        return f"{{between: [{', '.join(note.between)}], reads: …}}"
    if note.across is not None:
        return f"{{across: [{note.across[0]:g}, {note.across[1]:g}], reads: …}}"
    if note.forward is not None:
        return f"{{forward: {note.forward:g}, reads: …}}"
    return f"{{angle: {note.angle}, degrees: …}}"


def _checks(book: Notebook) -> Iterator[NoteSpec]:
    """The notes that check the entries, but those that the bay can't have."""
    for note in _wished(book):
        if not any(note_faults(note, (), book.places, book.start)):
            yield note


def _wished(book: Notebook) -> Iterator[NoteSpec]:
    places, reads = book.places, Measured(1000.0)

    def between(a: str, b: str) -> NoteSpec:
        return NoteSpec(between=(a, b), reads=reads)

    yield between("left sill corner", "right front corner")
    yield between("right sill corner", "left front corner")
    yield between("left arch rear foot", "right arch front foot")
    yield between("right arch rear foot", "left arch front foot")
    for a, b in upright(places):
        yield between(a, b)
    for height in DEPTH_AT:
        yield NoteSpec(forward=height, reads=reads)
    sections = [places.bay.sections[i] for i in places.order]
    for number, section in enumerate(sections, start=1):
        x = section.at.value
        free = [h for h in section.widths if not between_arches(places, x, h, book.start)]
        low, high = min(free, default=0.0), max(free, default=0.0)
        if high > low:
            yield between(f"left wall {number}/{low:g}", f"right wall {number}/{high:g}")
            yield between(f"right wall {number}/{low:g}", f"left wall {number}/{high:g}")
    for rear, front in itertools.pairwise(sections):
        x = float(np.round((rear.at.value + front.at.value) / 2.0))
        yield NoteSpec(across=(x, sorted(rear.widths)[-1]), reads=reads)
    yield NoteSpec(angle="floor", degrees=Measured(0.0))
    yield NoteSpec(angle="seat_back", degrees=Measured(0.0))
