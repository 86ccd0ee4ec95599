"""Every text of the documents, in the builder's language, and lengths in the builder's unit.

The texts lie in `words/*.yaml`, a file for each document: `key: {en: ..., de: ...}`. A key is
found whatever file it stands in. Names that a builder gave, and findings, stay as they are.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType

import yaml

from fitout.model.documents import Language, LengthUnit

INCH = 25.4
FINEST = 32
"""Inches are told to this part of an inch, as tapes and rules in inches are divided."""


SOME_EDGES = re.compile(
    r"(?P<far>[\d.]+) mm (?P<edging>edging )?"
    r"(?P<sides>all round|(?:(?:left|right|lower|upper)(?:, | (?=edge)))+edge)"
)
"""Edges that are edged or left to scribe, as `fitout.cutting` tells them."""


@dataclass(frozen=True, slots=True)
class Wording:
    """Says texts and lengths as the builder reads them."""

    language: Language = "en"
    unit: LengthUnit = "mm"

    def say(self, key: str, **values: object) -> str:
        """The text of that key, with `{name}` filled in.

        Raises:
            KeyError: for a key no table has; the program is at fault, not the builder.
        """
        text = table()[key][self.language]
        return text.format(**values) if values else text

    def work(self, words: str) -> str:
        """What modules call a hole or an edge in English, in the builder's language if known.

        So are the edges that are edged or left to scribe, with how much: `5 mm left, upper edge`.
        """
        if told := SOME_EDGES.fullmatch(words):
            far = f"{self.length(float(told['far']))} {self.unit}"
            sides = self._edges(told["sides"])
            return self.say("edges_edged" if told["edging"] else "edges_left", far=far, sides=sides)
        return table().get(f"work {words}", {}).get(self.language, words)

    def _edges(self, sides: str) -> str:
        """`left, upper edge` or `all round`."""
        if sides == "all round":
            return self.say("edges_all_round")
        named = sides.removesuffix(" edge").split(", ")
        return self.say("edges_some", sides=", ".join(self.say(f"edge_of {one}") for one in named))

    def length(self, mm: float, decimals: int = 1) -> str:
        """A length without its unit: `402.5`, or `15 27/32` in inches."""
        if self.unit == "mm":
            return decimal(mm, decimals)
        return inches(mm)

    def tool(self, mm: float, decimals: int = 1) -> str:
        """A bit's or drill's diameter: `4.5`, or `4.5 mm` among inches.

        A 6 mm bit is no 1/4 inch bit, so it is never rounded to a fraction.
        """
        told = decimal(mm, decimals)
        return told if self.unit == "mm" else f"{told} mm"

    def size(self, *lengths: float, decimals: int = 1) -> str:
        """Lengths times each other, with the unit: `600 x 402.5 mm`."""
        told = " x ".join(self.length(value, decimals) for value in lengths)
        return f"{told} {self.unit}"


def decimal(value: float, decimals: int = 1) -> str:
    """A number with at most so many decimals, none that are nought."""
    text = f"{value:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def inches(mm: float) -> str:
    """A length in inches to the nearest 1/32: `15 27/32`."""
    parts = round(abs(mm) / INCH * FINEST)
    whole, rest = divmod(parts, FINEST)
    told = [str(whole)] if whole or not rest else []
    if rest:
        told.append(str(Fraction(rest, FINEST)))
    return ("-" if mm < 0.0 and parts else "") + " ".join(told)


@lru_cache(maxsize=1)
def table() -> MappingProxyType[str, dict[str, str]]:
    """Every text by key and language, of all files.

    Raises:
        ValueError: when a key stands in two files.
    """
    found: dict[str, dict[str, str]] = {}
    # Much faster where it is there, with the same result.
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    folder = files("fitout.documents").joinpath("words")
    for file in sorted(folder.iterdir(), key=lambda one: one.name):
        if not file.name.endswith(".yaml"):
            continue
        text = file.read_text(encoding="utf-8")
        read: dict[str, dict[str, str]] = yaml.load(text, Loader=loader)  # noqa: S506 (both safe)
        for key, texts in read.items():
            if key in found:
                raise ValueError(f"the text {key!r} stands twice, the second time in {file.name}")
            found[key] = texts
    return MappingProxyType(found)
