"""Faults as a builder reads them: the place, what was found, what was expected, the line."""

from __future__ import annotations

import dataclasses
import difflib
import re
from collections.abc import Collection, Iterable, Mapping, Sequence

from fitout.design_file.nodes import Place
from fitout.design_file.syntax import lines_of
from fitout.model.fault import DesignError, Fault, Path

SHOWN_WIDTH = 100
"""How much of a long source line is shown."""

QUOTED_WIDTH = 60
"""How much of a found text is quoted."""

SAME_NEARNESS = 0.01
"""Names whose likeness differs by less than this are equally near."""

FAR_NUMBER = 1.5
"""A number this many times another is not taken for a slip of it."""

LISTED = 12
"""How many valid names are listed before the rest is left out."""

_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?")


def show_faults(error: DesignError | Iterable[Fault], text: str, file: str) -> str:
    """Every fault in the order of the file, each with its source line and a caret.

    `file:line:column: found X; expected Y. Hint.` Cautions say so before "found". Faults
    without a place come first, without a line.
    """
    faults = error.faults if isinstance(error, DesignError) else tuple(error)
    lines = lines_of(text.removeprefix("\ufeff"))
    ordered = sorted(faults, key=lambda fault: (fault.file, fault.line or 0, fault.column or 0))
    return "\n".join(_shown(fault, lines, file) for fault in ordered)


def located(fault: Fault, sources: Mapping[Path, Place]) -> Fault:
    """The fault with the line and column of its path, or of the nearest entry around it."""
    if fault.line is not None or fault.file:
        return fault
    for length in range(len(fault.path), -1, -1):
        place = sources.get(fault.path[:length])
        if place is not None:
            return at(fault, place)
    return fault


def at(fault: Fault, place: Place) -> Fault:
    """The fault at a place of the file."""
    return dataclasses.replace(fault, line=place[0], column=place[1])


def quoted(text: str) -> str:
    """A found text, shortened, or "nothing"."""
    if not text:
        return "nothing"
    plain = "".join(c if c.isprintable() else "?" for c in " ".join(text.split()))
    return plain if len(plain) <= QUOTED_WIDTH else f"{plain[: QUOTED_WIDTH - 1]}…"


def did_you_mean(found: str, names: Collection[str]) -> str:
    """Ask "did you mean" the closest of the names, or say nothing if none is close."""
    near = nearest(found, names)
    return f"Did you mean {' or '.join(near)}?" if near else ""


def nearest(found: str, names: Collection[str]) -> tuple[str, ...]:
    """The name closest to what was found, or up to three about as close; none if all are far.

    Names that differ by their number alone are close if their numbers are. A name that goes
    on where what was found ends is close if no other is.
    """
    by_plain = {_plain(name): name for name in names}
    plain = _plain(found[:QUOTED_WIDTH])
    numbered = _by_number(plain, tuple(by_plain))
    if numbered:
        return tuple(by_plain[name] for name in numbered)
    near = difflib.get_close_matches(plain, by_plain, n=3, cutoff=0.6)
    if not near:
        longer = [name for name in by_plain if plain and name.startswith(f"{plain}_")]
        shortest = min((len(name) for name in longer), default=0)
        return tuple(by_plain[name] for name in longer if len(name) == shortest)[:3]
    ratios = [difflib.SequenceMatcher(None, name, plain).ratio() for name in near]
    return tuple(
        by_plain[name]
        for name, ratio in zip(near, ratios, strict=True)
        if ratio >= max(ratios) - SAME_NEARNESS
    )


def _by_number(found: str, names: Sequence[str]) -> tuple[str, ...]:
    """The one or two names alike but for a number near the one found, the nearest first."""
    numbers = _NUMBER.findall(found)
    if len(numbers) != 1 or not float(numbers[0]):
        return ()
    asked, frame = float(numbers[0]), _NUMBER.sub("#", found)
    offs = {}
    for name in names:
        there = _NUMBER.findall(name)
        if len(there) == 1 and _NUMBER.sub("#", name) == frame:
            number = float(there[0])
            if asked / FAR_NUMBER <= number <= asked * FAR_NUMBER:
                offs[name] = abs(number - asked)
    return tuple(sorted(offs, key=lambda name: offs[name])[:2])


def suggestion(found: str, names: Collection[str], empty: str = "") -> str:
    """The closest name; failing that, the names there are; failing that, `empty`."""
    near = did_you_mean(found, names)
    if near or not names:
        return near or empty
    return f"Known: {listed(tuple(names))}."


def listed(names: Sequence[str]) -> str:
    """The names, the last of many left out."""
    more = f" and {len(names) - LISTED} more" if len(names) > LISTED else ""
    return ", ".join(names[:LISTED]) + more


def _plain(name: str) -> str:
    return name.lower().replace(" ", "_").replace("-", "_")


def _shown(fault: Fault, lines: Sequence[str], file: str) -> str:
    file = fault.file or file
    where = file if fault.line is None else f"{file}:{fault.line}:{fault.column}"
    hint = f" {fault.hint}" if fault.hint else ""
    caution = "caution: " if fault.caution else ""
    sentence = f"{where}: {caution}found {fault.found}; expected {fault.expected}.{hint}"
    if fault.line is None or fault.column is None:
        return sentence
    source = fault.source_line if fault.file else "".join(lines[fault.line - 1 : fault.line])
    line = source.replace("\t", " ")
    if not line.strip():
        return sentence
    start = 0
    if len(line) > SHOWN_WIDTH:
        start = max(0, min(fault.column - SHOWN_WIDTH // 2, len(line) - SHOWN_WIDTH))
    shown = line[start : start + SHOWN_WIDTH].rstrip()
    return f"{sentence}\n  {shown}\n  {' ' * (fault.column - 1 - start)}^"
