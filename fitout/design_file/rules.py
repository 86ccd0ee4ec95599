"""Faults of meaning: entries that are well formed but can't be true together.

Every rule looks only at values that were read, so that it can still judge what it needs
when something else in the file is at fault.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from fitout.design_file import bay_rules
from fitout.design_file.messages import located, quoted, suggestion
from fitout.design_file.parts import Parts, parts_of
from fitout.model.design import Design, ItemSpec, ModuleSpec
from fitout.model.fault import Fault

RELATIONS = ("behind", "in_front_of", "left_of", "right_of", "on")
PLACES = ("seat_back", "front_wall", "floor", "walls")
"""What of the vehicle a module may be placed by."""

RESERVED = ("bay", *PLACES)
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
    absent = {
        place
        for place in ("seat_back", "front_wall")
        if parts.has("bay") and not parts.has("bay", place)
    }
    for name, module in parts.below("modules"):
        if not isinstance(module, ModuleSpec):
            continue
        others = tuple(other for other in modules if other != name)
        known = (*others, *(place for place in PLACES if place not in absent))
        for relation in RELATIONS:
            target = getattr(module, relation)
            if target is None or target in known:
                continue
            found = "itself" if target == name else quoted(target)
            wanted = "the name of another module or a part of the vehicle"
            hint = suggestion(target, known)
            if target in absent:
                wanted, hint = "something that exists", f"The bay has no {target}."
            path = ("modules", name, relation)
            yield Fault(path=path, found=found, expected=wanted, hint=hint)


def lids(parts: Parts) -> Iterator[Fault]:
    """A lid opens."""
    for name, item in parts.below("items"):
        if isinstance(item, ItemSpec) and item.lid is not None and item.lid.opens <= 0.0:
            path = ("items", name, "lid", "opens")
            yield Fault(path=path, found=f"{item.lid.opens:g} deg", expected="an angle above 0")


RULES = (*bay_rules.RULES, names, relations, lids)
