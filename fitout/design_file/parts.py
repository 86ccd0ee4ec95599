"""The values of a design by key path: all of a read design, or what could be read of a file."""

from __future__ import annotations

import dataclasses
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

from fitout.model.design import BaySpec, Design, SectionSpec
from fitout.model.fault import Path
from fitout.model.spec import Measured

Record = TypeVar("Record")


@dataclass(frozen=True, slots=True)
class Parts:
    """Values by key path, and the paths of everything written, read or not."""

    values: Mapping[Path, Any]
    written: Collection[Path] = ()

    def record(self, kind: type[Record], *path: str | int) -> Record | None:
        """The value at a path if it was read and is of that kind."""
        value = self.values.get(path)
        return value if isinstance(value, kind) else None

    def has(self, *path: str | int) -> bool:
        """Whether something was written there, well or badly."""
        return path in self.values or path in self.written

    def below(self, *path: str | int) -> Iterator[tuple[str | int, Any]]:
        """The values directly below a path that were read, each with its last step."""
        for key, value in self.values.items():
            if len(key) == len(path) + 1 and key[: len(path)] == path:
                yield key[-1], value

    def names(self, *path: str | int) -> tuple[str, ...]:
        """The names written directly below a path, read or not."""
        found = {key[-1]: None for key in (*self.written, *self.values) if key[:-1] == path and key}
        return tuple(name for name in found if isinstance(name, str))

    def measured(self) -> Iterator[tuple[Path, Measured]]:
        """Every measured length of the bay."""
        for path, value in self.values.items():
            if isinstance(value, Measured) and path[0] == "bay":
                yield path, value

    def sections(self) -> tuple[SectionSpec, ...]:
        """The bay's sections from the sill forward; none unless all of them were read."""
        whole = self.values.get(("bay", "sections"), ())
        return tuple(sorted(whole, key=lambda section: section.at.value))


def parts_of(design: Design) -> Parts:
    """Every value of a design by the path the design file gives it."""
    values: dict[Path, Any] = {}
    for field in dataclasses.fields(design):
        if field.name not in ("sources", "file"):
            values.update(_walk(getattr(design, field.name), (field.name,)))
    return Parts(values)


def parts_of_bay(bay: BaySpec) -> Parts:
    """Every value of a bay by the path the design file gives it."""
    return Parts(dict(_walk(bay, ("bay",))))


def _walk(value: Any, path: Path) -> Iterator[tuple[Path, Any]]:
    """A value and all within it; what was left out has no path."""
    if value is None:
        return
    yield path, value
    if dataclasses.is_dataclass(value) and not isinstance(value, Measured):
        for field in dataclasses.fields(value):
            key = field.metadata.get("key") or field.name
            yield from _walk(getattr(value, field.name), (*path, key))
    elif isinstance(value, Mapping):
        for key, member in value.items():
            yield from _walk(member, (*path, key if isinstance(key, str) else f"{key:g}"))
    elif isinstance(value, tuple):
        for index, member in enumerate(value):
            yield from _walk(member, (*path, index))
