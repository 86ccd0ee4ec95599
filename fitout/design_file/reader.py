"""Located nodes into the records of `fitout.model.design`, by their declarations alone."""

from __future__ import annotations

import dataclasses
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum
from types import MappingProxyType
from typing import Any, Final

from fitout.design_file.known_names import known_names, left_out
from fitout.design_file.layout import FileSpec
from fitout.design_file.messages import (
    at,
    did_you_mean,
    listed,
    located,
    nearest,
    quoted,
    suggestion,
)
from fitout.design_file.nodes import List, Node, Place, Table, Text, parse, walk
from fitout.design_file.parts import Parts
from fitout.design_file.quantities import Misread, misread_comma, plain_number
from fitout.design_file.rules import FLOOR, faults_of
from fitout.design_file.scalars import plain, read_scalar
from fitout.design_file.shapes import (
    Anything,
    Choice,
    Entry,
    Fixed,
    ListOf,
    Mapped,
    Number,
    OneOf,
    Section,
    Shape,
    Words,
    entries_of,
    expected,
)
from fitout.model.design import FORMAT_VERSION, NOTHING, BoardSpec, Design, ModuleSpec
from fitout.model.fault import DesignError, Fault, Path
from fitout.model.spec import Unit

KIND = "kind"
FIT = "fit"


class _Failed(Enum):
    FAILED = "failed"


FAILED: Final = _Failed.FAILED


@dataclass(frozen=True, slots=True)
class Reading:
    """What reading one file needs and gathers: faults, values by key path, further places."""

    specs: Mapping[str, type[ModuleSpec]]
    names: Mapping[str, Collection[str] | None]
    faults: list[Fault] = field(default_factory=list)
    values: dict[Path, Any] = field(default_factory=dict)
    places: dict[Path, Place] = field(default_factory=dict)

    def apart(self) -> Reading:
        """A reading on trial, whose findings are kept only by `keep`."""
        return Reading(self.specs, self.names)

    def keep(self, trial: Reading) -> None:
        """Take over what a trial gathered."""
        self.faults.extend(trial.faults)
        self.values.update(trial.values)
        self.places.update(trial.places)

    def fault(self, place: Place, path: Path, found: str, wanted: str, hint: str = "") -> _Failed:
        """Note a fault; returns FAILED so that a reader can end with it."""
        self.faults.append(at(Fault(path=path, found=found, expected=wanted, hint=hint), place))
        return FAILED


def read_text(
    text: str,
    file: str,
    specs: Mapping[str, type[ModuleSpec]],
    catalogue_names: Mapping[str, Collection[str]],
) -> Design:
    """The design a text describes; `file` is only how messages name it.

    `specs` gives the entries of each kind of module, `catalogue_names` the names in each
    table of the catalogue.

    Raises:
        DesignError: with every fault found, each with line and column.
    """
    root, faults = parse(text.removeprefix("\ufeff"))
    if root is None:
        raise DesignError(faults)
    return read_root(root, faults, file, specs, catalogue_names)


def read_root(
    root: Node,
    faults: Sequence[Fault],
    file: str,
    specs: Mapping[str, type[ModuleSpec]],
    catalogue_names: Mapping[str, Collection[str]] | None,
) -> Design:
    """The same from a text already parsed, with the faults of its form.

    Rows of a catalogue that stand in a file of their own are not read here. Names of the
    catalogue are not judged where `catalogue_names` is None.
    """
    reading = Reading(specs, known_names(root, catalogue_names))
    version = _other_version(root)
    if version is not None:
        wanted = f"{FORMAT_VERSION}, the format this program reads"
        reading.fault(version.place, ("fitout",), quoted(version.value), wanted)
        raise DesignError([*faults, *reading.faults])
    read = _read(reading, root, Section(FileSpec), ())
    sources = {**{path: node.place for path, node in walk(root)}, **reading.places}
    written = [path for path, node in walk(root) if not left_out(node)]
    form = {(fault.line, fault.column) for fault in faults}
    meant = [fault for fault in reading.faults if (fault.line, fault.column) not in form]
    reading.faults[:] = [*faults, *meant, *faults_of(Parts(reading.values, written))]
    if reading.faults:
        raise DesignError([located(fault, sources) for fault in reading.faults])
    boards = {
        role: BoardSpec(sheet=board) if isinstance(board, str) else board
        for role, board in (read.boards or {}).items()
    }
    return Design(
        name=read.name,
        bay=read.bay,
        boards=MappingProxyType(boards),
        items=read.items or NOTHING,
        modules=MappingProxyType(
            {name: _on_the_floor(module) for name, module in read.modules.items()}
        ),
        cutting=read.cutting,
        clearances=read.clearances,
        catalogue=read.catalogue if isinstance(read.catalogue, Mapping) else NOTHING,
        sources=MappingProxyType(sources),
        file=file,
        as_built=read.as_built or NOTHING,
        vehicle=read.vehicle,
        restraint=read.restraint,
        stock=read.stock,
        documents=read.documents,
        trips=read.trips or NOTHING,
    )


def read_record(
    text: str, record: type[Any], names: Mapping[str, Collection[str] | None]
) -> tuple[Any, tuple[Fault, ...]]:
    """The record a text describes, None unless it is sound, and every fault with its place.

    `names` holds what references may name, by table.
    """
    root, faults = parse(text.removeprefix("\ufeff"))
    if root is None:
        return None, tuple(faults)
    reading = Reading(MappingProxyType({}), names)
    read = _read(reading, root, Section(record), ())
    form = {(fault.line, fault.column) for fault in faults}
    meant = [fault for fault in reading.faults if (fault.line, fault.column) not in form]
    found = (*faults, *meant)
    return (None if found else read), found


def _on_the_floor(module: ModuleSpec) -> ModuleSpec:
    """A module said to stand on the floor is one that stands on nothing else."""
    return dataclasses.replace(module, on=None) if module.on == FLOOR else module


def _other_version(root: Node) -> Text | None:
    """The format version, where it is a number this program doesn't read."""
    node = root.get("fitout") if isinstance(root, Table) else None
    if not isinstance(node, Text):
        return None
    number = plain_number(node.value)
    return node if number is not None and number != FORMAT_VERSION else None


def _read(reading: Reading, node: Node, shape: Shape, path: Path, example: str = "") -> Any:
    """The value a node stands for, or FAILED with its faults noted."""
    value = _dispatch(reading, node, shape, path, example)
    if value is not FAILED:
        reading.values[path] = value
    return value


def _dispatch(reading: Reading, node: Node, shape: Shape, path: Path, example: str) -> Any:
    match shape:
        case OneOf():
            return _one_of(reading, node, shape, path, example)
        case Anything():
            return plain(node)
        case Section(record) if isinstance(node, Table):
            if record is ModuleSpec:
                return _module(reading, node, path)
            return _section(reading, node, record, path)
        case Mapped() if isinstance(node, Table):
            return _mapped(reading, node, shape, path)
        case ListOf(member, some) if isinstance(node, List) and (node.children or not some):
            members = (member,) * len(node.children)
            return _members(reading, node, members, path)
        case Fixed(members) if isinstance(node, List) and len(node.children) == len(members):
            return _members(reading, node, members, path)
        case Section() | Mapped() | ListOf() | Fixed():
            return _wrong_form(reading, node, shape, path, example)
    if not isinstance(node, Text):
        return _wrong_form(reading, node, shape, path, example)
    try:
        return read_scalar(node, shape, reading.names)
    except Misread as misread:
        found = quoted("" if node.is_nothing else node.value) + misread.note
        return reading.fault(node.place, path, found, misread.expected, misread.hint)


def _wrong_form(reading: Reading, node: Node, shape: Shape, path: Path, example: str) -> _Failed:
    hint = f"For example {example}." if example else ""
    if isinstance(node, Text):
        found = quoted("" if node.is_nothing else node.value)
    elif isinstance(node, List):
        found = f"a list of {len(node.children)}"
    else:
        found = "named entries"
    return reading.fault(node.place, path, found, expected(shape), hint)


def _one_of(reading: Reading, node: Node, shape: OneOf, path: Path, example: str) -> Any:
    """The first option that can be read from the node's form."""
    if shape.optional and isinstance(node, Text):
        lengths = any(
            isinstance(option, Number) and option.quantity.unit is Unit.LENGTH
            for option in shape.options
        )
        worked_out = node.value == FIT and lengths and path[:1] == ("modules",)
        if node.is_nothing or worked_out:
            return None
    options = tuple(option for option in shape.options if _fits(node, option))
    if not options:
        return _wrong_form(reading, node, shape, path, example)
    if len(options) == 1:
        return _dispatch(reading, node, options[0], path, example)
    trials = []
    for option in options:
        trial = reading.apart()
        value = _dispatch(trial, node, option, path, example)
        if value is not FAILED:
            reading.keep(trial)
            return value
        trials.append(trial)
    if not isinstance(node, Text):
        reading.keep(min(trials, key=lambda trial: len(trial.faults)))
        return FAILED
    hints = [fault.hint for trial in trials for fault in trial.faults if fault.hint]
    hint = did_you_mean(node.value, _known(reading, options)) or (hints[0] if hints else "")
    wanted = expected(OneOf(options, shape.optional))
    return reading.fault(node.place, path, quoted(node.value), wanted, hint)


def _known(reading: Reading, options: tuple[Shape, ...]) -> tuple[str, ...]:
    """The words that any of the options would take."""
    words: list[str] = []
    for option in options:
        if isinstance(option, Choice):
            words.extend(str(value) for value in option.values)
        elif isinstance(option, Words):
            words.extend(reading.names.get(option.table) or ())
    return tuple(words)


def _fits(node: Node, shape: Shape) -> bool:
    """Whether the node has the form of the shape: a list, a table, or text."""
    if isinstance(shape, Anything):
        return True
    if isinstance(node, List):
        return isinstance(shape, ListOf | Fixed)
    if isinstance(node, Table):
        return isinstance(shape, Section | Mapped)
    return not isinstance(shape, ListOf | Fixed | Section | Mapped)


def _members(reading: Reading, node: List, shapes: tuple[Shape, ...], path: Path) -> Any:
    members = [
        _read(reading, child, shape, (*path, index))
        for index, (child, shape) in enumerate(zip(node.children, shapes, strict=True))
    ]
    return FAILED if FAILED in members else tuple(members)


def _mapped(reading: Reading, node: Table, shape: Mapped, path: Path) -> Any:
    values: dict[Any, Any] = {}
    failed = False
    for index, (key, place, child) in enumerate(node.entries):
        if _is_parted(reading, node, index, path):
            failed = True
            continue
        name = _key(reading, key, place, shape.key, (*path, key))
        if name is FAILED:
            failed = True
            continue
        step = name if isinstance(name, str) else f"{name:g}"
        if name in values:
            hint = "It is the same as an earlier one, written otherwise."
            reading.fault(place, (*path, step), f"{quoted(key)} a second time", "each once", hint)
            failed = True
            continue
        reading.places[*path, step] = child.place
        values[name] = _read(reading, child, shape.value, (*path, step))
        failed = failed or values[name] is FAILED
    return FAILED if failed else MappingProxyType(values)


def _key(reading: Reading, key: str, place: Place, shape: Shape, path: Path) -> Any:
    """A key of a mapping, read as any other value but placed where the key stands."""
    return _dispatch(
        reading, Text(value=key, quoted=False, place=place, label=place), shape, path, ""
    )


def _module(reading: Reading, node: Table, path: Path) -> Any:
    """A module: the entries of its kind."""
    kinds = tuple(reading.specs)
    kind = node.get(KIND)
    if kind is None or left_out(kind):
        hint = suggestion(str(path[-1]), kinds)
        return reading.fault(node.label, path, "nothing for kind", "a kind of module", hint)
    if not isinstance(kind, Text) or kind.value not in reading.specs:
        found = quoted(kind.value) if isinstance(kind, Text) else "several entries"
        hint = suggestion(kind.value, kinds) if isinstance(kind, Text) else ""
        return reading.fault(kind.place, (*path, KIND), found, "a kind of module", hint)
    return _section(reading, node, reading.specs[kind.value], path, KIND)


def _section(
    reading: Reading, node: Table, record: type[Any], path: Path, besides: str = ""
) -> Any:
    """A record from named entries: unknown ones and missing ones are faults."""
    entries = entries_of(record)
    keys = tuple(entry.key for entry in entries)
    failed = False
    meant: set[str] = set()
    for index, (key, place, _) in enumerate(node.entries):
        if key not in keys and key != besides:
            failed = True
            if not _is_parted(reading, node, index, path):
                wanted, hint = f"one of {listed(keys)}", did_you_mean(key, keys)
                reading.fault(place, (*path, key), quoted(key), wanted, hint)
            meant.update(nearest(key, keys))
    values: dict[str, Any] = {}
    for entry in entries:
        if entry.required and entry.key in meant and node.get(entry.key) is None:
            # It is there under a wrong name, which has been reported.
            continue
        value = _entry(reading, node, entry, path)
        failed = failed or value is FAILED
        values[entry.name] = value
    return FAILED if failed else record(**values)


def _entry(reading: Reading, node: Table, entry: Entry, path: Path) -> Any:
    child = node.get(entry.key)
    where = (*path, entry.key)
    if child is not None and not left_out(child):
        return _read(reading, child, entry.shape, where, entry.example)
    if entry.default is not dataclasses.MISSING:
        return entry.default
    hint = f"For example {entry.key}: {entry.example}." if entry.example else ""
    wanted = f"{entry.key}: {entry.doc}"
    place = node.label if child is None else child.label
    return reading.fault(place, where, f"nothing for {entry.key}", wanted, hint)


def _is_parted(reading: Reading, node: Table, index: int, path: Path) -> bool:
    """Whether an entry is the end of a number, parted by a decimal comma; that is a fault.

    Within braces `{height: 262,5 ± 2}` holds a second entry, `5 ± 2`, with nothing for it.
    """
    key, (line, column), child = node.entries[index]
    if index == 0 or not key[:1].isdigit() or not left_out(child):
        return False
    before, start, value = node.entries[index - 1]
    if isinstance(value, Text) and not left_out(value):
        before, start = value.value, value.place
    whole = f"{before},{key}"
    misread = misread_comma(whole)
    if misread is None or start != (line, column - len(before) - 1):
        return False
    reading.fault(start, (*path, key), quoted(whole), misread.expected, misread.hint)
    return True
