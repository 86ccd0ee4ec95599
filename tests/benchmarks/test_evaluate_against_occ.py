"""A whole evaluation, and one after one changed dimension, against the OCC kernel.

The reference does less than an evaluation: it builds the exact solids of the same parts and
obstacles, measures the distance of each pair that the evaluation looks at, and where that is
nothing the volume they share. It is timed twice: with solids as they are exported, and with
the plainer ones that clearances are reckoned with, nothing drilled and bars full.
"""

from __future__ import annotations

import dataclasses
import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from occ_kernel import mesh_solid, plain

from fitout.checks import Memory
from fitout.checks.gaps import at_rest
from fitout.model.design import Design
from fitout.model.module import Part
from fitout.workflow import Evaluation, evaluate, load

DESIGN = Path(__file__).parents[2] / "designs" / "touring-wagon.yaml"
RUNS = 5

TOUCHING = 1e-3
SLIVER_MM3 = 1.0
"""Shared volumes below this are what chords of arcs make of touching faces."""

SURE = 0.02
"""Gaps this near their limit (mm) may be judged either way: chords and drill holes."""


@dataclass(frozen=True, slots=True)
class Reference:
    """What the kernel took, in processor seconds, and each pair's distance and shared volume."""

    exact_s: float
    plain_s: float
    pairs: dict[tuple[str, str], tuple[float, float]]


@pytest.fixture(scope="module")
def wagon() -> Evaluation:
    return evaluate(load(DESIGN))


@pytest.fixture(scope="module")
def reference(wagon: Evaluation) -> Reference:
    pairs = list(at_rest(wagon.subject))
    by_kernel(wagon, pairs[:3], plain)  # imports the kernel
    start = time.process_time()
    by_kernel(wagon, pairs, lambda part: part)
    middle = time.process_time()
    found = by_kernel(wagon, pairs, plain)
    return Reference(middle - start, time.process_time() - middle, found)


def by_kernel(
    wagon: Evaluation, pairs: list[tuple[str, str]], shape: Callable[[Part], Part]
) -> dict[tuple[str, str], tuple[float, float]]:
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Common
    from OCP.BRepExtrema import BRepExtrema_DistShapeShape
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    from fitout.documents.solids import solid_of

    solids: dict[str, Any] = {part.id: solid_of(shape(part)) for part in wagon.fitout.parts()}
    solids.update((o.id, mesh_solid(o)) for o in wagon.fitout.bay.obstacles)
    found = {}
    for a, b in pairs:
        distance = BRepExtrema_DistShapeShape(solids[a], solids[b]).Value()
        properties = GProp_GProps()
        if distance < TOUCHING:
            common = BRepAlgoAPI_Common(solids[a], solids[b]).Shape()
            BRepGProp.VolumeProperties_s(common, properties)
        found[a, b] = (float(distance), float(properties.Mass()))
    return found


def median_s(runs: list[Callable[[], object]]) -> float:
    """Median processor time."""
    times = []
    for run in runs:
        start = time.process_time()
        run()
        times.append(time.process_time() - start)
    return statistics.median(times)


@pytest.mark.benchmark
def test_a_whole_evaluation(wagon: Evaluation, reference: Reference) -> None:
    judged = at_rest(wagon.subject)
    differing = []
    for pair, (limit, contact) in judged.items():
        distance, volume = reference.pairs[pair]
        clashes = volume > SLIVER_MM3
        if clashes != contact.clashes and max(volume, contact.volume) > SLIVER_MM3:
            differing.append(pair)
        sure = not clashes and abs(distance - limit) > SURE
        if sure and (distance < limit) != (contact.gap < limit):
            differing.append(pair)
    assert differing == []
    taken = median_s([lambda: evaluate(wagon.design)] * RUNS)
    print(
        f"\nwhole evaluation: {1e3 * taken:.0f} ms (median of {RUNS}); OCC, solids and "
        f"{len(judged)} pairs: {reference.exact_s:.1f} s as exported, {reference.plain_s:.1f} s "
        f"plain; {reference.exact_s / taken:.0f} and {reference.plain_s / taken:.0f} times faster"
    )


def upper_front(design: Design, step: int) -> Design:
    """Another height of the upper drawer's front."""
    lower, upper = design.modules["drawers"].stack  # type: ignore[attr-defined]
    stack: Any = (lower, dataclasses.replace(upper, front_height=150.0 + step))
    drawers = dataclasses.replace(design.modules["drawers"], stack=stack)
    return dataclasses.replace(design, modules={**design.modules, "drawers": drawers})


def tank_length(design: Design, step: int) -> Design:
    """A tank shorter across the bay."""
    return with_tank(design, width=879.0 - step)


def tank_height(design: Design, step: int) -> Design:
    """A taller tank, which lifts the deck and so changes nearly everything."""
    return with_tank(design, height=331.0 + step)


def with_tank(design: Design, **size: float) -> Design:
    tank = design.items["tank"]
    changed = dataclasses.replace(tank, size=dataclasses.replace(tank.size, **size))
    return dataclasses.replace(design, items={**design.items, "tank": changed})


def back_again(design: Design, step: int) -> Design:
    """Between the design and another one, both seen before."""
    return upper_front(design, 0) if step % 2 else design


@pytest.mark.benchmark
@pytest.mark.parametrize("change", [upper_front, tank_length, tank_height, back_again])
def test_one_changed_dimension(
    wagon: Evaluation, reference: Reference, change: Callable[[Design, int], Design]
) -> None:
    memory = Memory()
    evaluate(wagon.design, memory)
    if change is back_again:
        evaluate(upper_front(wagon.design, 0), memory)
    changed = [change(wagon.design, step) for step in range(RUNS)]
    taken = median_s([lambda d=design: evaluate(d, memory) for design in changed])  # type: ignore[misc]
    remembered, fresh = evaluate(changed[-1], memory), evaluate(changed[-1])
    assert remembered.findings == fresh.findings
    assert remembered.totals == fresh.totals
    assert remembered.fitout.modules == fresh.fitout.modules
    print(
        f"\n{change.__name__.replace('_', ' ')}: {1e3 * taken:.0f} ms (median of {RUNS}); "
        f"{reference.exact_s / taken:.0f} times faster than OCC for the whole, "
        f"{reference.plain_s / taken:.0f} times with plain solids"
    )
