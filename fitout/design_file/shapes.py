"""What an annotation of `fitout.model.spec` asks for, as one small set of shapes.

The reader and the JSON Schema both work from these, so that they can't disagree.
"""

from __future__ import annotations

import dataclasses
import types
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from fitout.design_file.quantities import (
    MEASURED,
    expected_words,
    measured_words,
    range_words,
)
from fitout.design_file.units import WORDS
from fitout.model.design import ROLES
from fitout.model.spec import Days, Measured, Quantity, Ref, Size, Unit


@dataclass(frozen=True, slots=True)
class Number:
    """A number of some unit, within a range."""

    quantity: Quantity


@dataclass(frozen=True, slots=True)
class MeasuredLength:
    """A length, or another quantity, with an optional tolerance."""

    quantity: Quantity = MEASURED


@dataclass(frozen=True, slots=True)
class SizeText:
    """Length x width x height."""


@dataclass(frozen=True, slots=True)
class Whole:
    """A whole number, within a range if there is one."""

    quantity: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Flag:
    """Yes or no."""


@dataclass(frozen=True, slots=True)
class Day:
    """A date: year, month and day."""


@dataclass(frozen=True, slots=True)
class DaysText:
    """A day of a trip, or the first and the last of several."""


@dataclass(frozen=True, slots=True)
class Words:
    """Text; with `table`, the name of something that must exist there."""

    table: str = ""


@dataclass(frozen=True, slots=True)
class Choice:
    """One of a few words."""

    values: tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class ListOf:
    """A list, each member of one shape; with `some` it has one member at least."""

    member: Shape
    some: bool = False


@dataclass(frozen=True, slots=True)
class Fixed:
    """A list of so many members, each of its own shape."""

    members: tuple[Shape, ...]


@dataclass(frozen=True, slots=True)
class Mapped:
    """Named entries, all of one shape."""

    key: Shape
    value: Shape


@dataclass(frozen=True, slots=True)
class Section:
    """A dataclass of entries. For ModuleSpec itself, the class its `kind` names."""

    record: type[Any]


@dataclass(frozen=True, slots=True)
class Anything:
    """Plain values, looked at elsewhere."""


@dataclass(frozen=True, slots=True)
class OneOf:
    """Whichever fits the node's form; `optional` where nothing may stand there."""

    options: tuple[Shape, ...]
    optional: bool


Shape = (
    Number
    | MeasuredLength
    | SizeText
    | Whole
    | Flag
    | Day
    | DaysText
    | Words
    | Choice
    | ListOf
    | Fixed
    | Mapped
    | Section
    | Anything
    | OneOf
)


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of a section: how it is spelled, what it means, its shape, its default.

    `otherwise` says what holds when it is left out, where the default does not.
    """

    name: str
    key: str
    doc: str
    example: str
    shape: Shape
    default: Any
    otherwise: str = ""

    @property
    def required(self) -> bool:
        """Whether it must be given."""
        return self.default is dataclasses.MISSING


def entries_of(record: type[Any]) -> tuple[Entry, ...]:
    """The entries a section takes, in the order declared.

    Raises:
        TypeError: when an annotation is none that a design file can hold.
    """
    asked: Any = record
    return _entries_of(asked)


@cache
def _entries_of(record: Any) -> tuple[Entry, ...]:
    """Worked out once for each record: reading its annotations takes a while."""
    hints = get_type_hints(record, include_extras=True)
    return tuple(
        Entry(
            name=field.name,
            key=field.metadata.get("key") or field.name,
            doc=field.metadata.get("doc", ""),
            example=field.metadata.get("example", ""),
            shape=_with_some(shape_of(hints[field.name]), field.default),
            default=field.default,
            otherwise=field.metadata.get("otherwise", ""),
        )
        for field in dataclasses.fields(record)
    )


def _with_some(shape: Shape, default: Any) -> Shape:
    """A list that is not empty when it is left out is not to be empty when it is written."""
    some = isinstance(default, tuple) and default != ()
    return ListOf(shape.member, some) if isinstance(shape, ListOf) else shape


def shape_of(hint: Any) -> Shape:
    """The shape an annotation asks for.

    Raises:
        TypeError: when it is none that a design file can hold.
    """
    simple: dict[Any, Shape] = {
        Measured: MeasuredLength(),
        Size: SizeText(),
        str: Words(),
        int: Whole(),
        bool: Flag(),
        date: Day(),
        Days: DaysText(),
        Any: Anything(),
    }
    origin, args = get_origin(hint), get_args(hint)
    if origin is None and hint in simple:
        return simple[hint]
    if dataclasses.is_dataclass(hint) and isinstance(hint, type):
        return Section(hint)
    if origin is Annotated:
        return _annotated(args[0], args[1:])
    if origin is Literal:
        return Choice(args)
    if origin is tuple:
        if len(args) == 2 and args[1] is Ellipsis:
            return ListOf(shape_of(args[0]))
        return Fixed(tuple(shape_of(arg) for arg in args))
    if origin is Mapping or (isinstance(origin, type) and issubclass(origin, Mapping)):
        return Mapped(shape_of(args[0]), shape_of(args[1]))
    if origin in (Union, types.UnionType):
        options = tuple(shape_of(arg) for arg in args if arg is not types.NoneType)
        return OneOf(options, types.NoneType in args)
    raise TypeError(f"a design file can't hold {hint!r}")


def _annotated(base: Any, marks: tuple[Any, ...]) -> Shape:
    for mark in marks:
        if isinstance(mark, Ref):
            return Words(mark.table)
        if isinstance(mark, Quantity) and base is Measured:
            return MeasuredLength(mark)
        if isinstance(mark, Quantity):
            return Whole(mark) if base is int else Number(mark)
    return shape_of(base)


def takes_fit(shape: Shape) -> bool:
    """Whether, in a module, `fit` may stand there: a size that is worked out."""
    return (
        isinstance(shape, OneOf)
        and shape.optional
        and any(isinstance(o, Number) and o.quantity.unit is Unit.LENGTH for o in shape.options)
    )


def expected(shape: Shape) -> str:
    """What a builder should write there, in words that follow "expected"."""
    match shape:
        case Number(quantity):
            return expected_words(quantity)
        case MeasuredLength(quantity):
            return measured_words(quantity)
        case SizeText():
            return "length x width x height, such as 690 x 398 x 470"
        case Whole(quantity):
            return f"a whole number{range_words(quantity) if quantity else ''}"
        case Flag():
            return "yes or no"
        case Day():
            return "a date, such as 2026-11-25"
        case DaysText():
            return "a day or days counted from 1, such as 3 or 3-7"
        case Words(table):
            return reference_words(table) if table else "text"
        case Choice(values):
            return one_of(tuple(str(value) for value in values))
        case _:
            return _expected_group(shape)


def _expected_group(shape: Shape) -> str:
    match shape:
        case ListOf(member, some):
            return f"a list{' of one or more' * some}, each {_brief(member)}"
        case Fixed(members):
            return f"a list of {len(members)}: {', then '.join(map(_brief, members))}"
        case Mapped(key, value):
            return f"pairs of {_brief(key)}: {_brief(value)}"
        case Section(record):
            keys = tuple(entry.key for entry in entries_of(record))
            return f"entries such as {', '.join(keys[:4])}"
        case OneOf(options, _):
            return " or ".join(map(expected, options))
        case _:
            return "a value"


def _brief(shape: Shape) -> str:
    """The same without examples, for what stands within a list or a table."""
    match shape:
        case Number(quantity):
            return WORDS[quantity.unit]
        case MeasuredLength(quantity):
            return WORDS[quantity.unit]
        case Section():
            return "a group of entries"
        case Words(""):
            return "a name"
        case OneOf(options, _):
            return " or ".join(map(_brief, options))
        case _:
            return expected(shape)


def reference_words(table: str) -> str:
    """What a name that must exist refers to."""
    places = {
        "items": "the name of an item under items",
        "modules": "the name of a module under modules",
        "boards": one_of(ROLES),
        "kinds": "a kind of module",
        "seats": "the name of a seat under vehicle",
        "places": "a module, or a module/place",
        "sheets": "a sheet of the catalogue",
        "slides": "slides of the catalogue",
        "articles": "an article of the catalogue",
        "sections": "a section of the catalogue",
        "materials": "a sheet of the catalogue, a purpose under boards, or others",
    }
    return places.get(table, f"a name from {table}")


def one_of(names: tuple[str, ...]) -> str:
    """The names a builder may choose from, in a sentence."""
    if len(names) == 1:
        return names[0]
    return f"{', '.join(names[:-1])} or {names[-1]}"
