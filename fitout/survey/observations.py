"""A bay's entries and tape notes as observations of its unknowns.

Every entry is a note that says one number directly (unless it is a guess, `about …`); the
notes of `bay: survey:` say how the numbers hang together. Unknowns are the bay's measured
numbers, and with them what only the notes need: how far out of level the vehicle stood, and
how far a soft lining gives when pressed. The bay's numbers are what a tape reads that just
touches a lining: nothing may press into it for good.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from fitout.model.design import BaySpec
from fitout.model.fault import Fault, Path
from fitout.model.notes import NoteSpec, SurveySpec
from fitout.model.spec import Measured
from fitout.survey import tape
from fitout.survey.adjustment import Array, Observation
from fitout.survey.measures import ANGLES, measure, tape_ends
from fitout.survey.note_faults import note_faults
from fitout.survey.parameters import Parameter, parameters
from fitout.survey.points import Places, Quantity
from fitout.survey.supersession import (
    Meant,
    Superseded,
    completed,
    naming_faults,
    note_path,
    renewed,
    replaced_by,
)
from fitout.survey.uncertainty import Contribution, combine, rectangular
from fitout.survey.words import describe

LEVEL_PRIOR_DEG = 1.0
"""How far out of level a vehicle on ground that looks level stands (standard uncertainty,
degrees; common practice)."""

DEFINED_U = 0.01
"""Standard uncertainty of what is so by definition, mm: small, and above nothing."""

SINKS = 0.25
"""Of what a soft lining gives when pressed, how much an end just touching it may sink in more
or less than it should (half width, of each end; common practice)."""

PITCH = "how far the vehicle stood out of level"
GIVE = "how far the lining gives"


@dataclass(frozen=True, slots=True, kw_only=True)
class Notebook:
    """All observations of a bay, its unknowns by name with a start for each, and faults.

    The first unknowns are the bay's `parameters`, in that order. Faults are notes that can't
    be used, located. `superseded` are readings that later ones took the place of; the bay of
    `places` has the entries among them as they were read last.
    """

    places: Places
    names: tuple[str, ...]
    start: Array
    observations: tuple[Observation, ...]
    faults: tuple[Fault, ...]
    superseded: tuple[Superseded, ...] = ()


def notebook(bay: BaySpec) -> Notebook:
    """The observations of a bay's entries and notes."""
    places, start = _laid_out(bay)
    notes, faults = _usable(places, start)
    replaced, unfit = replaced_by(notes, places)
    if not faults and not unfit:
        by_place = {meant.index: meant for meant in notes}
        places, start = _laid_out(renewed(bay, replaced, by_place, float(start[-1])))
    numbers = parameters(bay)
    counting: list[Observation] = []
    gone: list[Superseded] = []
    for i, number in enumerate(numbers):
        if number.path in replaced.entries:
            entry, by = _entry(places, i, number), replaced.entries[number.path]
            gone.append(Superseded(observation=entry, note=by, guess=number.about))
        elif not number.about:
            counting.append(_entry(places, i, number))
    counting += _priors(bay.survey, len(numbers))
    for meant in notes:
        taken = note_observations(meant.note, note_path(meant.index), places, start)
        if meant.index in replaced.notes:
            gone += [Superseded(observation=o, note=replaced.notes[meant.index]) for o in taken]
        else:
            counting += taken
    return Notebook(
        places=places,
        names=(*(places.names[p.path] for p in numbers), PITCH, GIVE),
        start=start,
        observations=tuple(counting),
        faults=(*faults, *unfit),
        superseded=tuple(gone),
    )


def _laid_out(bay: BaySpec) -> tuple[Places, Array]:
    """A bay's places, and where the adjustment of its unknowns starts."""
    give = tape.lining(bay.survey.lining)[0]
    return Places(bay), np.array([*(p.value for p in parameters(bay)), 0.0, give])


def _usable(places: Places, start: Array) -> tuple[list[Meant], list[Fault]]:
    """The notes without faults and what they measure, and the faults of the others."""
    notes = places.bay.survey.notes
    usable: list[Meant] = []
    faults: list[Fault] = []
    for k, written in enumerate(notes):
        path = note_path(k)
        note = completed(written, places, notes)
        found = list(naming_faults(written, path, places, notes))
        found = found or list(note_faults(note, path, places, start))
        faults += found
        if not found:
            usable.append(Meant(k, note, measure(places, note, start, pitch=len(start) - 2)))
    return usable, faults


def note_observations(
    note: NoteSpec, path: Path, places: Places, start: Array
) -> Iterator[Observation]:
    """One observation for each reading of a note without faults."""
    give = len(start) - 1
    meant = measure(places, note, start, pitch=give - 1)
    survey = _as_noted(note, places.bay.survey)
    name = note.name or describe(note)
    # Another tape has another error.
    group = meant.what if survey.tape == places.bay.survey.tape else f"{meant.what} ({survey.tape})"
    touching = [r for r in (note.reads, note.degrees, *note.again) if r is not None]
    readings = [
        (name if k == 0 else f"{name} (again {k})", reading, meant.quantity, survey)
        for k, reading in enumerate(touching)
    ]
    if note.pressed is not None:
        label = f"{name} (pressed)" if touching else name
        pressed = _pressed(meant.quantity, meant.ends, give)
        # Pressed down, a lining is as hard as what is behind it.
        readings.append((label, note.pressed, pressed, replace(survey, surface="hard")))
    for label, reading, quantity, taken in readings:
        sure = how_sure(reading, taken, meant.ends)
        yield Observation(
            name=label,
            path=path,
            value=reading.value,
            u=sure.u,
            shared=sure.shared,
            predict=quantity.value,
            on=tuple(sorted(quantity.on)),
            group=group,
        )


def how_sure(reading: Measured, survey: SurveySpec, ends: int) -> tape.Reading:
    """How sure a reading is; `ends` of the tape touch the surface, none for an angle.

    A tolerance noted with it counts as it stands.
    """
    if reading.tolerance is not None:
        return tape.tolerated(reading.tolerance)
    if not ends:
        return tape.Reading(tape.level_u_deg(), 0.0)
    sure = tape.reading(abs(reading.value), survey.tape, hooked=survey.hooked)
    if survey.surface == "hard":
        return sure
    # One lining gives alike wherever it is touched: repeating does not average that away.
    sinking = Contribution(ends * rectangular(SINKS * tape.lining(survey.lining)[0]))
    return tape.Reading(
        u=combine([Contribution(sure.u), sinking]).u,
        shared=combine([Contribution(sure.shared), sinking]).u,
    )


def in_degrees(note: Observation, bay: BaySpec) -> bool:
    """Whether an entry or note of the bay (or what is known before any) is an angle."""
    if note.path[:3] == ("bay", "survey", "notes"):
        return bay.survey.notes[int(note.path[3])].degrees is not None
    return note.name == PITCH or note.path[-1:] in {(key,) for key in ANGLES}


def _pressed(quantity: Quantity, ends: int, give: int) -> Quantity:
    return Quantity(
        lambda unknowns: quantity.value(unknowns) + ends * float(unknowns[give]),
        quantity.on | {give},
    )


def _as_noted(note: NoteSpec, survey: SurveySpec) -> SurveySpec:
    """How the whole survey was taken, with what the note says otherwise."""
    return replace(
        survey,
        tape=note.tape or survey.tape,
        hooked=survey.hooked if note.hooked is None else note.hooked,
        surface=note.surface or survey.surface,
    )


def _entry(places: Places, i: int, number: Parameter) -> Observation:
    """What an entry says of the unknown it is, the i-th."""
    measured = Measured(number.value, number.tolerance)
    sure = how_sure(measured, places.bay.survey, tape_ends(number.path))
    if number.path[-1] == "at" and number.value == 0.0 and number.tolerance is None:
        # The section at the sill lies there because the sill is where lengths begin.
        sure = tape.Reading(DEFINED_U, 0.0)
    return Observation(
        name=places.names[number.path],
        path=("bay", *number.path),
        value=measured.value,
        u=sure.u,
        shared=sure.shared,
        predict=places.entry(*number.path).value,
        on=(i,),
        group=places.names[number.path],
    )


def _priors(survey: SurveySpec, pitch: int) -> Iterator[Observation]:
    """What is known of level and lining before any note."""
    mean, u = tape.lining(survey.lining)
    for name, value, sure in ((PITCH, 0.0, LEVEL_PRIOR_DEG), (GIVE, mean, u)):
        index = pitch if name == PITCH else pitch + 1
        yield Observation(
            name=name,
            path=("bay", "survey"),
            value=value,
            u=sure,
            predict=_alone(index).value,
            on=(index,),
        )


def _alone(index: int) -> Quantity:
    return Quantity(lambda unknowns: float(unknowns[index]), frozenset((index,)))
