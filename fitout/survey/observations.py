"""A bay's entries and tape notes as observations of its unknowns.

Every entry is a note that says one number directly (unless it is a guess, `about …`); the
notes of `bay: survey:` say how the numbers hang together. Unknowns are the bay's measured
numbers, and with them what only the notes need: how far out of level the vehicle stood, and
how far a soft lining gives when pressed.
"""

from __future__ import annotations

import difflib
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from fitout.model.design import BaySpec
from fitout.model.fault import Fault, Path
from fitout.model.notes import NoteSpec, SurveySpec
from fitout.model.spec import Measured
from fitout.survey import tape
from fitout.survey.adjustment import Array, Observation
from fitout.survey.parameters import Parameter, parameters
from fitout.survey.points import Places, Quantity

LEVEL_PRIOR_DEG = 1.0
"""How far out of level a vehicle on ground that looks level stands (standard uncertainty,
degrees; common practice)."""

DEFINED_U = 0.01
"""Standard uncertainty of what is so by definition, mm: small, and above nothing."""

ANGLES = ("leans",)
"""Entries that are angles, by their last key."""

PITCH = "how far the vehicle stood out of level"
GIVE = "how far the lining gives"


@dataclass(frozen=True, slots=True, kw_only=True)
class Notebook:
    """All observations of a bay, its unknowns by name with a start for each, and faults.

    The first unknowns are the bay's `parameters`, in that order. Faults are notes that can't
    be used, located below `bay`.
    """

    places: Places
    names: tuple[str, ...]
    start: Array
    observations: tuple[Observation, ...]
    faults: tuple[Fault, ...]


def notebook(bay: BaySpec) -> Notebook:
    """The observations of a bay's entries and notes."""
    places = Places(bay)
    numbers = parameters(bay)
    survey = bay.survey
    pitch, give = len(numbers), len(numbers) + 1
    reader = _Reader(places, survey, pitch, give)
    entries = [o for i, number in enumerate(numbers) for o in _entry(survey, i, number)]
    notes: list[Observation] = []
    faults: list[Fault] = []
    for k, note in enumerate(survey.notes):
        path: Path = ("bay", "survey", "notes", k)
        found = list(reader.faults(note, path))
        faults += found
        if not found:
            notes += reader.observations(note, path)
    start = [*(p.value for p in numbers), 0.0, tape.lining(survey.lining)[0]]
    return Notebook(
        places=places,
        names=(*(p.name for p in numbers), PITCH, GIVE),
        start=np.array(start),
        observations=(*entries, *_priors(survey, pitch, give), *notes),
        faults=tuple(faults),
    )


def _entry(survey: SurveySpec, i: int, number: Parameter) -> Iterator[Observation]:
    if number.about:
        return
    measured = Measured(number.value, number.tolerance)
    sure = _sure(measured, survey, number.path[-1] in ANGLES)
    if number.path[-1] == "at" and number.value == 0.0 and number.tolerance is None:
        # The section at the sill lies there because the sill is where lengths begin.
        sure = tape.Reading(DEFINED_U, 0.0)
    yield Observation(
        name=number.name,
        path=("bay", *number.path),
        value=measured.value,
        u=sure.u,
        shared=sure.shared,
        predict=lambda unknowns: float(unknowns[i]),
        on=(i,),
        group=number.name,
    )


def _sure(measured: Measured, survey: SurveySpec, angle: bool) -> tape.Reading:
    if angle:
        if measured.tolerance is not None:
            return tape.tolerated(measured.tolerance)
        return tape.Reading(tape.level_u_deg(), 0.0)
    if measured.tolerance is not None:
        return tape.tolerated(measured.tolerance)
    return tape.reading(abs(measured.value), survey.tape, hooked=survey.hooked)


def _priors(survey: SurveySpec, pitch: int, give: int) -> Iterator[Observation]:
    """What is known of level and lining before any note."""
    mean, u = tape.lining(survey.lining)
    for index, name, value, sure in ((pitch, PITCH, 0.0, LEVEL_PRIOR_DEG), (give, GIVE, mean, u)):
        yield Observation(
            name=name,
            path=("bay", "survey"),
            value=value,
            u=sure,
            predict=lambda unknowns, index=index: float(unknowns[index]),  # type: ignore[misc]
            on=(index,),
        )


class _Reader:
    """Turns notes into observations of one bay's unknowns."""

    def __init__(self, places: Places, survey: SurveySpec, pitch: int, give: int) -> None:
        self.places = places
        self.survey = survey
        self.pitch = pitch
        self.give = give

    def faults(self, note: NoteSpec, path: Path) -> Iterator[Fault]:
        """What makes a note unusable: nothing or too much measured, unknown points, no reading."""
        said = [k for k in KINDS if getattr(note, k) is not None]
        if len(said) != 1:
            found = " and ".join(said) if said else "a note that says nothing of what it measures"
            yield Fault(path=path, found=found, expected=f"one of {', '.join(KINDS)}")
            return
        yield from self._unknown_points(note, path)
        if note.angle is not None:
            if note.degrees is None:
                yield Fault(path=path, found="no `degrees`", expected="what the level read")
        elif note.reads is None and note.pressed is None:
            yield Fault(path=path, found="no `reads`", expected="what the tape read")
        if note.string is not None and note.offset_to is None:
            expected = "`offset_to`: the point measured off the string"
            yield Fault(path=path, found="a string and nothing measured off it", expected=expected)

    def _unknown_points(self, note: NoteSpec, path: Path) -> Iterator[Fault]:
        asked: list[tuple[Path, str]] = []
        for key, pair in (("between", note.between), ("string", note.string)):
            if pair is None:
                continue
            asked += [((*path, key, i), name) for i, name in enumerate(pair)]
            if pair[0] == pair[1]:
                yield Fault(path=(*path, key), found=f"{pair[0]} twice", expected="two points")
        if note.offset_to is not None:
            asked.append(((*path, "offset_to"), note.offset_to))
        for where, name in asked:
            if name not in self.places.points:
                near = nearest(name, list(self.places.points))
                hint = f"Nearest: {', '.join(near)}." if near else ""
                yield Fault(path=where, found=name, expected="a named point of this bay", hint=hint)

    def observations(self, note: NoteSpec, path: Path) -> Iterator[Observation]:
        """One observation for each reading of a note."""
        quantity, ends = self.measured(note)
        name = note.name or describe(note)
        if note.angle is not None:
            assert note.degrees is not None
            yield self._observation(name, path, note.degrees, quantity, angle=True, note=note)
            return
        for k, reading in enumerate(r for r in (note.reads, *note.again) if r is not None):
            label = name if k == 0 else f"{name} (again {k})"
            yield self._observation(label, path, reading, quantity, note=note)
        if note.pressed is not None:
            give = self.give
            pressed = Quantity(
                lambda unknowns: quantity.value(unknowns) + ends * float(unknowns[give]),
                quantity.on | {give},
            )
            yield self._observation(f"{name} (pressed)", path, note.pressed, pressed, note=note)

    def _observation(
        self,
        name: str,
        path: Path,
        reading: Measured,
        quantity: Quantity,
        *,
        note: NoteSpec,
        angle: bool = False,
    ) -> Observation:
        survey = SurveySpec(
            tape=note.tape or self.survey.tape,
            hooked=self.survey.hooked if note.hooked is None else note.hooked,
        )
        sure = _sure(reading, survey, angle)
        return Observation(
            name=name,
            path=path,
            value=reading.value,
            u=sure.u,
            shared=sure.shared,
            predict=quantity.value,
            on=tuple(sorted(quantity.on)),
            group=name.split(" (", 1)[0],
        )

    def measured(self, note: NoteSpec) -> tuple[Quantity, int]:
        """What a note measures, and how many of its ends may touch a soft lining."""
        places = self.places
        if note.between is not None:
            return self._distance(*note.between), 2
        if note.across is not None:
            x, z = note.across
            at = Quantity(lambda _unknowns: x)
            halves = [places.half_at(side, at, z) for side in ("left", "right")]
            return _sum(halves), 2
        if note.up is not None:
            return places.roof(note.up), 1
        if note.forward is not None:
            return places.front(note.forward), 1
        if note.string is not None:
            assert note.offset_to is not None
            return self._offset(*note.string, note.offset_to), 1
        pitch = self.pitch
        level = Quantity(lambda unknowns: float(unknowns[pitch]), frozenset((pitch,)))
        if note.angle == "floor":
            return level, 0
        return _sum([places.entry("seat_back", "leans"), level]), 0

    def _distance(self, a: str, b: str) -> Quantity:
        p, q = self.places.points[a], self.places.points[b]
        return Quantity(
            lambda unknowns: float(np.linalg.norm(p.at(unknowns) - q.at(unknowns))), p.on | q.on
        )

    def _offset(self, a: str, b: str, c: str) -> Quantity:
        """How far a point lies from the straight line through two others."""
        p, q, r = (self.places.points[name] for name in (a, b, c))

        def value(unknowns: Array) -> float:
            start = p.at(unknowns)
            along, out = q.at(unknowns) - start, r.at(unknowns) - start
            return float(np.linalg.norm(np.cross(along, out)) / np.linalg.norm(along))

        return Quantity(value, p.on | q.on | r.on)


KINDS = ("between", "across", "up", "forward", "string", "angle")


def describe(note: NoteSpec) -> str:
    """A note in the words a builder would use for it."""
    if note.between is not None:
        return f"{note.between[0]} to {note.between[1]}"
    if note.across is not None:
        return f"width {note.across[0]:g} forward, {note.across[1]:g} up"
    if note.up is not None:
        return f"roof height {note.up:g} forward"
    if note.forward is not None:
        return f"depth {note.forward:g} up"
    if note.string is not None:
        return f"{note.offset_to} off the string {note.string[0]} to {note.string[1]}"
    return "lean of the seat back" if note.angle == "seat_back" else "slope of the floor"


def nearest(name: str, known: Sequence[str]) -> list[str]:
    """The known names most like one, best first, at most three."""
    return difflib.get_close_matches(name, known, n=3, cutoff=0.5)


def _sum(quantities: Sequence[Quantity]) -> Quantity:
    values: list[Callable[[Array], float]] = [q.value for q in quantities]
    return Quantity(
        lambda unknowns: math.fsum(value(unknowns) for value in values),
        frozenset().union(*(q.on for q in quantities)),
    )
