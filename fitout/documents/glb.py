"""The fit-out as binary glTF 2.0 (ISO/IEC 12113): named nodes, materials, motions as animations.

A writer of our own: a JSON chunk that says what there is and a binary chunk with the numbers.
glTF is in metres with y up, z forward and x to the left, so the bay's (x, y, z) in mm becomes
(y, z, x) / 1000. Nodes stand as fit-out, module, part; parts alike share a mesh in their own
axes. Each motion is an animation of one second from shut to as far as it gets.
"""

from __future__ import annotations

import json
import math
import struct
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from fitout.checks.motions import played
from fitout.documents.colours import Colour, colour_of, material_of
from fitout.documents.dossier import Dossier
from fitout.documents.meshes import Mesh, local_mesh
from fitout.model.module import Motion, MotionKind, Part
from fitout.model.panel import Bar, Panel
from fitout.model.placement import Array, Placement, turned

FLOAT, SHORT, LONG = 5126, 5123, 5125
VERTICES, INDICES = 34962, 34963
"""Component types and buffer targets, as the format numbers them."""

DIGITS = 9
"""Decimals of numbers in the JSON chunk: a nanometre, and a quaternion's float32."""

STEP_DEG = 3.0
"""A hinge's path is told in steps of so many degrees: between them parts run straight."""

_AXES = np.array([[0.0, 1.0, 0.0], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]])
_TYPES = {1: "SCALAR", 3: "VEC3", 4: "VEC4"}

Json = dict[str, object]


@dataclass(slots=True)
class _Scene:
    """What the JSON chunk lists, and the binary chunk, while they are filled."""

    nodes: list[Json] = field(default_factory=list)
    meshes: list[Json] = field(default_factory=list)
    materials: list[Json] = field(default_factory=list)
    accessors: list[Json] = field(default_factory=list)
    views: list[Json] = field(default_factory=list)
    animations: list[Json] = field(default_factory=list)
    data: bytearray = field(default_factory=bytearray)
    made: dict[object, int] = field(default_factory=dict)
    painted: dict[tuple[str, Colour], int] = field(default_factory=dict)

    def node(self, **entries: object) -> int:
        """A new node; its number."""
        self.nodes.append(dict(entries))
        return len(self.nodes) - 1

    def accessor(self, values: npt.NDArray[np.generic], kind: int, target: int | None) -> int:
        """Numbers of shape (n,) or (n, width), in a view of their own; the accessor's number."""
        view: Json = {"buffer": 0, "byteLength": values.nbytes, "byteOffset": len(self.data)}
        if target is not None:
            view["target"] = target
        self.data += values.tobytes()
        self.data += bytes(-len(self.data) % 4)
        self.views.append(view)
        table = values.reshape(len(values), -1)
        accessor: Json = {
            "bufferView": len(self.views) - 1,
            "componentType": kind,
            "count": len(values),
            "type": _TYPES[table.shape[1]],
        }
        if kind == FLOAT:
            accessor["min"], accessor["max"] = (
                table.min(axis=0).tolist(),
                table.max(axis=0).tolist(),
            )
        self.accessors.append(accessor)
        return len(self.accessors) - 1

    def mesh(self, part: Part) -> int:
        """The mesh of a part, made once for all parts alike in shape and material."""
        key = _likeness(part)
        if key not in self.made:
            corners, normals, triangles = faceted(local_mesh(part))
            kind, width = (SHORT, "<u2") if len(corners) < 0xFFFF else (LONG, "<u4")
            attributes = {
                "POSITION": self.accessor((corners / 1000.0).astype("<f4"), FLOAT, VERTICES),
                "NORMAL": self.accessor(normals.astype("<f4"), FLOAT, VERTICES),
            }
            indices = self.accessor(triangles.reshape(-1).astype(width), kind, INDICES)
            primitive = {
                "attributes": attributes, "indices": indices, "material": self.material(part),
            }  # fmt: skip
            self.meshes.append({"name": part.id, "primitives": [primitive]})
            self.made[key] = len(self.meshes) - 1
        return self.made[key]

    def material(self, part: Part) -> int:
        """What the part is made of; glTF wants its colour linear."""
        key = material_of(part), colour_of(part)
        if key not in self.painted:
            metal = 0.4 if isinstance(part, Bar) else 0.0
            linear = [round(_linear(value), DIGITS) for value in key[1]]
            self.materials.append(
                {
                    "name": key[0],
                    "pbrMetallicRoughness": {
                        "baseColorFactor": [*linear, 1.0],
                        "metallicFactor": metal,
                        "roughnessFactor": 0.8,
                    },
                }
            )
            self.painted[key] = len(self.materials) - 1
        return self.painted[key]


def assembly_glb(dossier: Dossier) -> bytes:
    """The whole fit-out as a GLB file; the same dossier gives the same bytes.

    Part nodes carry the part's id as their name and its number in the cut list under `extras`.
    """
    scene, nodes = _Scene(), dict[str, int]()
    branches = []
    for module in dossier.fitout.modules:
        leaves = []
        for part in module.parts():
            turn, shift = _standing(part.placement)
            entries: Json = {"name": part.id, "mesh": scene.mesh(part)}
            entries |= {"rotation": _rounded(turn), "translation": _rounded(shift)}
            if part.id in dossier.numbers:
                entries["extras"] = {"part": dossier.numbers[part.id]}
            leaves.append(scene.node(**entries))
            nodes[part.id] = leaves[-1]
        if leaves:
            branches.append(scene.node(name=module.name, children=leaves))
    root = scene.node(name=dossier.design.name, **({"children": branches} if branches else {}))
    for motion, course, parts in played(dossier.subject):
        reach = motion.travel if course is None else course.reaches
        moved = [part for part in parts if part.id in nodes]
        if reach > 0.0 and moved and not motion.of:
            scene.animations.append(_animation(scene, motion, reach, moved, nodes))
    return _file(scene, root)


def faceted(mesh: Mesh) -> tuple[Array, Array, npt.NDArray[np.int64]]:
    """Corners, normals (both of shape (n, 3)) and triangles (m, 3) of a mesh with flat faces.

    A corner is there once for each direction that faces meeting in it have.
    """
    vertices, triangles = mesh
    a, b, c = (vertices[triangles[:, i]] for i in range(3))
    normals = np.cross(b - a, c - a)
    lengths = np.linalg.norm(normals, axis=1)
    solid = lengths > 0.0
    triangles = triangles[solid]
    normals = np.round(normals[solid] / lengths[solid, None], 6) + 0.0
    keys = np.column_stack([triangles.reshape(-1), np.repeat(normals, 3, axis=0)])
    unique, numbers = np.unique(keys, axis=0, return_inverse=True)
    # Rounding took a little of their length.
    directions = unique[:, 1:] / np.linalg.norm(unique[:, 1:], axis=1)[:, None]
    return vertices[unique[:, 0].astype(np.int64)], directions, numbers.reshape(-1, 3)


def _likeness(part: Part) -> object:
    """What two parts must share to share a mesh."""
    if isinstance(part, Panel):
        return part.outline, part.board.key, part.thickness, part.holes, part.pockets
    if isinstance(part, Bar):
        return part.section, part.length, part.holes
    return part.pieces, material_of(part)


def _linear(value: float) -> float:
    """A part of an sRGB colour as linear light (IEC 61966-2-1)."""
    return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4


def _standing(placement: Placement) -> tuple[Array, Array]:
    """A placement as quaternion (x, y, z, w) and shift in metres, in glTF's axes."""
    matrix = placement.matrix
    return _quaternion(_AXES @ matrix[:, :3]), _AXES @ matrix[:, 3] / 1000.0


def _quaternion(turn: Array) -> Array:
    """The unit quaternion (x, y, z, w) of a rotation matrix."""
    # The largest of the four squared components is divided by, so none is lost to rounding.
    trace = np.array([*np.diag(turn), np.trace(turn)])
    k = int(np.argmax(trace))
    if k == 3:
        found = [turn[2, 1] - turn[1, 2], turn[0, 2] - turn[2, 0], turn[1, 0] - turn[0, 1]]
        raw = np.array([*found, 1.0 + trace[3]])
    else:
        i, j = (k + 1) % 3, (k + 2) % 3
        raw = np.zeros(4)
        raw[k] = 1.0 + turn[k, k] - turn[i, i] - turn[j, j]
        raw[i], raw[j] = turn[i, k] + turn[k, i], turn[j, k] + turn[k, j]
        raw[3] = turn[j, i] - turn[i, j]
    return np.asarray(raw / np.linalg.norm(raw), dtype=np.float64)


def _animation(
    scene: _Scene, motion: Motion, reach: float, parts: Iterable[Part], nodes: Mapping[str, int]
) -> Json:
    """A motion from shut to as far as it gets, in one second."""
    turns = motion.kind is MotionKind.HINGE
    steps = max(1, math.ceil(reach / STEP_DEG)) if turns else 1
    times = np.linspace(0.0, 1.0, steps + 1)
    clock = scene.accessor(times.astype("<f4"), FLOAT, None)
    samplers: list[Json] = []
    channels: list[Json] = []
    for part in parts:
        shifts, turnings = _path(part.placement, motion, reach * times)
        for path, values in (("translation", shifts), ("rotation", turnings)):
            if path == "rotation" and not turns:
                continue
            output = scene.accessor(values.astype("<f4"), FLOAT, None)
            samplers.append({"input": clock, "interpolation": "LINEAR", "output": output})
            target = {"node": nodes[part.id], "path": path}
            channels.append({"sampler": len(samplers) - 1, "target": target})
    return {"name": motion.id, "channels": channels, "samplers": samplers}


def _path(placement: Placement, motion: Motion, ways: Array) -> tuple[Array, Array]:
    """Shift and quaternion of a part, so far along its motion; each quaternion near the last."""
    shifts, turnings = [], list[Array]()
    for way in ways:
        turn, shift = _standing(moved(placement, motion, float(way)))
        if turnings and float(turn @ turnings[-1]) < 0.0:
            turn = -turn
        shifts.append(shift)
        turnings.append(turn)
    return np.array(shifts), np.array(turnings)


def moved(placement: Placement, motion: Motion, way: float) -> Placement:
    """Where a placement goes, `way` mm or degrees along a motion."""
    if motion.kind is not MotionKind.HINGE:
        unit = np.asarray(motion.direction) / np.linalg.norm(motion.direction)
        return placement.moved(*(way * unit).tolist())
    points = np.array([placement.origin, placement.at(1.0, 0.0), placement.at(0.0, 1.0)])
    origin, u, v = turned(points, motion.point, motion.direction, way)
    return Placement(
        (float(origin[0]), float(origin[1]), float(origin[2])),
        _unit(u - origin),
        _unit(v - origin),
    )


def _unit(arm: Array) -> tuple[float, float, float]:
    x, y, z = (arm / np.linalg.norm(arm)).tolist()
    return x, y, z


def _rounded(values: Array) -> list[float]:
    return [round(value, DIGITS) + 0.0 for value in values.tolist()]


def _file(scene: _Scene, root: int) -> bytes:
    """Header, JSON chunk and binary chunk, each padded to four bytes."""
    whole: Json = {
        "asset": {"version": "2.0", "generator": "fitout"},
        "scene": 0,
        "scenes": [{"nodes": [root]}],
        "nodes": scene.nodes,
        "meshes": scene.meshes,
        "materials": scene.materials,
        "accessors": scene.accessors,
        "bufferViews": scene.views,
        "buffers": [{"byteLength": len(scene.data)}] if scene.data else [],
        "animations": scene.animations,
    }
    # The format knows no empty lists.
    kept = {name: entry for name, entry in whole.items() if entry != []}
    text = json.dumps(kept, ensure_ascii=False, separators=(",", ":")).encode()
    chunks = _chunk(b"JSON", text + b" " * (-len(text) % 4))
    if scene.data:
        chunks += _chunk(b"BIN\0", bytes(scene.data))
    return struct.pack("<4sII", b"glTF", 2, 12 + len(chunks)) + chunks


def _chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack("<I4s", len(data), kind) + data
