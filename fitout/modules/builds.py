"""Modules built earlier, taken again where nothing has changed that their build looked at."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, TypeVar

from fitout.model.design import ModuleSpec
from fitout.model.module import Berth, Module
from fitout.modules.kind import Setting
from fitout.modules.registry import BY_NAME

Value = TypeVar("Value")
Answers = dict[tuple[str, str | None], object]
"""What a build found: by table of the setting and key there, None for which keys there are."""

TABLES = ("boards", "items", "specs", "berths", "built")
"""The tables of a setting of which a build is noted entry by entry."""

NOTHING = object()
"""The answer where a table has no such entry."""


@dataclass(frozen=True, slots=True)
class Build:
    """A built module, with all it was built from: what it was given and what it asked."""

    given: tuple[object, ...]
    asked: Answers
    module: Module

    def holds(self, given: tuple[object, ...], setting: Setting) -> bool:
        """Whether the same would be built again."""
        return all(map(_same, given, self.given)) and all(
            _same(_answer(getattr(setting, table), key), answer)
            for (table, key), answer in self.asked.items()
        )


@dataclass(slots=True)
class Builds:
    """The latest builds of each module, at most `limit` of it; the caller keeps them."""

    limit: int = 4
    builds: dict[str, list[Build]] = field(default_factory=dict)

    def build(self, name: str, spec: ModuleSpec, berth: Berth | None, setting: Setting) -> Module:
        """The module as it was built before, or built now.

        Raises:
            DesignError: when the module's entries can't be built.
        """
        given = (spec, berth, setting.bay, setting.catalogue, setting.rules, setting.deck)
        kept = self.builds.setdefault(name, [])
        for build in kept:
            if build.holds(given, setting):
                return build.module
        asked: Answers = {}
        noted: Any = {table: _Noted(table, getattr(setting, table), asked) for table in TABLES}
        watched = dataclasses.replace(setting, **noted)
        module = BY_NAME[spec.kind].build(name, spec, berth, watched)
        kept.insert(0, Build(given, asked, module))
        del kept[self.limit :]
        return module


class _Noted(Mapping[str, Value]):
    """A table of the setting that notes each question it is asked, with the answer."""

    def __init__(self, table: str, entries: Mapping[str, Value], asked: Answers) -> None:
        self._table = table
        self._entries = entries
        self._asked = asked

    def __getitem__(self, key: str) -> Value:
        self._asked[self._table, key] = _answer(self._entries, key)
        return self._entries[key]

    def __iter__(self) -> Iterator[str]:
        self._asked[self._table, None] = _answer(self._entries, None)
        return iter(self._entries)

    def __len__(self) -> int:
        self._asked[self._table, None] = _answer(self._entries, None)
        return len(self._entries)


def _answer(entries: Mapping[str, object], key: str | None) -> object:
    return tuple(entries) if key is None else entries.get(key, NOTHING)


def _same(a: object, b: object) -> bool:
    return a is b or a == b
