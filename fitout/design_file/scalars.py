"""Single values: text of the file into numbers, flags, words and choices."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from datetime import date
from types import MappingProxyType
from typing import Any

from fitout.design_file.messages import did_you_mean, suggestion
from fitout.design_file.nodes import List, Node, Table, Text
from fitout.design_file.quantities import (
    Misread,
    plain_number,
    read_days,
    read_measured,
    read_quantity,
    read_size,
    read_whole,
)
from fitout.design_file.shapes import (
    Choice,
    Day,
    DaysText,
    Flag,
    MeasuredLength,
    Number,
    Shape,
    SizeText,
    Whole,
    Words,
    expected,
)

FLAGS: Mapping[str, bool] = MappingProxyType(
    {"yes": True, "true": True, "no": False, "false": False}
)

EARLIEST_YEAR = 2000
"""Nothing that is fitted out now was measured before."""


def read_scalar(node: Text, shape: Shape, names: Mapping[str, Collection[str] | None]) -> Any:
    """The value a text stands for.

    `names` holds what a reference may name, by table; None where that can't be judged.

    Raises:
        Misread: when the text is not what the shape asks for.
    """
    text = "" if node.is_nothing else node.value
    match shape:
        case Number(quantity):
            return read_quantity(text, quantity)
        case MeasuredLength(quantity):
            return read_measured(text, quantity)
        case SizeText():
            return read_size(text)
        case Whole(quantity):
            return read_whole(text, quantity)
        case Flag():
            if text.lower() not in FLAGS:
                raise Misread("yes or no", hint=did_you_mean(text, tuple(FLAGS)))
            return FLAGS[text.lower()]
        case Choice(values):
            by_text = {str(value): value for value in values}
            if text not in by_text:
                raise Misread(expected(shape), hint=did_you_mean(text, tuple(by_text)))
            return by_text[text]
        case Day():
            return _day(text)
        case DaysText():
            return read_days(text)
        case Words(table):
            return _words(text, table, names)
    raise AssertionError(shape)


def _day(text: str) -> date:
    """A date, written in one way only: 3/4 is March to one builder and April to another."""
    hint = "Write year, month and day, as in 2026-11-25."
    if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
        raise Misread(expected(Day()), hint=hint)
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise Misread(expected(Day()), hint="There is no such day.") from None
    if day.year < EARLIEST_YEAR:
        raise Misread(expected(Day()), hint="Is a digit of the year wrong?")
    return day


def _words(text: str, table: str, names: Mapping[str, Collection[str] | None]) -> str:
    if not text:
        raise Misread(expected(Words(table)))
    if not text.isprintable():
        raise Misread("one line of text")
    known = names.get(table, ())
    if table and known is not None and text not in known:
        hint = suggestion(text, known, "There is none yet.")
        raise Misread(expected(Words(table)), hint=hint)
    return text


def plain(node: Node) -> Any:
    """A node as plain values: numbers, true and false, text, lists, mappings."""
    if isinstance(node, List):
        return [plain(child) for child in node.children]
    if isinstance(node, Table):
        return {key: plain(child) for key, _, child in node.entries}
    if node.quoted:
        return node.value
    if node.is_nothing:
        return None
    if node.value in ("true", "false"):
        return node.value == "true"
    number = plain_number(node.value)
    return node.value if number is None else number
