"""A saw bench for tests: it knows names and sizes of pieces, and does as each step says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from fitout.cutting.plan import CutPlan
from fitout.cutting.saw_words import settings
from fitout.cutting.sequence import SawStep, saw_order, saw_steps

CLOSE = 1e-5
Size = tuple[float, float]


@dataclass
class Bench:
    """What lies about: pieces by name, and the heaps that done pieces go to."""

    kerf: float
    fence: float | None = None
    pieces: dict[str, Size] = field(default_factory=dict)
    parts: dict[str, Size] = field(default_factory=dict)
    offcuts: dict[str, Size] = field(default_factory=dict)
    waste: list[Size] = field(default_factory=list)

    def cut(self, step: SawStep) -> None:
        """Make one cut; AssertionError if it can't be made as told."""
        size = self.pieces.pop(step.piece.name)
        assert_alike(size, (step.piece.length, step.piece.width))
        extent = size[0] if step.across else size[1]
        assert 0.0 < step.measure < extent
        if step.fence and not step.yard and self.fence is not None:
            assert step.measure <= self.fence + CLOSE, "the fence does not go so far"
        given = (step.measure, size[1]) if step.across else (size[0], step.measure)
        beyond = extent - step.measure - self.kerf
        rest = (beyond, size[1]) if step.across else (size[0], beyond)
        self.put(step.gives.name, step.gives.fate, given)
        assert_alike(given, (step.gives.length, step.gives.width))
        assert (step.rest is None) == (beyond <= CLOSE)
        if step.rest is not None:
            assert_alike(rest, (step.rest.length, step.rest.width))
            self.put(step.rest.name, step.rest.fate, rest)

    def put(self, name: str, fate: str, size: Size) -> None:
        """Lay what a cut gives on its heap; no two things on one heap have one name."""
        if fate == "waste":
            self.waste.append(size)
            return
        heap = {"part": self.parts, "offcut": self.offcuts, "piece": self.pieces}[fate]
        assert name not in heap, f"there is a {name} already"
        heap[name] = size


def assert_alike(a: Size, b: Size) -> None:
    """Both sizes are the same but for rounding."""
    assert all(abs(x - y) < CLOSE for x, y in zip(a, b, strict=True)), f"{a} is not {b}"


def run(
    steps: Sequence[SawStep], name: str, size: Size, kerf: float, fence: float | None = None
) -> Bench:
    """Cut a whole sheet as told."""
    bench = Bench(kerf, fence, {name: size})
    for number, step in enumerate(steps, start=1):
        assert step.number == number
        bench.cut(step)
    return bench


def cut_as_told(plan: CutPlan) -> None:
    """Every sheet taken apart by its steps; the parts must be those of the cut list.

    First each sheet alone, then the sheets of one material side by side.
    """
    cut_alone(plan)
    for key, steps in saw_order(plan).items():
        if not steps:
            continue
        sheets = [sheet for sheet in plan.sheets if sheet.board.key == key]
        spec = plan.spec_of(sheets[0])
        bench = Bench(spec.kerf, spec.saw.fence)
        for sheet in sheets:
            bench.pieces[sheet.number] = (sheet.board.length, sheet.board.width)
        for number, step in enumerate(steps, start=1):
            assert step.number == number
            bench.cut(step)
        placed = {f"{p.number} copy {p.copy}" for sheet in sheets for p in sheet.placed}
        assert bench.parts.keys() == placed
        assert bench.pieces == {}
        alone = [saw_steps(sheet, plan.spec_of(sheet)) for sheet in sheets]
        assert {(s.sheet, s.line) for s in steps} == {(s.sheet, s.line) for a in alone for s in a}
        assert settings(steps) <= sum(settings(a) for a in alone)


def cut_alone(plan: CutPlan) -> None:
    """Every sheet by itself."""
    for sheet in plan.sheets:
        spec = plan.spec_of(sheet)
        size = (sheet.board.length, sheet.board.width)
        bench = run(saw_steps(sheet, spec), sheet.number, size, spec.kerf, spec.saw.fence)
        wanted = {}
        for placed in sheet.placed:
            line = plan.cut_list.line(placed.number)
            along, across = line.length, line.width
            turned = placed.quarter_turns % 2 == 1
            wanted[f"{placed.number} copy {placed.copy}"] = (
                (across, along) if turned else (along, across)
            )
            assert not (turned and line.grain_locked)
        if not saw_steps(sheet, spec):
            continue
        assert bench.parts.keys() == wanted.keys()
        for name, found in bench.parts.items():
            assert_alike(found, wanted[name])
        offcuts = {f"{sheet.number}-{i}": r for i, r in enumerate(sheet.offcuts, start=1)}
        assert bench.offcuts.keys() == offcuts.keys()
        for name, found in bench.offcuts.items():
            assert_alike(found, (offcuts[name].length, offcuts[name].width))
        assert bench.pieces == {}
