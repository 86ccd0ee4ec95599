"""An independent judge of a cut plan: from geometry alone, with none of the engines' code."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, permutations

from fitout.cutting.cut_list import CutList
from fitout.cutting.distance import distance, edges
from fitout.cutting.plan import CutPlan, Placed, Sheet
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Outline
from fitout.model.panel import Grain, Panel

TOLERANCE = 1e-4
"""How far (mm) a plan may miss a limit by rounding."""


@dataclass(frozen=True, slots=True)
class Lying:
    """A part where it lies on its sheet: what to call it, its outline, its pockets' outlines."""

    label: str
    outline: Outline
    sinks: tuple[Outline, ...]


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
    spec = plan.spec_of(sheet)
    known = {line.number: line.panel for line in cuts.lines}
    lying: list[Lying] = []
    for placed in sheet.placed:
        if placed.number not in known:
            continue
        panel = known[placed.number]
        part = _lying(placed, panel, sheet.number)
        lying.append(part)
        if (panel.board.key, panel.thickness) != (sheet.board.key, sheet.board.thickness):
            yield f"{part.label} is to be cut from {panel.board.key}, not from {sheet.board.key}."
        if panel.board.grain and panel.grain is not Grain.EITHER and placed.quarter_turns % 2:
            yield f"{part.label} lies across the grain."
    yield from _outside(lying, sheet, spec)
    gap = spec.kerf + (spec.spacing if spec.by == "router" else 0.0)
    yield from _too_near(lying, gap)
    yield from _sunk_into(lying)
    if spec.by == "saw" and not _sawable([part.outline.bounds for part in lying], gap):
        yield f"Sheet {sheet.number} can't be taken apart by edge-to-edge cuts."


def _lying(placed: Placed, panel: Panel, sheet: str) -> Lying:
    turned = panel.outline.turned(placed.quarter_turns)
    dx, dy = placed.x - turned.bounds[0], placed.y - turned.bounds[1]
    sinks = tuple(
        Outline(pocket.loop.turned(placed.quarter_turns).moved(dx, dy)) for pocket in panel.pockets
    )
    label = f"{placed.number} copy {placed.copy} on {sheet}"
    return Lying(label, turned.moved(dx, dy), sinks)


def _outside(lying: Sequence[Lying], sheet: Sheet, spec: CuttingSpec) -> Iterator[str]:
    for part in lying:
        x0, y0, x1, y1 = part.outline.bounds
        room = min(x0, y0, sheet.board.length - x1, sheet.board.width - y1) - spec.trim
        if room < -TOLERANCE:
            yield f"{part.label} reaches {-room:.2f} mm into the trim."


def _too_near(lying: Sequence[Lying], gap: float) -> Iterator[str]:
    for a, b in combinations(lying, 2):
        if _boxes_apart(a.outline, b.outline) >= gap - TOLERANCE:
            continue
        # One may lie in a notch or a cut-out of the other: the true outlines decide.
        apart = distance(edges(a.outline), edges(b.outline))
        if apart < gap - TOLERANCE:
            yield f"{a.label} and {b.label} are {apart:.2f} mm apart, not {gap:.2f} mm."


def _sunk_into(lying: Sequence[Lying]) -> Iterator[str]:
    """A pocket may run out over its own part's edge, but not into another part."""
    for part, other in permutations(lying, 2):
        for sink in part.sinks:
            if _boxes_apart(sink, other.outline) > -TOLERANCE:
                continue
            if distance(edges(sink), edges(other.outline)) == 0.0:
                yield f"A pocket of {part.label} runs into {other.label}."


def _boxes_apart(a: Outline, b: Outline) -> float:
    """How far the bounding rectangles lie apart along x or y; negative where they overlap."""
    ax0, ay0, ax1, ay1 = a.bounds
    bx0, by0, bx1, by1 = b.bounds
    return max(bx0 - ax1, ax0 - bx1, by0 - ay1, ay0 - by1)


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
