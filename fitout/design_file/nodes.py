"""YAML text into located nodes: text, lists and tables, with nothing resolved yet.

The parser's events are walked with a stack of our own, so that neither deep nesting nor
repeated references cost more than the text itself. Anchors, references, tags and several
documents are refused: a builder can't read them aloud.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import yaml

from fitout.design_file.syntax import syntax_fault, text_faults
from fitout.model.fault import Fault, Path

MAX_DEPTH = 20
MAX_NODES = 50_000
MAX_TEXT = 2_000
MAX_REFERENCES = 5
"""How many anchors and references are reported before reading stops."""

Place = tuple[int, int]
"""Line and column, both from 1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """A scalar as written. `quoted` text is never nothing, true or a number by itself."""

    value: str
    quoted: bool
    place: Place
    label: Place

    @property
    def is_nothing(self) -> bool:
        """Whether the builder left the value out."""
        return not self.quoted and self.value in ("", "~", "null", "Null", "NULL")


@dataclass(frozen=True, slots=True, kw_only=True)
class List:
    """A list of nodes."""

    children: tuple[Node, ...]
    place: Place
    label: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Named entries in the order written: each key, where the key stands, its node."""

    entries: tuple[tuple[str, Place, Node], ...]
    place: Place
    label: Place

    def get(self, key: str) -> Node | None:
        """The node under `key`, or None."""
        return next((node for name, _, node in self.entries if name == key), None)

    def keys(self) -> tuple[str, ...]:
        """The keys in the order written."""
        return tuple(name for name, _, _ in self.entries)


Node = Text | List | Table


def parse(text: str, loader: Any = None) -> tuple[Node | None, tuple[Fault, ...]]:
    """The text's only document, and the faults of its form.

    The node is None where the text can't be followed to its end. `loader` chooses the YAML
    parser; the compiled one is taken where PyYAML has it.
    """
    faults = text_faults(text)
    if faults:
        return None, faults
    chosen = loader or getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    builder = _Builder()
    try:
        for event in yaml.parse(text, Loader=chosen):
            builder.take(event)
            if builder.stopped:
                return None, tuple(builder.faults)
    except yaml.MarkedYAMLError as error:
        return None, (*builder.faults, syntax_fault(error, text))
    except (yaml.YAMLError, UnicodeError, ValueError) as error:
        found = f"text YAML can't be read from ({str(error).splitlines()[0][:80]})"
        fault = Fault(path=(), found=found, expected="a design", line=1, column=1)
        return None, (*builder.faults, fault)
    return builder.root, tuple(builder.faults)


def walk(node: Node, path: Path = ()) -> Iterator[tuple[Path, Node]]:
    """Every node of the document by its key path."""
    yield path, node
    if isinstance(node, List):
        for index, child in enumerate(node.children):
            yield from walk(child, (*path, index))
    elif isinstance(node, Table):
        for key, _, child in node.entries:
            yield from walk(child, (*path, key))


class _Open:
    """A list or table whose end has not been reached."""

    __slots__ = ("children", "is_table", "key", "keys", "label", "place")

    def __init__(self, *, is_table: bool, place: Place, label: Place) -> None:
        self.is_table = is_table
        self.place = place
        self.label = label
        self.children: list[Node] = []
        self.keys: list[tuple[str, Place]] = []
        self.key: tuple[str, Place] | None = None

    def closed(self) -> Node:
        if not self.is_table:
            return List(children=tuple(self.children), place=self.place, label=self.label)
        entries: list[tuple[str, Place, Node]] = []
        seen: set[str] = set()
        for (key, place), node in zip(self.keys, self.children, strict=True):
            if key not in seen:
                seen.add(key)
                entries.append((key, place, node))
        return Table(entries=tuple(entries), place=self.place, label=self.label)


class _Builder:
    """Turns parser events into nodes; refuses what a design file may not hold."""

    def __init__(self) -> None:
        self.root: Node | None = None
        self.faults: list[Fault] = []
        self.stopped = False
        self._open: list[_Open] = []
        self._nodes = 0
        self._references = 0
        self._documents = 0

    def take(self, event: yaml.Event) -> None:
        """Add one event."""
        mark = event.start_mark
        place = (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)
        if isinstance(event, yaml.DocumentStartEvent):
            self._documents += 1
            if self._documents > 1:
                self._fault(place, "a second document", "one design in a file", stop=True)
        elif isinstance(event, yaml.AliasEvent):
            hint = "Write the value out again."
            self._reference(place, f"a reference, *{event.anchor}", hint)
            self._add(Text(value="", quoted=True, place=place, label=self._label(place)))
        elif isinstance(event, yaml.NodeEvent):
            self._node(event, place)
        elif isinstance(event, (yaml.SequenceEndEvent, yaml.MappingEndEvent)):
            self._add(self._open.pop().closed())

    def _reference(self, place: Place, found: str, hint: str) -> None:
        self._references += 1
        stop = self._references >= MAX_REFERENCES
        self._fault(place, found, "a plain value", hint, stop=stop)

    def _node(self, event: Any, place: Place) -> None:
        self._nodes += 1
        if self._nodes > MAX_NODES:
            limit = f"at most {MAX_NODES} entries in a design"
            self._fault(place, "more entries than that", limit, stop=True)
            return
        if event.anchor is not None:
            hint = "Write the value out wherever it is needed."
            self._reference(place, f"an anchor, &{event.anchor}", hint)
        if event.tag is not None:
            tag = event.tag.replace("tag:yaml.org,2002:", "!!")
            self._fault(place, f"a tag, {tag}", "a plain value", "Leave the tag out.")
        if isinstance(event, yaml.ScalarEvent):
            self._scalar(event, place)
        elif self._at_key():
            hint = "Only a name or a number can stand before the colon."
            self._fault(place, "a list or table as a name", "a name", hint, stop=True)
        elif len(self._open) >= MAX_DEPTH:
            limit = f"at most {MAX_DEPTH} levels"
            self._fault(place, "entries nested too deep", limit, stop=True)
        else:
            is_table = isinstance(event, yaml.MappingStartEvent)
            self._open.append(_Open(is_table=is_table, place=place, label=self._label(place)))

    def _scalar(self, event: yaml.ScalarEvent, place: Place) -> None:
        value = event.value
        if len(value) > MAX_TEXT:
            found = f"a text of {len(value)} characters"
            self._fault(place, found, f"at most {MAX_TEXT}")
            value = value[:MAX_TEXT]
        if self._at_key():
            table = self._open[-1]
            if any(key == value for key, _ in table.keys):
                first = next(p for key, p in table.keys if key == value)
                hint = f"It stands on line {first[0]} already; keep one of them."
                self._fault(place, f"{value or 'nothing'} a second time", "each name once", hint)
            table.key = (value, place)
            return
        quoted = event.style not in (None, "")
        self._add(Text(value=value.strip(), quoted=quoted, place=place, label=self._label(place)))

    def _at_key(self) -> bool:
        return bool(self._open) and self._open[-1].is_table and self._open[-1].key is None

    def _label(self, place: Place) -> Place:
        """Where the node's key stands; its own place when it has none."""
        if self._open and self._open[-1].key is not None:
            return self._open[-1].key[1]
        return place

    def _add(self, node: Node) -> None:
        if not self._open:
            self.root = node
            return
        parent = self._open[-1]
        if parent.is_table:
            if parent.key is None:
                # A reference stood where a name belongs; it has been reported.
                parent.key = (f"*{node.place}", node.place)
                return
            parent.keys.append(parent.key)
            parent.key = None
        parent.children.append(node)

    def _fault(
        self, place: Place, found: str, expected: str, hint: str = "", *, stop: bool = False
    ) -> None:
        line, column = place
        fault = Fault(path=(), found=found, expected=expected, hint=hint, line=line, column=column)
        self.faults.append(fault)
        self.stopped = self.stopped or stop
