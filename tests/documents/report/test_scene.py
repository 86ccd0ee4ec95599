"""The packed scene, unpacked here by other means, holds every part in its place."""

import base64
import dataclasses
from typing import Any

import numpy as np
import pytest

from fitout.documents.dossier import Dossier
from fitout.documents.meshes import part_mesh
from fitout.documents.report.scene import BIG_HOLE, SOLID, VEHICLE, Scene, scene_of
from fitout.model.panel import Panel
from fitout.model.placement import Array


def unpacked(packed: dict[str, Any]) -> list[tuple[Array, Array, Array]]:
    """Vertices in mm, triangles and discs of each mesh."""
    raw = base64.b64decode(packed["data"])
    found, at = [], 0
    for vertices, triangles, discs in packed["meshes"]:
        points = np.frombuffer(raw, "<i2", 3 * vertices, at).reshape(-1, 3) * packed["step"]
        at += 6 * vertices
        faces = np.frombuffer(raw, "<u2", 3 * triangles, at).reshape(-1, 3).astype(int)
        at += 6 * triangles
        round_ = np.frombuffer(raw, "<i2", 4 * discs, at).reshape(-1, 4) * packed["step"]
        at += 8 * discs
        found.append((points, faces, round_))
    assert at == len(raw)
    return found


def volume(points: Array, faces: Array) -> float:
    a, b, c = (points[faces[:, k]] for k in range(3))
    return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum()) / 6.0


@pytest.fixture(scope="module")
def packed(wagon_scene: Scene) -> dict[str, Any]:
    return wagon_scene.as_object()


def test_every_part_is_there_with_its_volume(
    wagon: Dossier, wagon_scene: Scene, packed: dict[str, Any]
) -> None:
    meshes = unpacked(packed)
    for number, part in enumerate(wagon.fitout.parts()):
        body = wagon_scene.bodies[number]
        assert body.id == part.id
        assert body.row == number
        if not isinstance(part, Panel):
            continue
        points, faces, discs = meshes[packed["bodies"][number][0]]
        drilled = sum(h.diameter <= BIG_HOLE for h in part.holes)
        large = dataclasses.replace(
            part, holes=tuple(h for h in part.holes if h.diameter > BIG_HOLE)
        )
        assert volume(points, faces) == pytest.approx(large.volume, rel=5e-3)
        assert drilled <= len(discs) <= 2 * drilled


def test_every_part_stands_where_it_is_built(
    wagon: Dossier, wagon_scene: Scene, packed: dict[str, Any]
) -> None:
    meshes = unpacked(packed)
    lids = {lid.of for lid in wagon_scene.movements.loose}
    for number, part in enumerate(wagon.fitout.parts()):
        if part.id in lids:
            continue
        points, _, _ = meshes[packed["bodies"][number][0]]
        matrix = np.array(packed["bodies"][number][1]).reshape(3, 4)
        there = points @ matrix[:, :3].T + matrix[:, 3]
        wanted, _ = part_mesh(part)
        for end in (np.min, np.max):
            assert end(there, axis=0) == pytest.approx(end(wanted, axis=0), abs=0.2)


def test_a_lid_and_what_it_covers_make_the_bought_part(
    wagon: Dossier, wagon_scene: Scene, packed: dict[str, Any]
) -> None:
    (lid,) = wagon_scene.movements.loose
    meshes = unpacked(packed)
    box, cover = (
        volume(*meshes[packed["bodies"][wagon_scene.numbers[i]][0]][:2]) for i in (lid.of, lid.id)
    )
    assert box + cover == pytest.approx(600.0 * 380.0 * 430.0, rel=1e-3)
    assert cover == pytest.approx(600.0 * 380.0 * 40.0, rel=1e-3)


def test_parts_alike_share_a_mesh(wagon: Dossier, packed: dict[str, Any]) -> None:
    numbers = wagon.numbers
    of = {
        part.id: packed["bodies"][i][0]
        for i, part in enumerate(wagon.fitout.parts())
        if isinstance(part, Panel)
    }
    lines = {numbers[id_] for id_ in of}
    # A part that rounds to another step here or there is told once more.
    assert len(lines) <= len(set(of.values())) <= 1.05 * len(lines) < len(of)


def test_holes_show_on_the_face_they_enter(hostile: Dossier) -> None:
    scene = scene_of(hostile)
    panels = {p.id: p for p in hostile.fitout.panels()}
    for body in scene.bodies:
        panel = panels.get(body.id)
        if panel is None:
            continue
        sunk = {pocket.depth for pocket in panel.pockets}
        for _, _, w, diameter in body.discs:
            if diameter > 0.0:
                assert any(w == pytest.approx(panel.thickness - d) for d in {0.0, *sunk})
            else:
                assert any(w == pytest.approx(d) for d in {0.0, *sunk})


def test_the_bay_stands_about_it(wagon_scene: Scene) -> None:
    about = [body for body in wagon_scene.bodies if body.kind == VEHICLE]
    ids = {body.id for body in about}
    assert {"bay/floor", "bay/left wall", "bay/right wall", "bay/roof", "bay/tailgate"} <= ids
    assert all(body.opacity < 1.0 for body in about)
    assert all(body.opacity == 1.0 for body in wagon_scene.bodies if body.kind == SOLID)
    # Walls face the centre line, the floor faces up.
    for body in about:
        points, faces = body.mesh
        normals = np.cross(
            points[faces[:, 1]] - points[faces[:, 0]], points[faces[:, 2]] - points[faces[:, 0]]
        )
        if body.id == "bay/floor":
            assert (normals[:, 2] > 0.0).all()
        elif body.id.endswith("wall"):
            sign = -1.0 if "left" in body.id else 1.0
            assert (normals[:, 1] * sign > -1e-6).all()
