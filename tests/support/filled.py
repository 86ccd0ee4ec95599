"""An independent judge of filled sheets of bare rectangles, for tests and benchmarks of nesting."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from fitout.cutting.layout import Blank, Layout

CLOSE = 1e-6
Box = tuple[float, float, float, float]


def boxes(layout: Layout) -> list[Box]:
    """What each blank covers, from its drawn size and its turn alone."""
    found = []
    for laid in layout.laid:
        size = (laid.blank.length, laid.blank.width)
        dx, dy = size[::-1] if laid.turned else size
        found.append((laid.x, laid.y, laid.x + dx, laid.y + dy))
    return found


def faults(
    sheets: Iterable[Layout], blanks: Sequence[Blank], size: tuple[float, float]
) -> list[str]:
    """Whatever is wrong with the sheets: blanks outside, overlapping, turned, missing, twice."""
    sheets = list(sheets)
    laid = [each.blank for sheet in sheets for each in sheet.laid]
    wanted = Counter((b.number, b.copy) for b in blanks)
    found = [] if Counter((b.number, b.copy) for b in laid) == wanted else ["not each blank once"]
    for sheet in sheets:
        turned = (laid.blank for laid in sheet.laid if laid.turned)
        found += [f"{blank.number} is turned" for blank in turned if not blank.turnable]
        placed = boxes(sheet)
        for i, (x0, y0, x1, y1) in enumerate(placed):
            if min(x0, y0, size[0] - x1, size[1] - y1) < -CLOSE:
                found.append(f"{sheet.laid[i].blank.number} lies outside")
            for a0, b0, a1, b1 in placed[:i]:
                if min(x1, a1) - max(x0, a0) > CLOSE and min(y1, b1) - max(y0, b0) > CLOSE:
                    found.append(f"{sheet.laid[i].blank.number} overlaps another")
    return found


def in_three_stages(layout: Layout) -> bool:
    """Whether cuts in three stages, and a trim of each blank, take the sheet apart."""
    placed = boxes(layout)
    return any(
        all(
            len(column) == 1
            for section in parted(placed, axis)
            for row in parted(section, 1 - axis)
            for column in parted(row, axis)
        )
        for axis in (0, 1)
    )


def parted(placed: Sequence[Box], axis: int) -> list[list[Box]]:
    """The groups that straight cuts across an axis part; finer cuts never harm later ones."""
    groups: list[list[Box]] = []
    reach = float("-inf")
    for box in sorted(placed, key=lambda box: box[axis]):
        if box[axis] < reach - CLOSE:
            groups[-1].append(box)
        else:
            groups.append([box])
        reach = max(reach, box[axis + 2])
    return groups
