"""Answers in words, within 80 columns, and as data."""

from __future__ import annotations

import inspect
import textwrap
from collections.abc import Iterator, Sequence

from fitout.answers.asked import AskedFinding
from fitout.answers.compare import Amount, Difference, FindingChange, PartChange
from fitout.answers.numbers import Figure
from fitout.answers.reckonings import reckoning
from fitout.answers.why import BETWEEN, Answer, Influence, Values
from fitout.checks.findings import Check
from fitout.documents.wording import decimal
from fitout.model.finding import Finding

WIDTH = 80
SHOWN = 12
"""How many numbers a finding hangs on are told; the rest are counted."""

LEAST = 0.005
"""A change that would be told as 0.00 is not told."""

NAME = 38
"""Columns for a number's name."""


def why_lines(
    asked: AskedFinding,
    answer: Answer | None,
    file: str,
    follows: tuple[str, Answer] | None = None,
) -> Iterator[str]:
    """A finding: what it says, how it is reckoned, what it hangs on.

    `follows` is the surface of the vehicle that the part keeps to, and what that hangs on.
    """
    finding = asked.finding
    yield f"{finding.code} ({finding.severity.value}): {finding.where}"
    yield ""
    yield from textwrap.wrap(finding.sentence.splitlines()[0], WIDTH)
    yield ""
    told = reckoning(finding.code)
    for label, text in (
        ("What it means", told.means if told else _purpose(asked.check)),
        ("How it is reckoned", told.formula if told else ""),
        ("Source", finding.source),
    ):
        if text:
            yield from textwrap.wrap(f"{label}: {text}", WIDTH, subsequent_indent="  ")
    yield from _value(asked)
    yield ""
    if follows is None or (answer is not None and any(map(_shows, answer.influences))):
        yield from influence_lines(answer, file)
        yield from [""] * (follows is not None)
    if follows is not None:
        yield from _following_lines(finding, *follows, file)
    if asked.others:
        yield ""
        places = "; ".join(dict.fromkeys(other.where for other in asked.others))
        text = f"More of {finding.code!r}: {places}. Ask for one as '{finding.code}: PLACE'."
        yield from textwrap.wrap(text, WIDTH)


def _following_lines(finding: Finding, surface: str, answer: Answer, file: str) -> Iterator[str]:
    """That the part follows the surface as measured, and what decides where that is."""
    part, name = finding.where.partition(BETWEEN)[0], surface.removeprefix("bay/")
    yield from wrapped(
        f"No number that was measured of the vehicle bears on it: {part} follows the {name} as "
        f"measured, and what moves the one moves the other. These decide where the {name} is "
        "there; the last columns tell how far it moves away from the part as it stands."
    )
    yield ""
    yield from influence_table(answer, file)


def following_object(surface: str, answer: Answer) -> dict[str, object]:
    """What a part keeps to, and what that hangs on, as data."""
    return {
        "surface": surface,
        "influences": [influence_object(one) for one in answer.influences],
    }


def _purpose(check: Check | None) -> str:
    return " ".join((inspect.getdoc(check) or "").split()) if check else ""


def _value(asked: AskedFinding) -> Iterator[str]:
    finding = asked.finding
    numbers = (("value", finding.value), ("limit", finding.limit), ("margin", finding.margin))
    told = [
        f"{name} {decimal(v, 2)} {finding.unit}".rstrip() for name, v in numbers if v is not None
    ]
    if finding.u is not None:
        told.append(f"standard uncertainty {decimal(finding.u, 2)} {finding.unit}".rstrip())
    if told:
        yield from textwrap.wrap("; ".join(told).capitalize() + ".", WIDTH)


def part_lines(part: str, answer: Answer, file: str) -> Iterator[str]:
    """A part: its sizes, and what they hang on."""
    yield part
    yield ""
    units = {"mass": "kg"}
    told = (f"{name} {decimal(v, 2)} {units.get(name, 'mm')}" for name, v in answer.values.items())
    yield from textwrap.wrap(", ".join(told).capitalize() + ".", WIDTH)
    yield ""
    yield from influence_lines(answer, file)


def influence_lines(answer: Answer | None, file: str) -> Iterator[str]:
    """Each number that bears on what was asked, with its line and the change it makes."""
    if answer is None or not answer.values:
        yield from textwrap.wrap(
            "It holds no number that could be followed: it is told of entries, by nesting, or "
            "has no value.",
            WIDTH,
        )
        return
    shown = [one for one in answer.influences if _shows(one)]
    if not shown:
        yield f"None of the {answer.tried} numbers of the design bears on it."
        return
    yield from wrapped(
        f"Of the {answer.tried} numbers of the design these bear on it, most first. The last "
        "columns tell how it changes with one more and one less (mm, kg, degree, as the number "
        "is). '-' stands where the design then can't be built or this is not told any more."
    )
    yield ""
    yield from influence_table(answer, file)


def wrapped(text: str) -> list[str]:
    """A text in lines of `WIDTH`."""
    return textwrap.wrap(text, WIDTH)


def influence_table(answer: Answer, file: str) -> Iterator[str]:
    """The numbers that bear on something, one a line."""
    shown = [one for one in answer.influences if _shows(one)]
    room = _room(tuple(answer.values))
    yield f"{'number':<{room}} {'line':>7} {'is':>12} {'one more':>9} {'one less':>9}"
    yield "-" * WIDTH
    for one in shown[:SHOWN]:
        yield from _influence(one, room)
    left = len(shown) - SHOWN
    if left > 0:
        yield f"{left} more bear on it less than these; --json tells all."
    yield from textwrap.wrap(f"Lines are those of {file}; 'default' is not written there.", WIDTH)


def _shows(one: Influence) -> bool:
    return one.up is None or one.down is None or one.size >= LEAST


def _room(keys: Sequence[str]) -> int:
    """Columns left for a number's name where each of several values is named behind."""
    return NAME - (max(map(len, keys)) + 1 if len(keys) > 1 else 0)


def _influence(one: Influence, room: int) -> Iterator[str]:
    figure = one.figure
    line = "default"[:7] if figure.line is None else str(figure.line)
    names = list((one.up or one.down or {"": 0.0}).keys())
    name = figure.name
    if len(name) > room:
        name = "…" + name[1 - room :]
    value = f"{decimal(figure.value, 2)} {figure.unit.value}"
    for i, key in enumerate(names):
        label = name if i == 0 else ""
        told = (line, value) if i == 0 else ("", "")
        what = f"  {key}" if len(names) > 1 else ""
        if len(names) > 1 and not _felt(one, key):
            continue
        yield (
            f"{label:<{room}} {told[0]:>7} {told[1]:>12} {_change(one.up, key):>9} "
            f"{_change(one.down, key):>9}{what}"
        )


def _felt(one: Influence, key: str) -> bool:
    return any(told is not None and abs(told[key]) >= LEAST for told in (one.up, one.down))


def _change(told: Values | None, key: str) -> str:
    return "-" if told is None or key not in told else f"{told[key]:+.2f}"


def influence_object(one: Influence) -> dict[str, object]:
    """An influence as data."""
    return {
        **figure_object(one.figure),
        "step": one.step,
        "one_more": _rounded(one.up),
        "one_less": _rounded(one.down),
    }


def figure_object(figure: Figure) -> dict[str, object]:
    """A number of the design as data; `line` null where it is a default."""
    return {
        "number": figure.name,
        "value": round(figure.value, 6),
        "unit": figure.unit.value,
        "line": figure.line,
        "column": figure.column,
    }


def _rounded(values: Values | None) -> dict[str, float] | None:
    return None if values is None else {name: round(v, 6) for name, v in values.items()}


def answer_object(asked: str, answer: Answer | None) -> dict[str, object]:
    """What `check --why --json` prints."""
    told = answer or Answer({}, (), 0)
    return {
        "asked": asked,
        "values": _rounded(told.values),
        "numbers_tried": told.tried,
        "influences": [influence_object(one) for one in told.influences],
    }


def difference_lines(difference: Difference) -> Iterator[str]:
    """What changed, findings first, since they decide."""
    if difference.is_none:
        yield "Nothing changed: the same parts, masses, findings and sheets."
        return
    groups: Sequence[tuple[str, list[str]]] = (
        ("Findings", [text for c in difference.findings for text in finding_change(c)]),
        ("Parts", [text for c in difference.parts for text in _part_change(c)]),
        ("Masses and balance", [_amount(a) for a in difference.amounts]),
        ("Sheets", [_amount(a) for a in difference.sheets]),
    )
    for heading, lines in groups:
        if lines:
            yield heading
            yield from lines
            yield ""


def finding_change(change: FindingChange) -> list[str]:
    """One finding's change: its verdict or margin, before and after."""
    told = change.told
    if change.before is None:
        text = f"new, {told.severity.value}: {told.code}: {told.sentence.splitlines()[0]}"
    elif change.after is None:
        text = f"gone (was {told.severity.value}): {told.code}: {told.where}"
    else:
        verdict = change.before.severity.value
        if change.before.severity is not told.severity:
            verdict = f"{verdict} -> {told.severity.value}"
        margin = ""
        if change.before.margin is not None and told.margin is not None:
            margin = (
                f", margin {decimal(change.before.margin, 2)} -> {decimal(told.margin, 2)}"
                f" {told.unit}"
                f" ({change.moved:+.2f})"
            )
        text = f"{verdict}{margin}: {told.code}: {told.where}"
    return textwrap.wrap(text, WIDTH, initial_indent="  ", subsequent_indent="      ")


def _part_change(change: PartChange) -> list[str]:
    text = f"{change.kind}: {change.part}"
    if change.what:
        text = f"{text}: {', '.join(change.what)}"
    return textwrap.wrap(text, WIDTH, initial_indent="  ", subsequent_indent="      ")


def _amount(amount: Amount) -> str:
    sides = ["none" if v is None else decimal(v, 2) for v in (amount.before, amount.after)]
    by = ""
    if amount.before is not None and amount.after is not None:
        by = f" ({amount.after - amount.before:+.2f})"
    return f"  {amount.name}: {sides[0]} -> {sides[1]} {amount.unit}".rstrip() + by


def difference_object(difference: Difference) -> dict[str, object]:
    """What `compare --json` prints."""
    return {
        "findings": [
            {
                "code": c.told.code,
                "where": c.told.where,
                "before": None if c.before is None else c.before.severity.value,
                "after": None if c.after is None else c.after.severity.value,
                "margin_before": None if c.before is None else c.before.margin,
                "margin_after": None if c.after is None else c.after.margin,
                "unit": c.told.unit,
            }
            for c in difference.findings
        ],
        "parts": [
            {"part": c.part, "change": c.kind, "what": list(c.what)} for c in difference.parts
        ],
        "amounts": [_amount_object(a) for a in difference.amounts],
        "sheets": [_amount_object(a) for a in difference.sheets],
    }


def _amount_object(amount: Amount) -> dict[str, object]:
    return {
        "name": amount.name,
        "unit": amount.unit,
        "before": amount.before,
        "after": amount.after,
    }
