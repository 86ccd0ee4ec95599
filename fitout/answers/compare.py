"""Two versions of a design side by side: what parts, masses, gaps, findings and sheets changed."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from fitout.checks.mass import empty_of
from fitout.checks.subject import Subject
from fitout.cutting.plan import BoardUse, CutPlan
from fitout.documents.wording import decimal
from fitout.model.finding import WORST_FIRST, Finding
from fitout.model.item import Item
from fitout.model.module import Part
from fitout.model.panel import Bar, Panel
from fitout.workflow import Evaluation

SAME = 0.005
"""Lengths (mm) and masses (kg) that differ by less are told as the same."""

SAME_MARGIN = 0.05
"""A margin that moved by less, in its own unit, is no news."""


@dataclass(frozen=True, slots=True)
class PartChange:
    """A part that came, went, or is otherwise, and in what: `length 787.2 -> 790.2 mm`."""

    part: str
    kind: str
    what: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FindingChange:
    """A finding before and after; None where it is not told."""

    before: Finding | None
    after: Finding | None

    @property
    def told(self) -> Finding:
        """The newer of the two."""
        found = self.after or self.before
        assert found is not None
        return found

    @property
    def moved(self) -> float:
        """By how much its margin grew; 0 where there is none on both sides."""
        if self.before is None or self.after is None:
            return 0.0
        if self.before.margin is None or self.after.margin is None:
            return 0.0
        return self.after.margin - self.before.margin


@dataclass(frozen=True, slots=True)
class Amount:
    """A mass (kg), length (mm) or count before and after; None where there was none."""

    name: str
    unit: str
    before: float | None
    after: float | None


@dataclass(frozen=True, slots=True)
class Difference:
    """All that differs between two versions of a design."""

    parts: tuple[PartChange, ...]
    findings: tuple[FindingChange, ...]
    amounts: tuple[Amount, ...]
    sheets: tuple[Amount, ...] = ()

    @property
    def is_none(self) -> bool:
        """Whether both versions come to the same."""
        return not (self.parts or self.findings or self.amounts or self.sheets)


def compared(
    before: Evaluation, after: Evaluation, plans: tuple[CutPlan, CutPlan] | None = None
) -> Difference:
    """What changed; sheets only where both are nested."""
    return Difference(
        parts=tuple(part_changes(before.subject, after.subject)),
        findings=tuple(finding_changes(before.findings, after.findings)),
        amounts=tuple(_amounts(before, after)),
        sheets=tuple(_sheets(*plans)) if plans else (),
    )


def finding_changes(before: Sequence[Finding], after: Sequence[Finding]) -> list[FindingChange]:
    """Findings that came, went, changed their verdict or their margin; what got worse first."""
    old, new = _by_key(before), _by_key(after)
    changes = [FindingChange(old.get(key), new.get(key)) for key in {**old, **new}]
    found = [c for c in changes if _is_news(c)]
    return sorted(found, key=_worse_first)


def _by_key(found: Sequence[Finding]) -> Mapping[tuple[str, str, int], Finding]:
    keyed: dict[tuple[str, str, int], Finding] = {}
    for finding in found:
        times = 0
        while (finding.code, finding.where, times) in keyed:
            times += 1
        keyed[finding.code, finding.where, times] = finding
    return keyed


def _is_news(change: FindingChange) -> bool:
    if change.before is None or change.after is None:
        return True
    return change.before.severity is not change.after.severity or abs(change.moved) >= SAME_MARGIN


def _worse_first(change: FindingChange) -> tuple[int, int, float]:
    """By how bad it is now, then what changed its verdict, then the margin lost."""
    rank = len(WORST_FIRST) if change.after is None else WORST_FIRST.index(change.after.severity)
    turned = change.before is None or change.after is None
    turned = turned or change.before.severity is not change.after.severity  # type: ignore[union-attr]
    return rank, 0 if turned else 1, change.moved


def part_changes(before: Subject, after: Subject) -> Iterator[PartChange]:
    """Parts that came, went, were cut otherwise or stand elsewhere, by id."""
    for part in sorted({*before.parts, *after.parts}):
        old, new = before.parts.get(part), after.parts.get(part)
        if old is None or new is None:
            yield PartChange(part, "gone" if new is None else "new")
            continue
        cut, moved = tuple(_cut_otherwise(old, new)), _moved(old, new)
        if cut:
            yield PartChange(part, "changed", cut)
        elif moved:
            yield PartChange(part, "moved", (moved,))


def _cut_otherwise(old: Part, new: Part) -> Iterator[str]:
    """What of a part itself is another than before."""
    for name, a, b in zip(("length", "width", "height"), _sizes(old), _sizes(new), strict=True):
        if abs(a - b) >= SAME:
            yield f"{name} {decimal(a, 2)} -> {decimal(b, 2)} mm"
    if isinstance(old, Panel) and isinstance(new, Panel):
        if old.board.key != new.board.key:
            yield f"{old.board.key} -> {new.board.key}"
        if old.holes != new.holes:
            yield _counted("hole", len(old.holes), len(new.holes))
        if old.pockets != new.pockets:
            yield _counted("groove", len(old.pockets), len(new.pockets))
        if not any(abs(a - b) >= SAME for a, b in zip(_sizes(old), _sizes(new), strict=True)) and (
            old.outline != new.outline
        ):
            yield "another outline"
    if isinstance(old, Bar) and isinstance(new, Bar) and old.section != new.section:
        yield f"{old.section.key} -> {new.section.key}"


def _counted(what: str, old: int, new: int) -> str:
    return f"{what}s moved" if old == new else f"{old} -> {new} {what}s"


def _sizes(part: Part) -> tuple[float, float, float]:
    match part:
        case Panel():
            x0, y0, x1, y1 = part.outline.bounds
            return x1 - x0, y1 - y0, part.thickness
        case Bar():
            return part.length, 0.0, 0.0
        case Item():
            corners = np.vstack(part.pieces)
            low, high = corners.min(axis=0), corners.max(axis=0)
            return float(high[0] - low[0]), float(high[1] - low[1]), float(high[2] - low[2])


def _moved(old: Part, new: Part) -> str:
    """How far a part stands from where it stood, in the bay's directions."""
    shift = [b - a for a, b in zip(old.placement.origin, new.placement.origin, strict=True)]
    words = (("forward", "rearward"), ("left", "right"), ("up", "down"))
    told = [
        f"{decimal(abs(by), 2)} mm {names[0] if by > 0.0 else names[1]}"
        for by, names in zip(shift, words, strict=True)
        if abs(by) >= SAME
    ]
    return ", ".join(told)


def _amounts(before: Evaluation, after: Evaluation) -> Iterator[Amount]:
    old, new = _masses(before.subject), _masses(after.subject)
    for name in {**old, **new}:
        yield from _differs(Amount(name, "kg", old.get(name), new.get(name)), SAME)
    for key, label in (("empty_kg", "all, empty"), ("laden_kg", "all, laden")):
        values = [float(str(one.totals[key])) for one in (before, after)]
        yield from _differs(Amount(label, "kg", *values), SAME)
    middles = [one.totals["centre_of_gravity_mm"] for one in (before, after)]
    for axis, label in enumerate(("forward", "left", "up")):
        a, b = (m[axis] if isinstance(m, list) else math.nan for m in middles)
        yield from _differs(Amount(f"centre of gravity, {label}", "mm", a, b), 0.05)


def _masses(subject: Subject) -> dict[str, float]:
    modules = subject.fitout.modules
    return {module.name: empty_of(subject, module).mass_kg for module in modules}


def _differs(amount: Amount, same: float) -> Iterator[Amount]:
    if amount.before is None or amount.after is None or abs(amount.after - amount.before) >= same:
        yield amount


def _sheets(before: CutPlan, after: CutPlan) -> Iterator[Amount]:
    old, new = ({use.board.key: use for use in plan.boards} for plan in (before, after))
    for key in {**old, **new}:
        a, b = old.get(key), new.get(key)
        yield from _differs(Amount(f"sheets of {key}", "", _count(a), _count(b)), 0.5)
        yield from _differs(Amount(f"cost of {key}", "money", _cost(a), _cost(b)), SAME)


def _count(use: BoardUse | None) -> float | None:
    return None if use is None else float(use.sheets)


def _cost(use: BoardUse | None) -> float:
    return 0.0 if use is None or use.cost is None else use.cost
