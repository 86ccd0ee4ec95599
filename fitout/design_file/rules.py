"""Faults of meaning: entries that are well formed but can't be true together.

Every rule looks only at values that were read, so that it can still judge what it needs
when something else in the file is at fault.
"""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterator, Mapping
from types import MappingProxyType

from fitout.design_file import (
    bay_rules,
    document_rules,
    door_rules,
    item_rules,
    stock_rules,
    trip_rules,
    vehicle_rules,
)
from fitout.design_file.messages import located, quoted, suggestion
from fitout.design_file.parts import Parts, parts_of, parts_of_bay
from fitout.model.design import BaySpec, Design, ItemSpec, ModuleSpec
from fitout.model.fault import Fault, Path
from fitout.survey.observations import Notebook, notebook

BAY_ENDS = ("seat_back", "front_wall")
FLOOR = "floor"

RELATIONS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "behind": BAY_ENDS,
        "in_front_of": (),
        "left_of": (),
        "right_of": (),
        "on": (FLOOR,),
        "between": BAY_ENDS,
    }
)
"""How modules are placed by each other, and what of the vehicle each relation may name."""

RESERVED = ("bay", "walls", FLOOR, *BAY_ENDS)
HALVES = ("left", "right")
"""A module on both sides stands in the bay as `name left` and `name right`."""

_NAME = re.compile(r"\w[\w .+-]{0,59}")


def validate(design: Design) -> tuple[Fault, ...]:
    """Every fault of meaning in a design, located where its sources are known."""
    return tuple(located(fault, design.sources) for fault in faults_of(parts_of(design)))


def faults_of(parts: Parts) -> tuple[Fault, ...]:
    """The faults that can be judged from what was read of a file."""
    return tuple(fault for rule in RULES for fault in rule(parts))


def names(parts: Parts) -> Iterator[Fault]:
    """Names of modules and items can stand in part labels and file names."""
    for group in ("modules", "items"):
        folded: dict[str, str] = {}
        for name in parts.names(group):
            if not _NAME.fullmatch(name) or name != name.strip(" ."):
                wanted = "a name of letters, digits, spaces, - and _, at most 60 long"
                yield Fault(path=(group, name), found=quoted(name), expected=wanted)
            elif group == "modules" and name.lower().replace(" ", "_") in RESERVED:
                wanted = "another name"
                hint = f"{quoted(name)} means a part of the vehicle."
                yield Fault(path=(group, name), found=quoted(name), expected=wanted, hint=hint)
            elif name.casefold() in folded:
                found = f"{name} and {folded[name.casefold()]}"
                wanted = "names that differ by more than capitals"
                yield Fault(path=(group, name), found=found, expected=wanted)
            folded.setdefault(name.casefold(), name)


def relations(parts: Parts) -> Iterator[Fault]:
    """A module stands behind, beside or on something that exists and is not itself."""
    modules = parts.names("modules")
    absent = {end for end in BAY_ENDS if parts.has("bay") and not parts.has("bay", end)}
    for name, module in parts.below("modules"):
        if not isinstance(module, ModuleSpec):
            continue
        others = tuple(other for other in modules if other != name)
        halves = {f"{other} {half}" for other in others for half in HALVES}
        for path, target, places in _targets(str(name), module):
            there = tuple(place for place in places if place not in absent)
            if target in others or target in halves or target in there:
                continue
            found = "itself" if target == name else quoted(target)
            wanted = " or ".join(("another module", *there))
            hint = suggestion(target, (*others, *there))
            if target in absent:
                hint = f"The bay has no {target}."
            yield Fault(path=path, found=found, expected=wanted, hint=hint)


def _targets(name: str, module: ModuleSpec) -> Iterator[tuple[Path, str, tuple[str, ...]]]:
    """What a module is placed by: where that is written, its name, the places it may be."""
    for relation, places in RELATIONS.items():
        target = getattr(module, relation, None)
        path: Path = ("modules", name, relation)
        if isinstance(target, str):
            yield path, target, places
        elif isinstance(target, tuple):
            for index, one in enumerate(target):
                yield (*path, index), one, places


def lids(parts: Parts) -> Iterator[Fault]:
    """A lid opens."""
    for name, item in parts.below("items"):
        if isinstance(item, ItemSpec) and item.lid is not None and item.lid.opens <= 0.0:
            path = ("items", name, "lid", "opens")
            yield Fault(path=path, found=f"{item.lid.opens:g} deg", expected="an angle above 0")


def notes(parts: Parts) -> Iterator[Fault]:
    """Tape notes name points the bay has, and say one possible thing each."""
    bay = parts.record(BaySpec, "bay")
    # A bay that can't be has no places to measure between.
    if bay is None or not bay.survey.notes or any(_bay_faults(parts)):
        return
    book = notebook(bay)
    yield from book.faults
    if book.superseded and not book.faults:
        yield from _superseding_faults(book)


def _superseding_faults(book: Notebook) -> Iterator[Fault]:
    """The bay must still be one with what was read on a later visit."""
    notes = {one.observation.path: one.note for one in book.superseded}
    for fault in _bay_faults(parts_of_bay(book.places.bay)):
        note = next((k for path, k in notes.items() if path[: len(fault.path)] == fault.path), None)
        if note is None:
            note = next(iter(notes.values()))
        place: Path = ("bay", "survey", "notes", note)
        hint = f"{fault.hint} That is what the notes that supersede make of the bay.".strip()
        yield dataclasses.replace(fault, path=place, hint=hint)


def _bay_faults(parts: Parts) -> Iterator[Fault]:
    return (fault for rule in bay_rules.RULES for fault in rule(parts))


def as_built(parts: Parts) -> Iterator[Fault]:
    """A part as built was measured, not guessed, and something of it was."""
    for name, part in parts.below("as_built"):
        path: Path = ("as_built", name)
        sizes = {key: getattr(part, key) for key in ("length", "width", "thickness")}
        if not any(sizes.values()):
            wanted = "what was measured: length, width or thickness"
            yield Fault(path=path, found="no size", expected=wanted)
        for key, read in sizes.items():
            if read is None:
                continue
            if read.about:
                found, wanted = f"about {read.value:g}", "what was read, without about"
                yield Fault(path=(*path, key), found=found, expected=wanted)
            elif read.value <= 0.0:
                yield Fault(path=(*path, key), found=f"{read.value:g}", expected="a length above 0")
            elif read.tolerance is not None and not 0.0 < read.tolerance < read.value:
                found = f"{read.value:g} ± {read.tolerance:g}"
                wanted = "a tolerance above 0 and less than the length"
                yield Fault(path=(*path, key), found=found, expected=wanted)


RULES = (
    *bay_rules.RULES,
    *door_rules.RULES,
    *vehicle_rules.RULES,
    *trip_rules.RULES,
    *item_rules.RULES,
    *stock_rules.RULES,
    *document_rules.RULES,
    notes,
    names,
    relations,
    lids,
    as_built,
)
