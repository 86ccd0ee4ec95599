"""How long the search for a way in takes, and how long the kernel (OCC) would for far less.

The kernel's share: the body's hull, turned to each of 360 whole degrees about each of the
three axes that are searched, drawn
out along the bay, and what it has in common with the opening's frame. That neither proves
anything between the degrees nor looks for the place to hold the body at, nor whether it can be
turned inside; its time is taken over 12 degrees about one axis.
"""

import dataclasses
import math
import time
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from occ_kernel import mesh_solid

from fitout.checks import Memory
from fitout.checks.freeing import corners_of
from fitout.checks.subassemblies import SubAssembly, sub_assemblies
from fitout.checks.subject import Subject
from fitout.checks.ways_in import smallest_split, way_in
from fitout.clearance.convex import facets
from fitout.clearance.passage_turn import turns
from fitout.workflow import evaluate, load

DESIGNS = sorted((Path(__file__).parents[2] / "designs").glob("*.yaml"))
MOST_S = 2.0
LEAST_RATIO = 50.0
ANGLES = np.linspace(3.0, 333.0, 12)


def searched_s(subject: Subject, sub: SubAssembly) -> float:
    """Processor time of one search; the bay's rooms are made for the first and kept."""
    start = time.process_time()
    way_in(subject, sub)
    return time.process_time() - start


def by_kernel_s(subject: Subject, sub: SubAssembly) -> float:
    """Processor time of the kernel for 360 degrees about each of three axes."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Common

    frame = [mesh_solid(o) for o in subject.obstacles.values() if o.kind == "aperture"]
    points = corners_of(sub.bodies)
    points = points - (points.min(axis=0) + points.max(axis=0)) / 2.0
    height = float(np.mean([z for z, _, _ in subject.fitout.bay.opening]))
    BRepAlgoAPI_Common(frame[0], frame[1]).Shape()  # loads the kernel
    start = time.process_time()
    for rotation in turns(np.array([1.0, 0.0, 0.0]), ANGLES):
        body = _drawn_out(points @ rotation.T + np.array([0.0, 0.0, height]))
        for solid in frame:
            BRepAlgoAPI_Common(body, solid).Shape()
    return (time.process_time() - start) * 3.0 * 360.0 / len(ANGLES)


def _drawn_out(points: np.ndarray) -> Any:
    """The kernel's solid that a body's silhouette makes when drawn along the bay."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakePolygon
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Pnt, gp_Vec

    flat = np.vstack([points * (0.0, 1.0, 1.0), points * (0.0, 1.0, 1.0) + (1.0, 0.0, 0.0)])
    silhouette = next(f for f in facets(flat) if np.ptp(f[:, 0]) < 1e-6)
    polygon = BRepBuilderAPI_MakePolygon()
    for x, y, z in silhouette.tolist():
        polygon.Add(gp_Pnt(x - 1000.0, y, z))
    polygon.Close()
    face = BRepBuilderAPI_MakeFace(polygon.Wire()).Face()
    return BRepPrimAPI_MakePrism(face, gp_Vec(2000.0, 0.0, 0.0)).Shape()


@pytest.mark.benchmark
@pytest.mark.parametrize("path", DESIGNS, ids=lambda p: p.stem)
def test_search_for_a_way_in(path: Path) -> None:
    whole = evaluate(load(path)).subject
    subject = dataclasses.replace(whole, memory=Memory())
    carried = [s for s in sub_assemblies(subject) if subject.modules[s.module].berth is not None]
    taken = {sub.id: searched_s(subject, sub) for sub in carried}
    start, pieces = time.process_time(), list[SubAssembly]()
    for sub in carried:
        if way_in(subject, sub).way is None:
            parts = smallest_split(subject, sub)
            pieces += () if parts is None else parts[1]
    splitting = time.process_time() - start
    worst = max(taken, key=lambda name: taken[name])
    by_kernel = sum(by_kernel_s(subject, sub) for sub in (*carried, *pieces))
    together = sum(taken.values()) + splitting
    print(
        f"\n{path.stem}: {len(taken)} things carried in, longest search {worst} "
        f"{taken[worst]:.2f} s, {sum(taken.values()):.2f} s together; {splitting:.2f} s for the "
        f"splits into {len(pieces)} pieces; the kernel, each whole degree about three axes: "
        f"{by_kernel:.0f} s, {math.floor(by_kernel / together)} times as long"
    )
    assert taken[worst] < MOST_S
    assert by_kernel > LEAST_RATIO * together
