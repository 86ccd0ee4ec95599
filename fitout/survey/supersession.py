"""A second visit: which readings a re-measured one takes the place of.

A note that `supersedes` replaces what was read before of the same quantity: the bay's own
entry, and notes that stand above it in the list or bear an earlier date. Nothing is erased:
what was replaced is kept beside the observations and counts no more. What is the same
quantity is told by what notes measure (`measures`), never by what they are called.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from fitout.model.design import BaySpec
from fitout.model.fault import Fault, Path
from fitout.model.notes import NoteSpec, SurveySpec
from fitout.survey.adjustment import Observation
from fitout.survey.measures import KINDS, Measure, said
from fitout.survey.note_faults import nearest
from fitout.survey.parameters import parameters, with_value
from fitout.survey.points import Places
from fitout.survey.words import SEAT_LEVEL, SINGLE, describe

ANSWERS = {SEAT_LEVEL: SINGLE["seat_back", "leans"]}
"""Notes that answer the question of an entry, though what is read is another number: a level
held to the seat back reads its lean and, with it, how far the vehicle stands out of level."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Superseded:
    """A reading that counts no more, and the place of the note that took its place.

    `guess` marks an entry that was never read.
    """

    observation: Observation
    note: int
    guess: bool = False


@dataclass(frozen=True, slots=True)
class Meant:
    """A note without faults: its place in the list, the note, and what it measures."""

    index: int
    note: NoteSpec
    measure: Measure

    @property
    def subject(self) -> str:
        """The quantity it is about, in words."""
        return ANSWERS.get(self.measure.what, self.measure.what)


@dataclass(frozen=True, slots=True)
class Replaced:
    """What gave way to which note: entries by key path below `bay`, notes by their place."""

    entries: Mapping[Path, int]
    notes: Mapping[int, int]


def note_path(index: int) -> Path:
    """Where a note of the survey stands in the design file."""
    return ("bay", "survey", "notes", index)


def dated(note: NoteSpec, survey: SurveySpec) -> tuple[date | None, str | None]:
    """When and by whom a note was taken, as far as is known.

    What is said of the whole survey holds for its first visit, not for what supersedes it.
    """
    if note.supersedes:
        return note.on, note.by
    return note.on or survey.on, note.by or survey.by


def completed(note: NoteSpec, places: Places, notes: Sequence[NoteSpec]) -> NoteSpec:
    """A note that only names the note it supersedes, with what that one measures."""
    earlier = _note_named(note, places, notes)
    if earlier is None or said(note):
        return note
    kinds = {key: getattr(earlier, key) for key in (*KINDS, "offset_to")}
    return replace(note, name=note.name or earlier.name, **kinds)


def naming_faults(
    note: NoteSpec, path: Path, places: Places, notes: Sequence[NoteSpec]
) -> Iterator[Fault]:
    """What a note says it supersedes must be an entry of the bay or another note."""
    name = note.supersedes
    if not isinstance(name, str) or name in places.names.values():
        return
    if _note_named(note, places, notes) is None:
        others = [_name(other) for other in notes if other is not note and said(other)]
        near = nearest(name, list(dict.fromkeys([*places.names.values(), *others])))
        hint = f"Nearest: {', '.join(near)}." if near else ""
        expected = "yes, or what was read before as `fitout survey` names it"
        yield Fault(path=(*path, "supersedes"), found=name, expected=expected, hint=hint)


def replaced_by(notes: Sequence[Meant], places: Places) -> tuple[Replaced, tuple[Fault, ...]]:
    """What the notes that supersede take the place of, and why some can't."""
    faults: list[Fault] = []
    entries: dict[Path, int] = {}
    earlier: dict[int, int] = {}
    survey = places.bay.survey
    paths = {name: path for path, name in places.names.items()}
    for meant in notes:
        if not meant.note.supersedes:
            continue
        before = [n for n in notes if n.subject == meant.subject and _before(n, meant, survey)]
        entry = paths.get(meant.subject)
        if not before and entry is None:
            faults.append(_nothing_before(meant, notes, places))
            continue
        faults += _misnamed(meant, notes, places)
        faults += _dates(meant, before, survey, entry=entry is not None)
        for one in before:
            earlier.setdefault(one.index, meant.index)
        if entry is not None:
            entries.setdefault(entry, meant.index)
    return Replaced(entries, earlier), tuple(faults)


def renewed(bay: BaySpec, replaced: Replaced, notes: Mapping[int, Meant], give: float) -> BaySpec:
    """The bay with its superseded entries as they were read last.

    `give` is how far a lining gives at each end, mm: what was read pressed is less so.
    """
    for number in parameters(bay):
        index = replaced.entries.get(number.path)
        while index is not None:
            following = replaced.notes.get(index)
            if following is None:
                bay = with_value(bay, number, _read(notes[index], give))
            index = following
    return bay


def _read(meant: Meant, give: float) -> float:
    """What a note read, touching."""
    touching = meant.note.reads or meant.note.degrees
    if touching is not None:
        return touching.value
    assert meant.note.pressed is not None
    return meant.note.pressed.value - meant.measure.ends * give


def _name(note: NoteSpec) -> str:
    return note.name or describe(note)


def _note_named(note: NoteSpec, places: Places, notes: Sequence[NoteSpec]) -> NoteSpec | None:
    """The other note whose name a note gives as what it supersedes; entries come first."""
    name = note.supersedes
    if not isinstance(name, str) or name in places.names.values():
        return None
    others = (other for other in notes if other is not note and said(other))
    return next((other for other in others if name in (_name(other), describe(other))), None)


def _before(one: Meant, other: Meant, survey: SurveySpec) -> bool:
    """Whether a note stands above another in the list, or is dated earlier."""
    first, second = dated(one.note, survey)[0], dated(other.note, survey)[0]
    return one.index < other.index or (first is not None and second is not None and first < second)


def _nothing_before(meant: Meant, notes: Sequence[Meant], places: Places) -> Fault:
    """A note that supersedes what was never read."""
    known = [n.measure.what for n in notes if n is not meant]
    near = nearest(meant.subject, list(dict.fromkeys([*places.names.values(), *known])))
    hint = f"Nearest: {', '.join(near)}." if near else ""
    if meant.measure.halves:
        hint = (
            "That width was entered from the centre line to each side; supersede these by name: "
            f"{' and '.join(meant.measure.halves)}."
        )
    return Fault(
        path=(*note_path(meant.index), "supersedes"),
        found=f"nothing read before of {meant.subject}",
        expected="an entry or note of the same, earlier in the list or by its date",
        hint=hint,
    )


def _misnamed(meant: Meant, notes: Sequence[Meant], places: Places) -> Iterator[Fault]:
    """A note that says what it measures, and names something else as what it supersedes."""
    name = meant.note.supersedes
    if not isinstance(name, str):
        return
    named = {n.subject for n in notes if name in (_name(n.note), describe(n.note)) and n != meant}
    if name in places.names.values():
        named = {name}
    if meant.subject not in named:
        expected = f"what measures the same: {meant.subject}"
        hint = "Leave out what it measures, or write supersedes: yes."
        path = (*note_path(meant.index), "supersedes")
        yield Fault(path=path, found=name, expected=expected, hint=hint)


def _dates(
    meant: Meant, before: Sequence[Meant], survey: SurveySpec, *, entry: bool
) -> Iterator[Fault]:
    """A re-measured value is no older than what it replaces."""
    own = meant.note.on
    if own is None:
        return
    days = [dated(one.note, survey)[0] for one in before] + [survey.on if entry else None]
    latest = max((day for day in days if day is not None), default=own)
    if latest > own:
        yield Fault(
            path=(*note_path(meant.index), "on"),
            found=f"{own}, before what it supersedes was read ({latest})",
            expected="that day or a later one",
        )
