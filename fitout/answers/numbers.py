"""Every number of a design, by its key path, and the same design with one of them changed.

The numbers are found by the declarations that read them, so a new entry is known here at once.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from fitout.design_file.shapes import (
    Anything,
    Fixed,
    ListOf,
    Mapped,
    MeasuredLength,
    Number,
    OneOf,
    Shape,
    entries_of,
)
from fitout.model.design import Design
from fitout.model.fault import Path
from fitout.model.spec import Measured, Quantity, Size, Unit

SECTIONS = (
    "bay", "boards", "items", "modules", "cutting", "clearances", "vehicle", "restraint", "stock",
    "trips",
)  # fmt: skip
"""The sections of a design whose numbers bear on findings."""

NONE: Mapping[str, float] = MappingProxyType({})
SIDES = ("length", "width", "height")


@dataclass(frozen=True, slots=True)
class Step:
    """One step down a design: how code reaches it, and how the design file spells it."""

    reach: str | int | float
    spelled: str | int


@dataclass(frozen=True, slots=True)
class Figure:
    """A number of a design: the way to it, its value and unit, its place in the file if written.

    `line` and `column` count from 1; None where the number is a default. `ends` are those of the
    range it must lie in, where that has both.
    """

    steps: tuple[Step, ...]
    value: float
    unit: Unit
    line: int | None
    column: int | None
    ends: tuple[float, float] | None = None

    @property
    def name(self) -> str:
        """The key path as one text: `bay.seat_back.foot`, `items.tank.size.height`."""
        listed = "".join(
            f"[{step.spelled}]" if isinstance(step.reach, int) else f".{step.spelled}"
            for step in self.steps
        )
        return listed.removeprefix(".")


def figures(design: Design, thicknesses: Mapping[str, float] = NONE) -> tuple[Figure, ...]:
    """Every number of a design that is written or has a default, in the order of its sections.

    `thicknesses` (mm, by purpose) are those of boards that the design doesn't give.
    """
    found = [
        figure
        for section in SECTIONS
        for figure in _walk(design, getattr(design, section), Anything(), (Step(section, section),))
    ]
    for purpose, board in design.boards.items():
        if board.measured is None and purpose in thicknesses:
            steps = (
                Step("boards", "boards"), Step(purpose, purpose), Step("measured", "measured"),
            )  # fmt: skip
            found.append(_figure(design, steps, thicknesses[purpose], Unit.LENGTH))
    return tuple(found)


def changed(design: Design, figure: Figure, by: float) -> Design:
    """The same design with one number larger by so much, in the number's own unit.

    A number that must lie between two ends, such as a share, goes no further than to them.
    """
    number = figure.value + by
    if figure.ends is not None:
        number = min(max(number, figure.ends[0]), figure.ends[1])
    result: Design = _replaced(design, figure.steps, number)
    return result


def _walk(design: Design, value: Any, shape: Shape, steps: tuple[Step, ...]) -> Iterator[Figure]:
    match value:
        case Measured():
            quantity = _quantity(shape)
            unit = quantity.unit if quantity else Unit.LENGTH
            yield _figure(design, steps, value.value, unit, _ends(quantity))
        case Size():
            for side in SIDES:
                yield _figure(design, (*steps, Step(side, side)), getattr(value, side), Unit.LENGTH)
        case float():
            if (quantity := _quantity(shape)) is not None:
                yield _figure(design, steps, value, quantity.unit, _ends(quantity))
        case Mapping():
            for key, inner in value.items():
                yield from _walk(design, inner, _member(shape), (*steps, Step(key, _spelled(key))))
        case tuple():
            for i, inner in enumerate(value):
                yield from _walk(design, inner, _member(shape, i), (*steps, Step(i, i)))
        case _ if dataclasses.is_dataclass(value):
            for entry in entries_of(type(value)):
                inner = getattr(value, entry.name)
                yield from _walk(design, inner, entry.shape, (*steps, Step(entry.name, entry.key)))


def _spelled(key: object) -> str:
    """A key of a table as a design file spells it: a height without its needless decimals."""
    return f"{key:g}" if isinstance(key, float) else str(key)


def _figure(
    design: Design,
    steps: tuple[Step, ...],
    value: float,
    unit: Unit,
    ends: tuple[float, float] | None = None,
) -> Figure:
    path: Path = tuple(step.spelled for step in steps)
    if steps[-1].reach in SIDES and isinstance(steps[-1].reach, str) and path not in design.sources:
        path = path[:-1]  # A size is one text.
    line, column = design.sources.get(path, (None, None))
    return Figure(steps, value, unit, line, column, ends)


def _options(shape: Shape) -> tuple[Shape, ...]:
    return shape.options if isinstance(shape, OneOf) else (shape,)


def _quantity(shape: Shape) -> Quantity | None:
    """Unit and range of the number that may stand there; None where none may."""
    numbers = [o for o in _options(shape) if isinstance(o, Number | MeasuredLength)]
    return numbers[0].quantity if numbers else None


def _ends(quantity: Quantity | None) -> tuple[float, float] | None:
    """Both ends of the range a number must lie in; None where it is open."""
    if quantity is None:
        return None
    least = quantity.above if quantity.least is None else quantity.least
    return None if least is None or quantity.most is None else (least, quantity.most)


def _member(shape: Shape, index: int | None = None) -> Shape:
    """The shape of what a list or a table of that shape holds."""
    for option in _options(shape):
        match option:
            case Mapped(_, value) if index is None:
                return value
            case ListOf(member) if index is not None:
                return member
            case Fixed(members) if index is not None and index < len(members):
                return members[index]
    return Anything()


def _replaced(value: Any, steps: tuple[Step, ...], number: float) -> Any:
    """The same record, table or list with the number at the end of the way replaced."""
    if not steps:
        return dataclasses.replace(value, value=number) if isinstance(value, Measured) else number
    reach, rest = steps[0].reach, steps[1:]
    match value:
        case Mapping():
            inner = _replaced(value[reach], rest, number)
            return MappingProxyType({**value, reach: inner})
        case tuple() if isinstance(reach, int):
            return (*value[:reach], _replaced(value[reach], rest, number), *value[reach + 1 :])
        case _:
            inner = _replaced(getattr(value, str(reach)), rest, number)
            return dataclasses.replace(value, **{str(reach): inner})
