"""HTML and SVG as text that can't be broken out of: what is not markup already is escaped."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from fitout.documents.wording import decimal

VOID = frozenset({"br", "hr", "input", "link", "meta"})
"""Elements without content and end tag."""

ENDED = frozenset({"p", "td", "th", "tr", "tbody", "thead", "li", "dt", "dd", "option"})
"""Elements that end by themselves where what holds them ends or the next block begins; so what
stands beside a paragraph has to be a block as well.
"""

Attribute = str | float | bool | None


class Markup(str):
    """Text that is HTML already."""

    __slots__ = ()


def tag(element: str, /, *content: str, **attributes: Attribute) -> Markup:
    """An element; content that is not Markup is escaped.

    `class_` and `data_part` become `class` and `data-part`; True gives a bare attribute, False
    and None none.
    """
    told = "".join(_attribute(key, value) for key, value in attributes.items())
    if element in VOID:
        return Markup(f"<{element}{told}>")
    end = "" if element in ENDED else f"</{element}>"
    return Markup(f"<{element}{told}>{joined(content)}{end}")


def joined(content: Iterable[str]) -> Markup:
    """One piece of markup after the other; plain text among them is escaped."""
    return Markup("".join(plain(one) for one in content))


def plain(text: str) -> Markup:
    """Text as markup; control characters, which HTML forbids, are left out."""
    if isinstance(text, Markup):
        return text
    return Markup(escape("".join(c for c in text if c >= " " or c in "\n\t"), quote=False))


def name(text: str) -> Markup:
    """A builder's name, kept from turning the writing direction of what stands beside it."""
    return plain(text) if text.isascii() else tag("bdi", text)


def _attribute(key: str, value: Attribute) -> str:
    if value is None or value is False:
        return ""
    key = key.rstrip("_").replace("_", "-")
    if value is True:
        return f" {key}"
    told = decimal(value, 1) if isinstance(value, float | int) else value
    told = escape("".join(c for c in told if c >= " "), quote=True)
    bare = bool(told) and all(c.isalnum() or c in "-._#" for c in told)
    return f" {key}={told}" if bare else f' {key}="{told}"'


def words_of(numbers: Iterable[int]) -> str:
    """Numbers with a space between, as attributes hold lists."""
    return " ".join(str(number) for number in numbers)
