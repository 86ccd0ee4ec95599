"""One entry of the design file in a builder's words: meaning, what to write, if left out."""

from __future__ import annotations

import dataclasses
import re
import textwrap
from collections.abc import Iterator, Mapping
from typing import Any

from fitout.design_file.quantities import range_words
from fitout.design_file.rules import RELATIONS
from fitout.design_file.shapes import (
    Anything,
    Choice,
    Entry,
    Fixed,
    ListOf,
    Mapped,
    MeasuredLength,
    Number,
    OneOf,
    Section,
    Shape,
    SizeText,
    Words,
    expected,
    reference_words,
    takes_fit,
)
from fitout.design_file.units import WORDS
from fitout.model.spec import Measured, Unit

Homes = Mapping[type[Any], str]
"""Under which heading each group of entries is explained."""

WIDTH = 100
NAMED = (
    Unit.MASS,
    Unit.ANGLE,
    Unit.VOLUME,
    Unit.STIFFNESS,
    Unit.PRESSURE,
    Unit.FORCE,
    Unit.STRESS,
    Unit.POWER,
    Unit.ENERGY,
    Unit.TEMPERATURE,
    Unit.CONSUMPTION,
    Unit.DISTANCE,
    Unit.DURATION,
)
"""What is told with its unit; everything else is mm or has none."""

_CODE = re.compile(r"`[^`]*`|\[[^\]]*\]\([^)]*\)")
_HELD = "\0"


def anchor(title: str) -> str:
    """How a heading is linked to within the page."""
    return re.sub(r"[^\w\- ]", "", title.lower()).replace(" ", "-")


def link(title: str) -> str:
    """A link to a heading of the page."""
    return f"[{title}](#{anchor(title)})"


def wrapped(text: str) -> str:
    """Text in lines of at most 100 characters; code and links stay on one line.

    Lines after the first of a list's member are indented to it; paragraphs stay apart.
    """
    indent = "  " if text.startswith("- ") else ""
    paragraphs = []
    for paragraph in text.split("\n\n"):
        held = _CODE.sub(lambda m: m.group().replace(" ", _HELD), " ".join(paragraph.split()))
        lines = textwrap.fill(
            held,
            WIDTH,
            subsequent_indent=indent,
            break_long_words=False,
            break_on_hyphens=False,
        )
        paragraphs.append(lines.replace(_HELD, " "))
    return "\n\n".join(paragraphs)


def yaml_block(key: str, value: str) -> str:
    """An entry in a code block: lists of groups, and what is long, one member a line."""
    text = f"{key}: {value}"
    listed = value.startswith("[{")
    if listed or len(text) > WIDTH:
        dash = "- " if listed else ""
        text = "\n".join([f"{key}:", *(f"  {dash}{member}" for member in _members(value))])
    return f"```yaml\n{text}\n```"


def _members(value: str) -> Iterator[str]:
    """The members of a list in brackets, or of a group in braces."""
    depth, start = 0, 1
    for i, character in enumerate(value):
        depth += (character in "[{") - (character in "]}")
        if depth == 0 or (depth == 1 and character == ","):
            yield value[start:i].strip()
            start = i + 1


def groups_in(shape: Shape) -> Iterator[type[Any]]:
    """The groups of entries that may stand in a value of this shape."""
    match shape:
        case Section(record):
            yield record
        case ListOf(member):
            yield from groups_in(member)
        case Mapped(key, value):
            yield from groups_in(key)
            yield from groups_in(value)
        case Fixed(members) | OneOf(members, _):
            for member in members:
                yield from groups_in(member)


def entry_line(entry: Entry, title: str, homes: Homes, *, in_module: bool) -> str:
    """An entry as a list's member: name, meaning, what to write, what holds when left out."""
    here = f"{title}: {entry.key}" if title else entry.key
    explained = [homes[record] for record in groups_in(entry.shape)]
    form = _form_of(entry, homes, in_module=in_module)
    plain = here not in explained and not isinstance(entry.shape, Choice)
    sample = f", for example `{entry.example}`" if plain and entry.example else ""
    return wrapped(
        f"- `{entry.key}`: {entry.doc}. Write {form}{sample}. {_left_out(entry, in_module)}"
    )


def _form_of(entry: Entry, homes: Homes, *, in_module: bool) -> str:
    """What is written there, in words that follow "Write"."""
    if in_module and entry.name in RELATIONS:
        places = " or ".join(f"`{place}`" for place in RELATIONS[entry.name])
        one = f"the name of another module{f', or {places}' if places else ''}"
        return f"a list, each {one}" if isinstance(entry.shape, ListOf) else one
    form = _form(entry.shape, homes)
    fills = in_module and takes_fit(entry.shape) and not entry.otherwise
    return f"{form}, or `fit`" if fills else form


def _form(shape: Shape, homes: Homes) -> str:
    match shape:
        case Number(quantity):
            return f"{WORDS[quantity.unit]}{range_words(quantity)}"
        case MeasuredLength(quantity):
            return f"{WORDS[quantity.unit]}{range_words(quantity)} (± if known)"
        case Choice(values):
            return _either([f"`{value}`" for value in values])
        case Words(table):
            return _name(table)
        case SizeText():
            return "length x width x height"
        case OneOf(options, _):
            return _either([_form(option, homes) for option in options])
        case Section(record):
            return f"the entries under {link(homes[record])}"
        case ListOf() | Fixed() | Mapped():
            return _gathered(shape, homes)
        case Anything():
            return "the fields of a row"
        case _:
            return expected(shape)


def _gathered(shape: ListOf | Fixed | Mapped, homes: Homes) -> str:
    """What several values are, in words that follow "Write"."""
    match shape:
        case ListOf(member, some):
            least, group = " of one or more" * some, "with " * bool([*groups_in(member)])
            return f"a list{least}, each {group}{_form(member, homes)}"
        case Fixed(members):
            forms = ", then ".join(_form(member, homes) for member in members)
            return f"a list of {len(members)}: {forms}"
        case Mapped(Words() | Choice() as key, value):
            names = "names of your choice" if key == Words() else _form(key, homes)
            return f"{names}, each with {_form(value, homes)}"
        case Mapped(_, Anything()):
            return "the fields of a row"
        case Mapped(key, value):
            return f"pairs, each {_form(key, homes)}, a colon and {_form(value, homes)}"


def _name(table: str) -> str:
    if not table:
        return "text"
    if table == "boards":
        return f"[{reference_words(table)}](#{anchor('boards: purposes')})"
    if table in ("sheets", "slides", "articles", "sections"):
        return f"[{reference_words(table)}](#{anchor(f'catalogue: {table}')})"
    return reference_words(table)


def _either(forms: list[str]) -> str:
    *most, last = forms
    return f"{', '.join(most)} or {last}" if most else last


def _left_out(entry: Entry, in_module: bool) -> str:
    if entry.required:
        return "Must be given."
    return f"Left out: {entry.otherwise or _default(entry, in_module)}."


def _default(entry: Entry, in_module: bool) -> str:
    value = entry.default
    if value is None:
        return "worked out" if in_module else "none"
    if value == ():
        return "none"
    if dataclasses.is_dataclass(value) and not isinstance(value, Measured):
        return "as its entries say"
    match entry.shape:
        case Number(quantity) if quantity.unit in NAMED:
            return f"`{_spelled(value)} {quantity.unit}`"
        case _:
            return f"`{_spelled(value)}`"


def _spelled(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Measured):
        return f"{value.value:g}"
    if isinstance(value, int | float):
        return f"{value:g}"
    if isinstance(value, tuple):
        return f"[{', '.join(map(_spelled, value))}]"
    return str(value)
