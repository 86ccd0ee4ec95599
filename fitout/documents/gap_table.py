"""Gaps as made, least sure first: a table within 80 columns, and data."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterator, Sequence

from fitout.checks.stack import Stack

WIDTH = 80
DIGITS = 4

SHOWN = 8
"""How many gaps are printed; what is surer is seldom worth reading."""

DRIVERS = 3
"""How many of a gap's causes are told."""

INDENT = "    "
KEPT = "\u00a0"
"""A space at which no line is broken."""

COLUMNS = (("gap", 6), ("worst", 6), ("±RSS", 5), ("u", 5), ("fits", 8))
"""Headings and widths of the numbers; the gap's name has the rest of the line."""

NAME = WIDTH - sum(width + 1 for _, width in COLUMNS)


def gap_lines(gaps: Sequence[Stack], left_out: str) -> Iterator[str]:
    """The gaps in words and numbers; `left_out` says what of them is not told."""
    yield "Gaps once made, least sure first"
    if gaps:
        yield from textwrap.wrap(
            "Worst: left if everything is off at once. ±RSS: how far all that together usually "
            "takes it off (root of the sum of squares). u: standard uncertainty. Fits: "
            "probability that something is left. Below each, what it hangs on most, with its "
            "share of the variance.",
            WIDTH,
        )
        yield ""
        yield _line("between", [heading for heading, _ in COLUMNS])
        yield "-" * WIDTH
    for gap in gaps[:SHOWN]:
        yield from _row(gap)
    if len(gaps) > SHOWN:
        more = len(gaps) - SHOWN
        rest = f"{more} more gaps are" if more > 1 else "1 more gap is"
        least = percent(gaps[SHOWN].probability)
        yield f"{rest} surer still ({least} or more); --json lists them all."
    if left_out:
        yield from textwrap.wrap(left_out, WIDTH)
    elif not gaps:
        yield "Nothing that is built comes near anything else."


def gap_object(gap: Stack) -> dict[str, object]:
    """A gap as data, lengths in mm."""
    return {
        "name": gap.plain_name,
        "gap": round(gap.gap, DIGITS),
        "drawn": round(gap.drawn, DIGITS),
        "as_built": list(gap.as_built),
        "worst": round(gap.worst, DIGITS),
        "rss": round(gap.rss, DIGITS),
        "u": round(gap.u, DIGITS),
        "probability": round(gap.probability, DIGITS),
        "drivers": [
            {"name": name, "share": round(share, DIGITS)} for name, share in gap.shares[:DRIVERS]
        ],
    }


def _row(gap: Stack) -> Iterator[str]:
    name, *rest = textwrap.wrap(gap.plain_name, NAME - 1, subsequent_indent="  ")
    lengths = [f"{value + 0.0:.1f}" for value in (gap.gap, gap.worst, gap.rss, gap.u)]
    yield _line(name, [*lengths, percent(gap.probability)])
    yield from rest
    if gap.as_built:
        counted = f"drawn {gap.drawn:.1f}; counts the {', the '.join(gap.as_built)}"
        yield from textwrap.wrap(counted, WIDTH, initial_indent=INDENT, subsequent_indent=INDENT)
    # No line begins with a percent sign.
    drivers = [f"{name}{KEPT}{100.0 * share:.0f}{KEPT}%" for name, share in gap.shares[:DRIVERS]]
    for line in textwrap.wrap("; ".join(drivers), WIDTH - len(INDENT)):
        yield INDENT + line.replace(KEPT, " ")


def _line(name: str, numbers: Sequence[str]) -> str:
    cells = [n.rjust(width) for n, (_, width) in zip(numbers, COLUMNS, strict=True)]
    return " ".join([name.ljust(NAME), *cells]).rstrip()


def percent(probability: float) -> str:
    """In tenths, rounded down: nothing is ever sure to 100 %."""
    return f"{min(99.9, math.floor(1000.0 * probability) / 10.0):.1f} %"
