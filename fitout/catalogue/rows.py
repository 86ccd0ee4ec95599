"""One table of the catalogue: rows of plain values into records, every fault located."""

from __future__ import annotations

import dataclasses
import difflib
import math
from collections.abc import Callable, Iterable, Mapping
from typing import Any, Generic, TypeGuard, TypeVar

from fitout.model.fault import Fault, Path

Record = TypeVar("Record")
Row = Mapping[str, Any]

Finding = tuple[str, str, str]
"""The field at fault, what was found there, what was expected."""

LIKE = "like"
MAY_BE_ZERO = frozenset(
    {"bolt_at", "mass_kg", "mass_pair_kg", "price", "stands_out", "thickness_tolerance"}
)

PLAIN = frozenset({"price", "rolling_share", "derate_width", "derate_open"})
"""Numbers that have no unit, or none that a fault can name."""


def nothing_more(_record: object) -> tuple[Finding, ...]:
    """For a table whose fields need no looking at together."""
    return ()


@dataclasses.dataclass(frozen=True, slots=True)
class Table(Generic[Record]):
    """A table's name and the record its rows become. `inspect` finds faults across fields.

    Every field of the record but `key` is a field of the row, required where the record
    gives it no default.
    """

    name: str
    record: Callable[..., Record]
    fields: tuple[dataclasses.Field[Any], ...]
    inspect: Callable[[Record], Iterable[Finding]] = nothing_more

    @property
    def field_names(self) -> tuple[str, ...]:
        """What a row may say, `like` apart."""
        return tuple(field.name for field in self.fields if field.name != "key")

    def read(self, rows: Mapping[str, Row]) -> tuple[dict[str, Record], list[Fault]]:
        """The records of whole rows (`like` already resolved), and what is wrong with the rest."""
        records: dict[str, Record] = {}
        faults: list[Fault] = []
        for name, row in rows.items():
            path: Path = ("catalogue", self.name, name)
            found = self._faults(path, row)
            if not found:
                record = self.record(key=name, **{k: _kept(v) for k, v in row.items()})
                found = [
                    Fault(path=(*path, field), found=seen, expected=wanted)
                    for field, seen, wanted in self.inspect(record)
                ]
                records[name] = record
            faults += found
        return records, faults

    def _faults(self, path: Path, row: Row) -> list[Fault]:
        faults = [
            Fault(
                path=(*path, field),
                found=f"{field!r}",
                expected=f"a field of {self.name}: {', '.join(self.field_names)}",
                hint=nearest(field, self.field_names),
            )
            for field in row
            if field not in self.field_names
        ]
        missing = []
        for field in self.fields:
            if field.name in row:
                wanted = _wanted(field, row[field.name])
                if wanted:
                    found = shown(row[field.name])
                    faults.append(Fault(path=(*path, field.name), found=found, expected=wanted))
            elif field.default is dataclasses.MISSING and field.name != "key":
                missing.append(field.name)
        if missing:
            faults.append(
                Fault(
                    path=path,
                    found=f"no {', '.join(missing)}",
                    expected=f"every field that {self.name} need",
                    hint="A row may say `like: another row` and give only what differs.",
                )
            )
        return faults


def _wanted(field: dataclasses.Field[Any], value: object) -> str:
    """What the field should hold instead of `value`; empty if it is well."""
    kind = str(field.type)
    if kind == "str":
        return "" if isinstance(value, str) else "words"
    if kind == "bool":
        return "" if isinstance(value, bool) else "true or false"
    if kind == "tuple[float, ...]":
        good = isinstance(value, list | tuple) and all(_is_positive(v) for v in value)
        return "" if good else "a list of numbers of mm, above 0"
    if value is None and kind.endswith("| None"):
        return ""
    if field.name in MAY_BE_ZERO:
        good = _is_number(value) and value >= 0
        return "" if good else f"a number{_unit(field.name)}, 0 or more"
    return "" if _is_positive(value) else f"a number{_unit(field.name)}, above 0"


def _is_number(value: object) -> TypeGuard[float]:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return False
    return math.isfinite(value)


def _is_positive(value: object) -> bool:
    return _is_number(value) and value > 0


def _unit(field: str) -> str:
    """The unit a field is given in, as its name tells; a length has no suffix."""
    units = {"_kg": " of kg", "_kg_m3": " of kg/m³", "_mpa": " of N/mm²", "_n": " of N"}
    found = [unit for suffix, unit in units.items() if field.endswith(suffix)]
    return found[0] if found else "" if field in PLAIN else " of mm"


def _kept(value: object) -> object:
    """Numbers as floats and lists as tuples, so that records compare and hash alike."""
    if isinstance(value, list | tuple):
        return tuple(float(v) for v in value)
    if isinstance(value, int) and not isinstance(value, bool):
        return float(value)
    return value


def resolve(
    table: str, shipped: Mapping[str, Row], added: Mapping[str, object]
) -> tuple[dict[str, Row], list[Fault]]:
    """The shipped rows with `added` ones over them, every `like` replaced by what it copies.

    An added row may be like a shipped row of its own name: that changes the shipped row.
    """
    faults: list[Fault] = []
    sound: dict[str, Row] = {}
    for name, row in added.items():
        if isinstance(row, Mapping) and isinstance(name, str):
            sound[name] = row
        else:
            faults.append(
                Fault(
                    path=("catalogue", table, name),
                    found=shown(row),
                    expected="a name with a row under it: fields and their values",
                )
            )
    whole: dict[str, Row] = {}
    for name in shipped:
        whole[name] = _copied(name, shipped, whole)
    base = dict(whole)
    for name in sound:
        row, fault = _from_design(table, name, sound, base)
        if fault is None:
            whole[name] = row
        else:
            faults.append(fault)
    return whole, faults


def _copied(name: str, rows: Mapping[str, Row], whole: Mapping[str, Row]) -> Row:
    """A shipped row in full; `like` names a row above it."""
    row = rows[name]
    if LIKE not in row:
        return row
    merged = {**whole[row[LIKE]], **row}
    del merged[LIKE]
    return merged


def _from_design(
    table: str, name: str, added: Mapping[str, Row], base: Mapping[str, Row]
) -> tuple[Row, Fault | None]:
    """A row of the design in full, following `like` through other added rows to shipped ones."""
    layers: list[Row] = []
    seen: list[str] = []
    at: str = name
    while True:
        seen.append(at)
        row = added[at]
        layers.append(row)
        if LIKE not in row:
            break
        other = row[LIKE]
        path: Path = ("catalogue", table, at, LIKE)
        if not isinstance(other, str):
            return {}, Fault(path=path, found=shown(other), expected="the name of a row")
        if other in base and (other == at or other not in added):
            layers.append(base[other])
            break
        if other in seen:
            way = " -> ".join([*seen, other])
            return {}, Fault(path=path, found=way, expected="a row that is not like itself")
        if other not in added:
            known = [*base, *added]
            hint = nearest(other, known)
            expected = f"the name of another row of {table}"
            return {}, Fault(path=path, found=shown(other), expected=expected, hint=hint)
        at = other
    merged: dict[str, Any] = {}
    for layer in reversed(layers):
        merged.update(layer)
    merged.pop(LIKE, None)
    if "source" not in added[name]:
        like = added[name].get(LIKE)
        merged["source"] = "given in the design" + (f", otherwise as {like}" if like else "")
    return merged, None


def nearest(found: object, known: Iterable[str]) -> str:
    """A sentence naming the closest known name, or nothing if none is close."""
    close = difflib.get_close_matches(str(found), list(known), n=1, cutoff=0.6)
    return f"Did you mean {close[0]!r}?" if close else ""


def shown(value: object) -> str:
    """A found value as a reader would say it."""
    return "nothing" if value is None else repr(value)
