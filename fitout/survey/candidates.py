"""What a builder could still measure: everything once more, and the notes that check most."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import replace

from fitout.model.notes import NoteSpec
from fitout.model.spec import Measured
from fitout.survey.adjustment import Observation
from fitout.survey.measures import measure, tape_ends
from fitout.survey.note_faults import note_faults
from fitout.survey.observations import (
    GIVE,
    PITCH,
    Notebook,
    how_sure,
    note_observations,
)
from fitout.survey.parameters import parameters
from fitout.survey.points import Places

DEPTH_AT = 300.0
"""Height at which the depth is asked for if nothing stands there, mm."""

AGAIN = ", once more"


def candidates(book: Notebook, depth_at: float = DEPTH_AT) -> tuple[Observation, ...]:
    """Further notes as observations: their readings are what the entries let expect.

    Guesses first, then everything once more, then diagonals, widths between what was
    measured, the depth at `depth_at`, the shut tailgate, an arch's edge, levels.
    """
    found = [*_guesses(book), *_repeats(book), *_fresh(book, depth_at)]
    return tuple({note.name: note for note in found}.values())


def _guesses(book: Notebook) -> Iterator[Observation]:
    for i, number in enumerate(parameters(book.places.bay)):
        if not number.about:
            continue
        reading = Measured(number.value)
        sure = how_sure(reading, book.places.bay.survey, tape_ends(number.path))
        yield Observation(
            name=book.names[i],
            path=("bay", *number.path),
            value=number.value,
            u=sure.u,
            shared=sure.shared,
            predict=book.places.entry(*number.path).value,
            on=(i,),
            group=book.names[i],
        )


def _repeats(book: Notebook) -> Iterator[Observation]:
    """Each thing measured, once more; not what is so by definition."""
    done: set[str] = set()
    for note in book.observations:
        if note.name in (PITCH, GIVE) or (note.path[-1] == "at" and note.value == 0.0):
            continue
        if note.group not in done:
            done.add(note.group)
            yield replace(note, name=f"{note.name}{AGAIN}")


def _fresh(book: Notebook, depth_at: float) -> Iterator[Observation]:
    """Standard notes, but those that measure what was measured already."""
    done = {note.group for note in book.observations}
    pitch = len(book.start) - 2
    for note in _standard(book, depth_at):
        if any(note_faults(note, (), book.places, book.start)):
            continue
        meant = measure(book.places, note, book.start, pitch)
        if meant.what in done:
            continue
        done.add(meant.what)
        reading = Measured(meant.quantity.value(book.start))
        read = replace(note, degrees=reading) if note.angle else replace(note, reads=reading)
        yield from note_observations(read, (), book.places, book.start)


def _standard(book: Notebook, depth_at: float) -> Iterator[NoteSpec]:
    places = book.places
    # Of a note whose reading is yet to come only the place is judged.
    reads, degrees = Measured(1.0), Measured(0.0)

    def between(a: str, b: str) -> NoteSpec:
        return NoteSpec(between=(a, b), reads=reads)

    yield between("left sill corner", "right front corner")
    yield between("right sill corner", "left front corner")
    sections = [places.bay.sections[i] for i in places.order]
    for number, section in enumerate(sections, start=1):
        low, high = min(section.widths), max(section.widths)
        if high > low:
            for a, b in (("left", "right"), ("right", "left")):
                yield between(f"{a} wall {number}/{low:g}", f"{b} wall {number}/{high:g}")
    for section in sections:
        for low, high in itertools.pairwise(sorted(section.widths)):
            across = (section.at.value, round((low + high) / 2.0))
            yield NoteSpec(across=across, reads=reads)
    for rear, front in itertools.pairwise(sections):
        x = float(round((rear.at.value + front.at.value) / 2.0))
        for height in sorted(rear.widths):
            yield NoteSpec(across=(x, height), reads=reads)
        yield NoteSpec(up=x, reads=reads)
    yield NoteSpec(forward=depth_at, reads=reads)
    for a, b in upright(places):
        yield between(a, b)
    yield NoteSpec(angle="floor", degrees=degrees)
    yield NoteSpec(angle="seat_back", degrees=degrees)


def upright(places: Places) -> Iterator[tuple[str, str]]:
    """Pairs of points whose distance checks what no width or depth does."""
    if places.bay.tailgate is not None:
        for height in sorted(places.bay.tailgate.inner_face):
            if height > 0.0:
                yield f"tailgate {height:g}", "front middle"
    if "left arch rear top" in places.points:
        yield "left arch rear foot", "left arch rear top"


def told(note: Observation) -> str:
    """What to do, for a candidate: measure it, or measure it once more."""
    if note.name.endswith(AGAIN):
        return f"measure again: {note.name.removesuffix(AGAIN)}"
    return f"measure: {note.name}"
