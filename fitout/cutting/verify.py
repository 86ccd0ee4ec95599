"""An independent judge of a cut plan: from geometry alone, with none of the engines' code."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations

from fitout.cutting.cut_list import CutLine, CutList
from fitout.cutting.plan import CutPlan, Sheet
from fitout.model.design import CuttingSpec
from fitout.model.panel import Grain

TOLERANCE = 1e-4
"""How far (mm) a plan may miss a limit by rounding."""

Lying = tuple[str, float, float, float, float]
"""A label and the rectangle that a part takes: least x, least y, greatest x, greatest y."""


def verify(plan: CutPlan, cuts: CutList) -> tuple[str, ...]:
    """Everything wrong with the plan, one sentence each; empty if it can be cut as it stands.

    Holds each sheet against the cut list: parts inside the trimmed sheet, apart by the
    kerf (and on a router the spacing), grain kept, right board, each part exactly once and,
    for a saw, parted by edge-to-edge cuts alone.
    """
    return (*_counted(plan, cuts), *(f for s in plan.sheets for f in _sheet_faults(s, plan, cuts)))


def _counted(plan: CutPlan, cuts: CutList) -> Iterator[str]:
    placed = [(p.number, p.copy) for sheet in plan.sheets for p in sheet.placed]
    unplaced = {u.number for u in plan.unplaced}
    wanted = {
        (line.number, copy)
        for line in cuts.lines
        if line.number not in unplaced
        for copy in range(1, line.quantity + 1)
    }
    for number, copy in sorted(wanted.difference(placed)):
        yield f"{number} copy {copy} lies on no sheet."
    for number, copy in sorted(set(placed).difference(wanted)):
        yield f"{number} copy {copy} lies on a sheet but is not to be cut."
    for number, copy in sorted(part for part in wanted if placed.count(part) > 1):
        yield f"{number} copy {copy} lies on sheets {placed.count((number, copy))} times."


def _sheet_faults(sheet: Sheet, plan: CutPlan, cuts: CutList) -> Iterator[str]:
    spec = plan.spec
    known = {line.number: line for line in cuts.lines}
    lying: list[Lying] = []
    for placed in sheet.placed:
        if placed.number not in known:
            continue
        label = f"{placed.number} copy {placed.copy} on {sheet.number}"
        panel = known[placed.number].panel
        if panel.board != sheet.board:
            yield f"{label} is to be cut from {panel.board.key}, not from {sheet.board.key}."
        if panel.board.grain and panel.grain is not Grain.EITHER and placed.quarter_turns % 2:
            yield f"{label} lies across the grain."
        x0, y0, x1, y1 = panel.outline.turned(placed.quarter_turns).bounds
        lying.append((label, placed.x, placed.y, placed.x + x1 - x0, placed.y + y1 - y0))
    yield from _outside(lying, sheet, spec)
    gap = spec.kerf + (spec.spacing if spec.by == "router" else 0.0)
    yield from _too_near(lying, gap)
    yield from _sunk_into(lying, sheet, known)
    if spec.by == "saw" and not _sawable([rect[1:] for rect in lying], gap):
        yield f"Sheet {sheet.number} can't be taken apart by edge-to-edge cuts."


def _outside(lying: Sequence[Lying], sheet: Sheet, spec: CuttingSpec) -> Iterator[str]:
    for label, x0, y0, x1, y1 in lying:
        room = min(x0, y0, sheet.board.length - x1, sheet.board.width - y1) - spec.trim
        if room < -TOLERANCE:
            yield f"{label} reaches {-room:.2f} mm into the trim."


def _too_near(lying: Sequence[Lying], gap: float) -> Iterator[str]:
    for a, b in combinations(lying, 2):
        apart = max(b[1] - a[3], a[1] - b[3], b[2] - a[4], a[2] - b[4])
        if apart < gap - TOLERANCE:
            yield f"{a[0]} and {b[0]} are {apart:.2f} mm apart, not {gap:.2f} mm."


def _sunk_into(lying: Sequence[Lying], sheet: Sheet, known: Mapping[str, CutLine]) -> Iterator[str]:
    """A pocket may run out over its own part's edge, but not into another part."""
    for placed in sheet.placed:
        if placed.number not in known:
            continue
        label = f"{placed.number} copy {placed.copy} on {sheet.number}"
        panel = known[placed.number].panel
        corner = panel.outline.turned(placed.quarter_turns).bounds
        dx, dy = placed.x - corner[0], placed.y - corner[1]
        for pocket in panel.pockets:
            x0, y0, x1, y1 = pocket.loop.turned(placed.quarter_turns).moved(dx, dy).bounds
            for other in lying:
                apart = max(other[1] - x1, x0 - other[3], other[2] - y1, y0 - other[4])
                if other[0] != label and apart < -TOLERANCE:
                    yield f"A {pocket.purpose} of {label} runs {-apart:.2f} mm into {other[0]}."


def _sawable(rects: Sequence[tuple[float, ...]], gap: float) -> bool:
    """Whether edge-to-edge cuts alone part the rectangles.

    Any cut that hits no rectangle may be made first: what could be parted before can still
    be parted on either side of it.
    """
    if len(rects) < 2:
        return True
    for low, high in ((0, 2), (1, 3)):
        ordered = sorted(rects, key=lambda rect: rect[low])
        reach = ordered[0][high]
        for i, rect in enumerate(ordered[1:], start=1):
            if rect[low] >= reach + gap - TOLERANCE:
                return _sawable(ordered[:i], gap) and _sawable(ordered[i:], gap)
            reach = max(reach, rect[high])
    return False
