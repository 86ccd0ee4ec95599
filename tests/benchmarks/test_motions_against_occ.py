"""All motions of the wagon against the OCC kernel: time, and that both find the same way free.

The kernel does much less: it moves each part in steps of 1 mm or 0.2°, ten times coarser than
what the checks hold to, and asks at each for the room it shares with what its bounding box then
meets; no gaps, neither the tailgate, the seat nor what stands open together, and its solids are
built beforehand.
"""

from __future__ import annotations

import statistics
import time
from pathlib import Path
from typing import Any

import pytest
from occ_kernel import mesh_solid, plain

from fitout.checks import Memory, Subject, subject_of
from fitout.checks.courses import course_of
from fitout.checks.motions import check_motions
from fitout.checks.open_together import check_open_together
from fitout.model.module import Motion, MotionKind
from fitout.modules.assemble import assemble
from fitout.workflow import arranged, load

DESIGN = Path(__file__).parents[2] / "designs" / "touring-wagon.yaml"
RUNS = 5
STEPS = {MotionKind.SLIDE: 1.0, MotionKind.HINGE: 0.2}

MOST_MS = 150.0
LEAST_RATIO = 50.0
SLIVER_MM3 = 1.0
"""Shared volumes below this are what chords of arcs make of touching faces."""


@pytest.fixture(scope="module")
def subject() -> Subject:
    design = load(DESIGN)
    setting, _ = arranged(design, Memory())
    return subject_of(assemble(design.name, setting), setting, design.cutting, ())


def checked(subject: Subject) -> float:
    """Seconds of processor time that all motion checks take, nothing remembered."""
    fresh = subject_of(subject.fitout, subject.setting, subject.cutting, ())
    start = time.process_time()
    found = [*check_motions(fresh), *check_open_together(fresh)]
    taken = time.process_time() - start
    assert all(f.severity == "pass" for f in found)
    return taken


def by_kernel(subject: Subject) -> tuple[float, int, float]:
    """Seconds, how many Booleans, and the largest volume that any two bodies share."""
    from fitout.documents.solids import solid_of

    solids: dict[str, Any] = {i: solid_of(plain(p)) for i, p in subject.parts.items()}
    solids.update((i, mesh_solid(o)) for i, o in subject.obstacles.items())
    asked = [
        (motion, course, part.id)
        for module in subject.fitout.modules
        for motion in module.motions
        for part in module.parts()
        if part.moves == motion.name and module.berth is not None
        if (course := course_of(subject, motion)) is not None
    ]
    booleans, most = 0, 0.0
    start = time.process_time()
    for motion, course, part in asked:
        ids = {body.id for body in course.moving}
        for travel in _travels(motion):
            moved = _moved(solids[part], motion, travel)
            low, high = _bounds(moved)
            for other, body in subject.bodies.items():
                shut = other.startswith("bay/") and subject.obstacles[other].kind == "tailgate"
                if other in ids or shut or (part, other) in subject.joined:
                    continue
                if (body.hi < low).any() or (body.lo > high).any():
                    continue
                booleans += 1
                most = max(most, _shared(moved, solids[other]))
    return time.process_time() - start, booleans, most


def _travels(motion: Motion) -> list[float]:
    step = STEPS[motion.kind]
    return [k * step for k in range(1, int(motion.travel // step) + 1)]


def _moved(solid: Any, motion: Motion, travel: float) -> Any:
    import math

    from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
    from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec

    move = gp_Trsf()
    if motion.kind is MotionKind.HINGE:
        axis = gp_Ax1(gp_Pnt(*motion.point), gp_Dir(*motion.direction))
        move.SetRotation(axis, math.radians(travel))
    else:
        move.SetTranslation(gp_Vec(*motion.direction) * travel)
    return BRepBuilderAPI_Transform(solid, move, True).Shape()


def _bounds(solid: Any) -> tuple[list[float], list[float]]:
    from OCP.Bnd import Bnd_Box
    from OCP.BRepBndLib import BRepBndLib

    box = Bnd_Box()
    BRepBndLib.Add_s(solid, box)
    x0, y0, z0, x1, y1, z1 = box.Get()
    return [x0, y0, z0], [x1, y1, z1]


def _shared(a: Any, b: Any) -> float:
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Common
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(BRepAlgoAPI_Common(a, b).Shape(), properties)
    return float(properties.Mass())


@pytest.mark.benchmark
def test_all_motions_of_the_wagon(subject: Subject) -> None:
    checked(subject)
    taken = statistics.median(checked(subject) for _ in range(RUNS))
    kernel, booleans, most = by_kernel(subject)
    print(
        f"\nall motions: {1e3 * taken:.0f} ms (median of {RUNS}); OCC, {booleans} Booleans in "
        f"steps of 1 mm or 0.2°: {kernel:.1f} s; {kernel / taken:.0f} times faster"
    )
    assert most < SLIVER_MM3
    assert 1e3 * taken <= MOST_MS
    assert kernel / taken >= LEAST_RATIO
