"""The example designs' gaps against the OCC geometry kernel, which shares no code with ours.

OCC (Open CASCADE, through the package cadquery-ocp) measures exact solids: distances by
BRepExtrema_DistShapeShape, common volumes by BRepAlgoAPI_Common. Every pair of bodies whose
boxes are within reach is compared, with a part in it: as everything stands shut, with boards
too thick for what was cut (so that parts clash), and, with `-m thorough`, with drawers and
slides drawn out.
"""

import dataclasses
from pathlib import Path

import pytest
from dossiers import evaluated

from fitout.model.bay import Obstacle
from fitout.model.module import Fitout, MotionKind, Part
from fitout.model.panel import Panel

DESIGNS = sorted((Path(__file__).resolve().parents[2] / "designs").glob("*.yaml"))
REACH = 12.0

each_design = pytest.mark.parametrize("path", DESIGNS, ids=lambda p: p.stem)


def built(path: Path) -> Fitout:
    return evaluated(path.stem).fitout


def standing(path: Path) -> tuple[list[Part], list[Obstacle]]:
    """The parts of a design that stand in the bay, and the bay's surfaces."""
    fitout = built(path)
    parts = [p for m in fitout.modules if m.berth is not None for p in m.parts()]
    return parts, list(fitout.bay.obstacles)


@each_design
def test_every_near_pair_gets_the_same_verdict_and_distance(path, against_occ):
    parts, obstacles = standing(path)
    result = against_occ(parts, obstacles, REACH)
    assert result.differences == ()
    assert result.clashing == 0
    assert result.pairs > 100
    assert result.touching > 50
    assert result.worst <= 0.01


@each_design
def test_parts_that_clash_clash_by_the_same_volume(path, against_occ):
    parts, _ = standing(path)
    swollen = [
        dataclasses.replace(p, board=dataclasses.replace(p.board, thickness=p.thickness + 0.7))
        if isinstance(p, Panel) and i % 3 == 0
        else p
        for i, p in enumerate(parts)
    ]
    result = against_occ(swollen, (), 1.0)
    assert result.differences == ()
    assert result.clashing > 5


@pytest.mark.thorough
@each_design
@pytest.mark.parametrize("share", [0.3, 1.0])
def test_drawn_out_parts_get_the_same_verdict_and_distance(path, share, against_occ):
    parts, obstacles = standing(path)
    travels = {
        (m.module, m.name): share * m.travel
        for module in built(path).modules
        for m in module.motions
        if m.kind is MotionKind.SLIDE
    }
    drawn = [
        dataclasses.replace(p, placement=p.placement.moved(dx=-travels[p.module, p.moves]))
        if (p.module, p.moves) in travels
        else p
        for p in parts
    ]
    result = against_occ(drawn, obstacles, 2.0 * REACH)
    assert result.differences == ()
    assert result.pairs > 100
