"""The clearance engine against the OCC geometry kernel, which shares no code with it.

OCC (Open CASCADE, through the package cadquery-ocp) measures exact solids: distances by
BRepExtrema_DistShapeShape, common volumes by BRepAlgoAPI_Common.
"""

import math
import random
from dataclasses import replace

import numpy as np
import pytest

from fitout.clearance.body import body_of
from fitout.model.bay import Obstacle
from fitout.model.item import Item, block, frustum
from fitout.model.module import Part
from fitout.model.outline import Outline, circle, polygon, rectangle, rounded, slot
from fitout.model.panel import Bar, Face, Panel, Pocket
from fitout.model.placement import Placement, across, along, along_face_left, flat
from fitout.model.stock import Board, Section

PLY = Board(
    key="ply", nominal=12.0, thickness=11.8, thickness_tolerance=0.5, density_kg_m3=680.0,
    length=2440.0, width=1220.0,
)  # fmt: skip
TUBE = Section(
    key="tube", width=40.0, height=25.0, wall=2.0, density_kg_m3=2700.0, stock_length=6000.0
)
ORIENTATIONS = (flat, along, across, along_face_left)
SHAPES = (
    "rectangle",
    "notched",
    "rounded",
    "slotted",
    "disc",
    "tapered",
    "block",
    "bar",
    "grooved",
)


def panel(name: str, outline: Outline, placement: Placement, *pockets: Pocket) -> Panel:
    return Panel(
        name=name, module="m", outline=outline, board=PLY, placement=placement, pockets=pockets
    )


def make(rng: random.Random, name: str, shape: str) -> Part:
    """A part of the given shape and a random size, standing in one of the usual ways."""
    placement = rng.choice(ORIENTATIONS)(0.0, 0.0, 0.0)
    a, b = rng.uniform(60.0, 400.0), rng.uniform(60.0, 400.0)
    if shape == "tapered":
        piece = frustum((a, b), (a * rng.uniform(0.5, 1.0), b * 0.8), rng.uniform(40.0, 200.0))
        return Item(name=name, module="m", pieces=(piece,), mass_kg=1.0, placement=placement)
    if shape == "block":
        pieces = (block(a, b, 50.0), block(a / 2.0, b / 2.0, 40.0, (0.0, 0.0, 50.0)))
        return Item(name=name, module="m", pieces=pieces, mass_kg=1.0, placement=placement)
    if shape == "bar":
        return Bar(name=name, module="m", section=TUBE, length=a, placement=placement)
    straight = rectangle(a, b)
    outline = {
        "rectangle": Outline(straight),
        "notched": Outline(
            polygon([(0, 0), (a, 0), (a, b * 0.6), (a * 0.7, b), (a * 0.4, b), (a * 0.4, b / 2),
                     (0, b / 2)])
        ),
        "rounded": Outline(rounded(straight, rng.uniform(5.0, 25.0))),
        "slotted": Outline(rounded(straight, 8.0), (slot(a * 0.3, b / 2, a * 0.7, b / 2, 25.0),)),
        "disc": Outline(circle(a / 2, a / 2, a), (circle(a / 2, a / 2, a / 3),)),
        "grooved": Outline(straight),
    }[shape]  # fmt: skip
    pockets = (Pocket(rectangle(a, 9.0, 0.0, 12.0), 6.0),) if shape == "grooved" else ()
    return panel(name, outline, placement, *pockets)


def bring_near(rng: random.Random, a: Part, b: Part, gap: float) -> Part:
    """`b` shifted so that along one axis its box is `gap` from that of `a`, abreast otherwise."""
    first, second = body_of(a), body_of(b)
    axis = rng.randrange(3)
    shift = (
        first.lo
        - second.hi
        + (first.hi - first.lo + second.hi - second.lo) * [rng.uniform(0.2, 0.8) for _ in range(3)]
    )
    shift[axis] = first.hi[axis] + gap - second.lo[axis]
    return replace(b, placement=b.placement.moved(*shift.tolist()))


def turn(part: Part, rotation: np.ndarray) -> Part:
    p = part.placement
    origin, u, v = (tuple((rotation @ x).tolist()) for x in (p.origin, p.u, p.v))
    return replace(part, placement=Placement(origin, u, v))


def random_rotation(rng: random.Random) -> np.ndarray:
    matrix, _ = np.linalg.qr(np.array([[rng.gauss(0, 1) for _ in range(3)] for _ in range(3)]))
    return matrix * np.sign(np.linalg.det(matrix))


def random_pair(seed: int) -> list[Part]:
    """Two parts that touch, nearly touch, overlap, or are up to 15 mm apart; half of them skew."""
    rng = random.Random(seed)
    a = make(rng, f"a{seed}", rng.choice(SHAPES))
    b = make(rng, f"b{seed}", rng.choice(SHAPES))
    gap = (0.0, 0.1, -rng.uniform(0.2, 8.0), rng.uniform(0.0, 15.0))[seed % 4]
    b = bring_near(rng, a, b, gap)
    if rng.random() < 0.5:
        rotation = random_rotation(rng)
        a, b = turn(a, rotation), turn(b, rotation)
    if seed % 4 == 3:
        b = turn(b, random_rotation(rng))
    return [a, b]


@pytest.mark.parametrize("start", range(0, 240, 40))
def test_random_pairs_get_the_same_verdict_and_distance(against_occ, start):
    results = [against_occ(random_pair(seed), reach=30.0) for seed in range(start, start + 40)]
    assert [d for r in results for d in r.differences] == []
    assert sum(r.pairs for r in results) >= 30
    assert sum(r.clashing for r in results) >= 5
    assert sum(r.touching for r in results) >= 5


def groove_and_tongue(play: float, rotation: np.ndarray) -> list[Part]:
    """An upright side with a stopped round-ended groove and an open one, and a tongue in each."""
    board = replace(PLY, thickness=6.4)
    side = panel(
        "side", Outline(rounded(rectangle(400.0, 200.0), 12.0)), along(0.0, 0.0, 0.0),
        Pocket(rectangle(420.0, 6.4 + 2 * play, -10.0, 30.0 - play), 5.0, face=Face.B),
        Pocket(slot(60.0, 100.0, 340.0, 100.0, 6.4 + 2 * play), 5.0, face=Face.B),
    )  # fmt: skip
    floor = replace(
        panel("floor", Outline(rectangle(500.0, 150.0)), flat(-50, -4.9, 30)), board=board
    )
    shelf = replace(
        panel("shelf", Outline(rectangle(270.0, 150.0)), flat(65, -4.9, 96.8)), board=board
    )
    return [turn(part, rotation) for part in (side, floor, shelf)]


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize(("play", "clashing"), [(0.1, 0), (-0.1, 2)])
def test_a_panel_in_its_groove_clashes_only_without_play(against_occ, seed, play, clashing):
    rotation = np.eye(3) if seed == 0 else random_rotation(random.Random(seed))
    result = against_occ(groove_and_tongue(play, rotation))
    assert result.differences == ()
    assert result.clashing == clashing


def wall(rng: random.Random) -> Obstacle:
    """A slab whose inner face is bent in and out at random: far from convex."""
    xs, zs = np.linspace(0.0, 1000.0, 5), np.linspace(0.0, 700.0, 4)
    inner = [(x, 500.0 + rng.uniform(-25.0, 25.0), z) for x in xs for z in zs]
    outer = [(x, 600.0, z) for x in xs for z in zs]
    count, rows = len(inner), len(zs)
    triangles: list[tuple[int, int, int]] = []
    for i in range(len(xs) - 1):
        for j in range(rows - 1):
            a, b, c, d = (p * rows + q for p, q in ((i, j), (i + 1, j), (i + 1, j + 1), (i, j + 1)))
            triangles += [(a, b, c), (a, c, d)]
            triangles += [(count + a, count + c, count + b), (count + a, count + d, count + c)]
    last = len(xs) - 1
    rim = [i * rows for i in range(last)] + [last * rows + j for j in range(rows - 1)]
    rim += [i * rows + rows - 1 for i in range(last, 0, -1)] + list(range(rows - 1, 0, -1))
    for p, q in zip(rim, rim[1:] + rim[:1], strict=True):
        triangles += [(p, count + q, q), (p, count + p, count + q)]
    return Obstacle("wall", "surface", np.array([*inner, *outer]), np.array(triangles, np.uint32))


@pytest.mark.parametrize("seed", range(3))
def test_parts_against_a_bent_wall(against_occ, seed):
    rng = random.Random(seed)
    parts: list[Part] = []
    for k in range(15):
        part = make(rng, f"p{k}", rng.choice(SHAPES))
        body = body_of(part)
        target = (rng.uniform(0, 600), 480.0 + rng.uniform(-15, 30), rng.uniform(0, 400))
        shift = np.array(target) - (body.lo[0], body.hi[1], body.lo[2])
        parts.append(replace(part, placement=part.placement.moved(*shift.tolist())))
    reports = [against_occ([part], [wall(rng)], reach=60.0) for part in parts]
    assert [d for r in reports for d in r.differences] == []
    assert 3 <= sum(r.clashing for r in reports) <= 12


def test_a_leaning_seat_back_touched_by_a_board_cut_to_its_angle(against_occ):
    lean = math.radians(17.0)
    back = np.array(
        [
            (0, -600, 0),
            (0, 600, 0),
            (600 * math.tan(lean), 600, 600),
            (600 * math.tan(lean), -600, 600),
        ]
    )
    solid = np.vstack([back, back + np.array([200.0, 0.0, 0.0])])
    faces = [(0, 3, 2), (0, 2, 1), (4, 5, 6), (4, 6, 7)]
    for p, q in ((0, 1), (1, 2), (2, 3), (3, 0)):
        faces += [(p, q, q + 4), (p, q + 4, p + 4)]
    seat = Obstacle("seat", "seat", solid.astype(float), np.array(faces, np.uint32))
    top = 300.0 * math.tan(lean)
    side = panel(
        "side", Outline(polygon([(-400, 0), (0, 0), (top, 300), (-400, 300)])), along(0, 50, 0)
    )
    result = against_occ([side], [seat])
    assert result.differences == ()
    assert (result.pairs, result.touching) == (1, 1)
