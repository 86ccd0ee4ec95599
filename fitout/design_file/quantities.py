"""Numbers with units, as a builder writes them, into the unit of their kind.

Which units there are, and how they are told, stands in `units`.
"""

from __future__ import annotations

import math
import re
import unicodedata
from dataclasses import dataclass

from fitout.design_file.units import (
    EXAMPLES,
    FACTORS,
    LIMITS,
    OFFSETS,
    PER,
    PRODUCTS,
    UNIT_HINTS,
    WORDS,
)
from fitout.model.spec import Days, Measured, Quantity, Size, Unit

LEAST_BARE = 100.0
"""A smaller bare number in a size beside numbers with units may lack its unit."""

MEASURED = Quantity(Unit.LENGTH)
SIDE = Quantity(Unit.LENGTH, above=0.0)

_NUMBER = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
_TERM = re.compile(
    rf"\s*(?:(?P<only_top>[0-9]+)\s*/\s*(?P<only_bottom>[0-9]+)"
    rf"|(?P<whole>{_NUMBER})(?:(?:\s+|-)(?P<top>[0-9]+)\s*/\s*(?P<bottom>[0-9]+))?)"
    r"\s*(?P<unit>[^0-9.,/+±-]*(?:(?<=[a-zA-Z\s])/\s*[a-zA-Z]+)?)\.?(?![0-9.])"
)
_TOLERANCE = re.compile(r"±|\+\s*/?\s*-")
_VULGAR = re.compile("[¼-¾⅐-⅞]")
_COMMA = re.compile(r"([0-9]+),([0-9]+)")
_NO_NUMBER = re.compile(r"[+-]?\.?(nan|inf|infinity)\b", re.IGNORECASE)
_TRAILING_UNIT = re.compile(r"[^0-9.\s][^0-9.]*$")
_AT = re.compile(r"\s*@\s*|\s+at\s+")
_PER_HUNDRED = re.compile(r"l\s*/\s*100\s*km\b", re.IGNORECASE)
_DAYS = re.compile(r"([0-9]{1,4})(?:\s*(?:-|–|to)\s*([0-9]{1,4}))?")
_TIMES = re.compile(r"\s*[x×X*]\s*")


class Misread(Exception):  # noqa: N818 - it is caught by the reader and becomes a Fault
    """A text that is not the quantity expected: a note on what was found, and the cure."""

    def __init__(self, expected: str, note: str = "", hint: str = "") -> None:
        self.expected = expected
        self.note = note
        self.hint = hint
        super().__init__(expected)


@dataclass(frozen=True, slots=True)
class _Amount:
    """A number, whether it carried a unit, and the least unit it carried."""

    value: float
    unit: str


def read_quantity(text: str, quantity: Quantity) -> float:
    """A number in the unit `quantity` is kept in.

    Raises:
        Misread: when the text is no such quantity or lies outside its range.
    """
    tidy = _tidied(text)
    if quantity.unit is Unit.LENGTH and _TOLERANCE.search(tidy):
        raise Misread(expected_words(quantity), hint="No ± is kept for this one; leave it out.")
    product = _product(tidy, quantity)
    value = _amount(tidy, quantity).value if product is None else product
    _check_range(value, quantity)
    return value


def read_days(text: str) -> Days:
    """A day or days of a trip, counted from 1: `3`, `3-7` or `3 to 7`.

    Raises:
        Misread: when they are none, or the last comes before the first.
    """
    expected = "a day or days counted from 1, such as 3 or 3-7"
    match = _DAYS.fullmatch(_tidied(text))
    if match is None:
        raise Misread(expected)
    first = int(match.group(1))
    last = int(match.group(2) or first)
    if first < 1:
        raise Misread(expected, hint="The day of departure is day 1.")
    if last < first:
        raise Misread(expected, hint=f"Write {last}-{first}.")
    return Days(first, last)


def read_measured(text: str, quantity: Quantity = MEASURED) -> Measured:
    """A length in mm (or angle in degrees, mass in kg) with the ± it was given, if any.

    `about 1050` is a guess: where an adjustment starts, not something measured.

    Raises:
        Misread: when the text is no such length, or the tolerance is none.
    """
    tidy = _tidied(text)
    guess = tidy.startswith("about ")
    parts = _TOLERANCE.split(tidy.removeprefix("about "))
    if len(parts) > 2:
        raise Misread(measured_words(quantity), hint="Write one ±.")
    value = _amount(parts[0], quantity)
    _check_range(value.value, quantity)
    if guess and len(parts) > 1:
        raise Misread("a guess without ±", hint="Leave out about where it was measured.")
    if len(parts) == 1:
        return Measured(value.value, about=guess)
    if not parts[1].strip():
        raise Misread("a number after ±")
    tolerance = _amount(parts[1], quantity)
    if tolerance.value <= 0.0:
        raise Misread("a tolerance above 0", hint="Leave ± out where it is not known.")
    if (value.unit == "") != (tolerance.unit == "") and {value.unit, tolerance.unit} != {
        "",
        quantity.unit.value,
    }:
        hint = "Write the unit after both numbers."
        raise Misread("one reading of the numbers", note=" (a unit on one number only)", hint=hint)
    return Measured(value.value, tolerance.value)


def read_size(text: str) -> Size:
    """Length x width x height in mm; a unit after the last number alone counts for all.

    Otherwise each number has its own unit, and a bare one is mm; beside other units a bare
    one of less than 100 is refused, since the unit may have been forgotten.

    Raises:
        Misread: when there are not three lengths above 0.
    """
    expected = "length x width x height, such as 690 x 398 x 470"
    parts = _TIMES.split(_tidied(text))
    if len(parts) != 3:
        raise Misread(expected, hint="Part three numbers by x." if len(parts) < 3 else "")
    last = _TRAILING_UNIT.search(parts[2])
    if last and not any(_TRAILING_UNIT.search(part) for part in parts[:2]):
        parts = [f"{part} {last.group()}" for part in parts[:2]] + parts[2:]
    sides = [_amount(part, SIDE) for part in parts]
    bare = [side.value for side in sides if not side.unit]
    if 0 < len(bare) < len(sides) and min(bare) < LEAST_BARE:
        raise Misread(expected, hint="Write the unit once at the end, or after each number.")
    for side in sides:
        _check_range(side.value, SIDE)
    return Size(sides[0].value, sides[1].value, sides[2].value)


def read_whole(text: str, quantity: Quantity | None) -> int:
    """A whole number, within the range of `quantity` if there is one.

    Raises:
        Misread: when the text is none.
    """
    bounds = quantity or Quantity(Unit.RATIO)
    expected = f"a whole number{range_words(bounds)}"
    number = plain_number(_tidied(text))
    if number is None or not float(number).is_integer():
        raise Misread(expected)
    try:
        _check_range(float(number), bounds)
    except Misread:
        raise Misread(expected) from None
    return int(number)


def expected_words(quantity: Quantity) -> str:
    """What was expected, with examples: "a length above 0, such as 560, ..."."""
    return f"{WORDS[quantity.unit]}{range_words(quantity)}, such as {EXAMPLES[quantity.unit]}"


def measured_words(quantity: Quantity = MEASURED) -> str:
    """What was expected of a measured length, angle or mass."""
    if quantity.unit is Unit.ANGLE:
        return "an angle, such as 17 deg or 17 deg ± 0.5 deg"
    if quantity.unit is Unit.MASS:
        return f"a mass{range_words(quantity)}, such as 38 kg or 38 kg ± 0.5 kg"
    return "a length, such as 560, 1046 ± 2 or 35 1/2 in"


def range_words(quantity: Quantity) -> str:
    """The range in words: " above 0", " from -180 to 180", or nothing."""
    if quantity.above is not None:
        upper = "" if quantity.most is None else f" and up to {quantity.most:g}"
        return f" above {quantity.above:g}{upper}"
    if quantity.least is not None and quantity.most is not None:
        return f" from {quantity.least:g} to {quantity.most:g}"
    if quantity.least is not None:
        return f" of {quantity.least:g} or more"
    return "" if quantity.most is None else f" of at most {quantity.most:g}"


def plain_number(text: str) -> int | float | None:
    """The one rule for what is a bare number anywhere in a design file; None if it is none."""
    if not re.fullmatch(rf"[+-]?{_NUMBER}", text):
        return None
    value = float(text)
    if not math.isfinite(value):
        return None
    return int(text) if re.fullmatch(r"[+-]?[0-9]{1,15}", text) else value


def _tidied(text: str) -> str:
    """Typographic minus, spaces and fractions as plain characters."""

    def spelled(match: re.Match[str]) -> str:
        return " " + unicodedata.normalize("NFKC", match.group()).replace("⁄", "/")

    text = text.replace("−", "-").replace("⁄", "/").replace("\xa0", " ").replace("\u202f", " ")
    return " ".join(_VULGAR.sub(spelled, text).split())


def _product(text: str, quantity: Quantity) -> float | None:
    """What is told as one number at another, such as 100 Ah at 12.8 V; None if it is not."""
    units, parts = PRODUCTS.get(quantity.unit), _AT.split(text)
    if units is None or len(parts) == 1:
        return None
    value = 1.0
    for part, unit in zip(parts, units, strict=False):
        match = re.fullmatch(rf"({_NUMBER})\s*([a-z]+)", part.strip().lower())
        if len(parts) > 2 or match is None or match.group(2) != unit:
            raise Misread(expected_words(quantity), hint=UNIT_HINTS[quantity.unit])
        value *= float(match.group(1))
    return round(value, 9)


def _amount(text: str, quantity: Quantity) -> _Amount:
    """One number with unit, or a sum such as 5 ft 3 1/4 in."""
    _refuse_odd(text, quantity)
    rest = text.strip()
    if quantity.unit is Unit.CONSUMPTION:
        rest = _PER_HUNDRED.sub("l/hundredkm", rest)
    sign = -1.0 if rest.startswith("-") else 1.0
    rest = rest[1:].lstrip() if rest[0] in "+-" else rest
    if not rest:
        raise Misread(expected_words(quantity))
    total, least = 0.0, math.inf
    unit, position = "", 0
    while position < len(rest):
        term = _TERM.match(rest, position)
        if term is None or term.end() == position:
            raise Misread(expected_words(quantity), hint=_cure(rest))
        unit = _unit(term.group("unit"))
        factor = _factor(unit, quantity)
        if position and (not unit or factor >= least):
            raise Misread(expected_words(quantity))
        if not unit and position == 0 and term.end() < len(rest):
            raise Misread(expected_words(quantity), hint=_cure(rest))
        total += _number(term, quantity, unit) * factor
        least, position = factor, term.end()
    if unit in PER:
        if not total:
            raise Misread(expected_words(quantity))
        total = least * least / total
    return _Amount(round(sign * total - OFFSETS.get(unit, 0.0) * least, 9), unit)


def _number(term: re.Match[str], quantity: Quantity, unit: str) -> float:
    whole = float(term.group("whole") or 0.0)
    top = term.group("top") or term.group("only_top")
    bottom = term.group("bottom") or term.group("only_bottom")
    if top is None or bottom is None:
        return whole
    if int(bottom) == 0:
        raise Misread("a fraction such as 3/4", hint="Nothing can be divided by 0.")
    if term.group("top") is not None and int(top) >= int(bottom):
        raise Misread("a fraction less than 1 after the whole number, such as 35 1/2 in")
    if quantity.unit is Unit.LENGTH and not unit:
        bare = term.group().strip()
        raise Misread("a unit after a fraction", hint=f"Write {bare} in if inches are meant.")
    return whole + float(top) / float(bottom)


def _unit(text: str) -> str:
    """The unit as the tables spell it."""
    word = re.sub(r"\s*/\s*", "/", text.strip().rstrip(".").strip().lower())
    compact = re.sub(r"[\s.()]+", "", word)
    gallons = {
        "galus": "gal(us)",
        "usgal": "gal(us)",
        "galuk": "gal(uk)",
        "ukgal": "gal(uk)",
        "impgal": "gal(uk)",
        "galimp": "gal(uk)",
        "gals": "gal",
        "gallon": "gal",
        "gallons": "gal",
    }
    return gallons.get(compact, word)


def _factor(unit: str, quantity: Quantity) -> float:
    known = FACTORS[quantity.unit]
    if not unit:
        return 1.0
    if unit in known:
        return known[unit]
    expected = expected_words(quantity)
    if quantity.unit is Unit.VOLUME and unit == "gal":
        raise Misread("gal(us) or gal(uk)", hint="A US gallon is 3.785 l, an imperial one 4.546 l.")
    for kind, units in FACTORS.items():
        if unit in units or (kind is Unit.VOLUME and unit == "gal"):
            raise Misread(expected, note=f" ({WORDS[kind]})")
    raise Misread(expected, hint=UNIT_HINTS[quantity.unit])


def _refuse_odd(text: str, quantity: Quantity) -> None:
    """The mistakes a builder makes most, each with its cure."""
    if not text.strip():
        raise Misread(expected_words(quantity))
    misread = misread_comma(text)
    if misread:
        raise misread
    if _NO_NUMBER.fullmatch(text.strip()):
        raise Misread(expected_words(quantity), note=" (no finite number)")


def misread_comma(text: str) -> Misread | None:
    """What to say of a number with a comma in it; None if the text has none."""
    comma = _COMMA.search(text)
    if comma is None:
        return None
    pointed = f"{comma.group(1)}.{comma.group(2)}"
    if len(comma.group(2)) == 3 and comma.group(1) != "0":
        pointed = f"{comma.group(1)}{comma.group(2)} or {pointed}"
    return Misread("a number", hint=f"Write {pointed}.")


def _cure(text: str) -> str:
    if "/" in text:
        return "Write a fraction as 3/4 in or 35 1/2 in."
    return "Leave no space within a number." if re.search("[0-9] [0-9]", text) else ""


def _check_range(value: float, quantity: Quantity) -> None:
    limit = LIMITS[quantity.unit]
    if not abs(value) <= limit:
        unit = "" if quantity.unit in (Unit.MONEY, Unit.RATIO) else f" {quantity.unit}"
        raise Misread(f"{WORDS[quantity.unit]} of at most {limit:g}{unit}")
    too_low = quantity.least is not None and value < quantity.least
    too_high = quantity.most is not None and value > quantity.most
    at_bound = quantity.above is not None and value <= quantity.above
    if too_low or too_high or at_bound:
        raise Misread(f"{WORDS[quantity.unit]}{range_words(quantity)}")
