"""The GLB file by an independent loader, and by the format's own rules (glTF 2.0)."""

from __future__ import annotations

import dataclasses
import io
import json
import struct
from pathlib import Path

import dossiers
import numpy as np
import pytest
import trimesh

from fitout.documents.dossier import Dossier
from fitout.documents.glb import assembly_glb, faceted, moved
from fitout.documents.meshes import local_mesh
from fitout.model.module import Motion, MotionKind
from fitout.model.placement import Placement

ROOT = Path(__file__).parents[2]
SIZES = {5126: 4, 5125: 4, 5123: 2}
WIDTHS = {"SCALAR": 1, "VEC3": 3, "VEC4": 4}
DTYPES = {5126: "<f4", 5125: "<u4", 5123: "<u2"}


@pytest.fixture(scope="module")
def dossier() -> Dossier:
    return dossiers.dossier("small-hatch")


@pytest.fixture(scope="module")
def data(dossier: Dossier) -> bytes:
    return assembly_glb(dossier)


@pytest.fixture(scope="module")
def chunks(data: bytes) -> tuple[dict, bytes]:
    """The two chunks, their framing checked as the format's section on GLB asks."""
    magic, version, length = struct.unpack_from("<4sII", data)
    assert (magic, version, length) == (b"glTF", 2, len(data))
    size, kind = struct.unpack_from("<I4s", data, 12)
    assert kind == b"JSON"
    assert size % 4 == 0
    whole = json.loads(data[20 : 20 + size])
    rest = 20 + size
    size, kind = struct.unpack_from("<I4s", data, rest)
    assert kind == b"BIN\0"
    assert size % 4 == 0
    assert rest + 8 + size == len(data)
    return whole, data[rest + 8 :]


def values(chunks: tuple[dict, bytes], number: int) -> np.ndarray:
    whole, binary = chunks
    accessor = whole["accessors"][number]
    view = whole["bufferViews"][accessor["bufferView"]]
    count = accessor["count"] * WIDTHS[accessor["type"]]
    kind = DTYPES[accessor["componentType"]]
    found = np.frombuffer(binary, kind, count, view["byteOffset"] + accessor.get("byteOffset", 0))
    return found.reshape(accessor["count"], -1)


def test_an_independent_loader_finds_every_part_with_its_volume(dossier, data):
    scene = trimesh.load(io.BytesIO(data), file_type="glb")
    assert scene.units == "meters"
    for part in dossier.fitout.parts():
        turn, name = scene.graph[part.id]
        mesh = scene.geometry[name].copy()
        mesh.merge_vertices(merge_norm=True)
        assert mesh.is_watertight, part.id
        mesh.apply_transform(turn)
        if hasattr(part, "volume"):
            assert mesh.volume * 1e9 == pytest.approx(part.volume, rel=1e-3), part.id
            x, y, z = part.centroid
            assert mesh.center_mass * 1000.0 == pytest.approx((y, z, x), abs=0.5)


def test_nodes_stand_as_fitout_module_part(dossier, chunks):
    nodes = chunks[0]["nodes"]

    def tree(number: int) -> object:
        node = nodes[number]
        return {node["name"]: [tree(child) for child in node.get("children", [])]}

    assert [tree(n) for n in chunks[0]["scenes"][0]["nodes"]] == [
        {
            dossier.design.name: [
                {module.name: [{part.id: []} for part in module.parts()]}
                for module in dossier.fitout.modules
                if list(module.parts())
            ]
        }
    ]
    numbers = {n["name"]: n["extras"]["part"] for n in nodes if "extras" in n}
    assert numbers == dict(dossier.numbers)


def test_accessors_lie_within_their_views_aligned_and_bounded(chunks):
    whole, binary = chunks
    assert whole["asset"]["version"] == "2.0"
    assert whole["buffers"] == [{"byteLength": len(binary)}]
    end = 0
    for view in whole["bufferViews"]:
        assert view["byteOffset"] >= end
        assert view["byteOffset"] % 4 == 0
        end = view["byteOffset"] + view["byteLength"]
    assert end <= len(binary)
    for number, accessor in enumerate(whole["accessors"]):
        view = whole["bufferViews"][accessor["bufferView"]]
        size = SIZES[accessor["componentType"]]
        assert view["byteOffset"] % size == 0
        assert accessor["count"] * WIDTHS[accessor["type"]] * size == view["byteLength"]
        found = values(chunks, number)
        assert np.isfinite(found).all()
        if accessor["componentType"] == 5126:
            assert found.min(axis=0).tolist() == accessor["min"]
            assert found.max(axis=0).tolist() == accessor["max"]


def test_meshes_keep_the_rules_of_the_format(chunks):
    whole, _ = chunks
    for mesh in whole["meshes"]:
        (primitive,) = mesh["primitives"]
        places, normals = (
            values(chunks, primitive["attributes"][name]) for name in ("POSITION", "NORMAL")
        )
        indices = values(chunks, primitive["indices"]).reshape(-1)
        assert len(places) == len(normals)
        assert len(indices) % 3 == 0
        assert int(indices.max()) < len(places) <= 0xFFFF
        assert np.linalg.norm(normals, axis=1) == pytest.approx(1.0, abs=1e-5)
        assert 0 <= primitive["material"] < len(whole["materials"])
        targets = [
            whole["bufferViews"][whole["accessors"][n]["bufferView"]]["target"]
            for n in (primitive["attributes"]["POSITION"], primitive["indices"])
        ]
        assert targets == [34962, 34963]
    for node in whole["nodes"]:
        if "mesh" in node:
            assert 0 <= node["mesh"] < len(whole["meshes"])
            assert np.linalg.norm(node["rotation"]) == pytest.approx(1.0, abs=1e-6)
    for material in whole["materials"]:
        factors = material["pbrMetallicRoughness"]["baseColorFactor"]
        assert all(0.0 <= value <= 1.0 for value in factors)
    assert all(entry != [] for entry in whole.values())


def test_materials_are_named_after_boards(dossier, chunks):
    names = [material["name"] for material in chunks[0]["materials"]]
    assert {panel.board.key for panel in dossier.fitout.panels()} <= set(names)
    assert len(names) == len(set(names))


def test_animations_open_what_moves(dossier, chunks):
    whole, _ = chunks
    motions = {m.id: m for module in dossier.fitout.modules for m in module.motions}
    assert whole["animations"]
    for animation in whole["animations"]:
        motion = motions[animation["name"]]
        for channel in animation["channels"]:
            sampler = animation["samplers"][channel["sampler"]]
            times, path = values(chunks, sampler["input"]), values(chunks, sampler["output"])
            node = whole["nodes"][channel["target"]["node"]]
            assert (np.diff(times[:, 0]) > 0.0).all()
            assert len(times) == len(path)
            begin = node[channel["target"]["path"]]
            assert path[0] == pytest.approx(begin, abs=1e-6)
            way = np.linalg.norm(path[-1] - path[0])
            if motion.kind is not MotionKind.HINGE:
                assert 0.0 < way <= motion.travel / 1000.0 + 1e-6
            elif channel["target"]["path"] == "rotation":
                assert np.linalg.norm(path, axis=1) == pytest.approx(1.0, abs=1e-5)
                cos = abs(float(path[0] @ path[-1]))
                assert 2.0 * np.degrees(np.arccos(min(1.0, cos))) <= motion.travel + 0.01


def test_a_hinge_turns_a_placement_about_its_axis():
    lid = Motion(
        name="lid", module="m", kind=MotionKind.HINGE, direction=(0.0, 2.0, 0.0), travel=90.0,
        point=(100.0, 0.0, 50.0),
    )  # fmt: skip
    gone = moved(Placement((0.0, 0.0, 50.0)), lid, 90.0)
    assert gone.at(0.0, 0.0) == pytest.approx((100.0, 0.0, 150.0))
    assert gone.at(100.0, 7.0) == pytest.approx((100.0, 7.0, 50.0))
    slide = dataclasses.replace(lid, kind=MotionKind.SLIDE, direction=(-2.0, 0.0, 0.0))
    assert moved(Placement(), slide, 30.0).origin == pytest.approx((-30.0, 0.0, 0.0))


def test_faces_are_flat(dossier):
    part = next(iter(dossier.fitout.panels()))
    vertices, triangles = local_mesh(part)
    corners, normals, faces = faceted((vertices, triangles))
    for face in faces:
        a, b, c = corners[face]
        normal = np.cross(b - a, c - a)
        assert normals[face] @ normal == pytest.approx(np.linalg.norm(normal), rel=1e-4)


def test_a_fitout_without_parts_is_a_file_too(dossier):
    modules = tuple(
        dataclasses.replace(m, panels=(), bars=(), items=(), motions=())
        for m in dossier.fitout.modules
    )
    fitout = dataclasses.replace(dossier.fitout, modules=modules)
    empty = dataclasses.replace(
        dossier, subject=dataclasses.replace(dossier.subject, fitout=fitout)
    )
    data = assembly_glb(empty)
    (size,) = struct.unpack_from("<I", data, 12)
    whole = json.loads(data[20:])
    assert 20 + size == len(data)
    assert whole["nodes"] == [{"name": dossier.design.name}]


def test_hostile_names_are_kept_as_text(dossier):
    design = dataclasses.replace(dossier.design, name='a "quote" </script> \u202eright 🚐\n')
    data = assembly_glb(dataclasses.replace(dossier, design=design))
    (size,) = struct.unpack_from("<I", data, 12)
    whole = json.loads(data[20 : 20 + size])
    assert whole["nodes"][whole["scenes"][0]["nodes"][0]]["name"] == design.name
