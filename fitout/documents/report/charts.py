"""Charts as small SVG pictures whose words stay text, drawn no wider than a phone shows them."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fitout.documents.report.markup import Markup, joined, tag
from fitout.documents.wording import decimal

WIDTH = 320.0
BAR = 16.0
LEFT, RIGHT, TOP, BOTTOM = 8.0, 8.0, 34.0, 20.0


@dataclass(frozen=True, slots=True)
class Amount:
    """One bar: its name and how much."""

    name: str
    value: float


def against_limit(title: str, amounts: Sequence[Amount], limit: float, limit_told: str) -> Markup:
    """Bars below each other against one limit, which is a stroke with its words."""
    reach = 1.08 * max([limit, *(amount.value for amount in amounts)])
    height = TOP + len(amounts) * (BAR + 6.0) + 6.0

    def at(value: float) -> float:
        return LEFT + (WIDTH - LEFT - RIGHT) * max(value, 0.0) / reach

    shapes = [tag("text", title, x=LEFT, y=14.0, class_="t")]
    for i, amount in enumerate(amounts):
        y = TOP + i * (BAR + 6.0)
        over = amount.value > limit
        shapes.append(
            tag("rect", x=LEFT, y=y, width=at(amount.value) - LEFT, height=BAR,
                class_=f"b{i % 3}" + (" over" if over else ""))
        )  # fmt: skip
        told = f"{amount.name} {decimal(amount.value, 0)}{' !' if over else ''}"
        shapes.append(tag("text", told, x=LEFT + 5.0, y=y + 12.0))
    mark = at(limit)
    shapes.append(tag("path", d=f"M{mark:.1f} {TOP - 8.0:g}V{height - 2.0:g}", class_="limit"))
    anchor = "e a" if mark > WIDTH / 2.0 else "a"
    shapes.append(tag("text", limit_told, x=mark, y=TOP - 10.0, class_=anchor))
    told = ", ".join(f"{a.name} {decimal(a.value, 0)}" for a in amounts)
    return picture(f"{title}: {told}; {limit_told}", height, shapes)


def by_day(
    title: tuple[str, str],
    values: Sequence[float | None],
    limit: tuple[float, str] | None,
    wrong: Sequence[bool],
    since: Callable[[float], str],
) -> Markup:
    """A column for each day with its value, marked `!` where something is wrong, and the limit.

    The title has a word and a unit; `since` tells where the scale begins if that is not 0.
    """
    known = [value for value in values if value is not None]
    low, high = _scale(known, None if limit is None else limit[0])
    height, foot = 132.0, 132.0 - BOTTOM
    pitch = (WIDTH - LEFT - RIGHT) / max(len(values), 1)

    def up(value: float) -> float:
        return foot - (foot - TOP) * (value - low) / (high - low)

    columns: dict[bool, str] = {}
    told, upright = [], []
    for i, value in enumerate(values):
        x = LEFT + i * pitch
        middle = x + pitch / 2.0
        if i % max(1, round(30.0 / pitch)) == 0:
            told.append(tag("text", str(i + 1), x=middle, y=height - 6.0, class_="m"))
        if value is None:
            continue
        top = min(up(value), foot - 1.0)
        column = f"M{x + 0.1 * pitch:.1f} {foot:g}V{top:.1f}h{0.8 * pitch:.1f}V{foot:g}z"
        columns[wrong[i]] = columns.get(wrong[i], "") + column
        amount = decimal(value, 0)
        if pitch > 36.0:
            told.append(tag("text", amount, x=middle, y=foot - 4.0, class_="m"))
        else:
            # Turned by a quarter, along the column: across is up.
            upright.append(tag("text", amount, x=4.0 - foot, y=middle + 4.0))
        if wrong[i]:
            told.append(tag("text", "!", x=middle, y=top - 2.0, class_="m t"))
    word, unit = title
    begins = f", {since(low)}" if low else ""
    shapes = [tag("text", f"{word} ({unit}{begins})", x=LEFT, y=14.0, class_="t")]
    shapes += [tag("path", d=path, class_="b2 over" if bad else "b2")
               for bad, path in columns.items()]  # fmt: skip
    shapes.append(tag("path", d=f"M{LEFT:g} {foot:g}H{WIDTH - RIGHT:g}", class_="axis"))
    if limit is not None:
        y = up(limit[0])
        shapes.append(tag("path", d=f"M{LEFT:g} {y:.1f}H{WIDTH - RIGHT:g}", class_="limit"))
        shapes.append(tag("text", limit[1], x=WIDTH - RIGHT, y=14.0, class_="e a"))
    shapes += [*told, *([tag("g", *upright, transform="rotate(-90)")] if upright else [])]
    spoken = ", ".join("–" if value is None else decimal(value, 0) for value in values)
    ends = "" if limit is None else f"; {limit[1]}"
    return picture(f"{word} ({unit}): {spoken}{ends}", height, shapes)


def _scale(known: Sequence[float], limit: float | None) -> tuple[float, float]:
    """From where to where a column chart runs: from 0, but loads from just below the least."""
    high = max([*known, limit or 0.0, 1e-6])
    least = min([*known, high])
    low = 0.0 if limit is None else max(0.0, least - 0.5 * (high - least) - 0.05 * high)
    low = math.floor(low / 10.0) * 10.0
    return low, high + 0.05 * (high - low)


def picture(told: str, height: float, shapes: Sequence[Markup]) -> Markup:
    """The chart as one picture with what it tells in words."""
    return tag(
        "svg",
        tag("title", told),
        joined(shapes),
        viewBox=f"0 0 {WIDTH:g} {height:g}",
        role="img",
        class_="chart",
    )
