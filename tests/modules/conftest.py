"""Bays to build in, and what must hold for any module whatever its kind."""

import dataclasses
import itertools
import math
from collections.abc import Callable, Mapping

import numpy as np
import pytest

from fitout.catalogue import DEFAULT_BOARDS, load
from fitout.clearance.body import body_of, body_of_obstacle
from fitout.clearance.contact import contacts
from fitout.model.bay import Bay
from fitout.model.design import (
    ArchSpec,
    BaySpec,
    ClearanceSpec,
    OpeningSpec,
    SeatBackSpec,
    SectionSpec,
    Sides,
)
from fitout.model.module import JointKind, Module
from fitout.model.panel import Panel
from fitout.model.spec import Measured
from fitout.model.tailgate import TailgateSpec
from fitout.modules.kind import Setting
from fitout.survey.bay import build_bay

CATALOGUE = load()
TOUCH = 1.0
"""Bodies of one module nearer than this must be joined, mm."""


def m(value: float) -> Measured:
    return Measured(float(value))


def section(at: float, widths: Mapping[float, float | tuple[float, float]], roof: float):
    read = {
        float(z): Sides(left=m(w[0]), right=m(w[1])) if isinstance(w, tuple) else m(w)
        for z, w in widths.items()
    }
    return SectionSpec(at=m(at), widths=read, roof=m(roof))


WAGON = BaySpec(
    sections=(
        section(0, {0: 1246, 240: 1268, 620: 1192}, 846),
        section(560, {0: 1260, 240: 1280, 620: 1210}, 861),
        section(1140, {0: 1264, 240: 1290, 620: 1214}, 868),
    ),
    wheel_arches=ArchSpec(between=m(1012), start=m(318), end=m(842), height=m(262)),
    seat_back=SeatBackSpec(foot=m(1164), leans=m(17.0), notches=(14.0, 17.0, 21.0), top=m(612)),
    tailgate=TailgateSpec(inner_face={0.0: m(0), 450.0: m(30), 800.0: m(165)}),
    opening=OpeningSpec(
        lip=m(28), height=m(772), widths={0.0: m(1104), 400.0: m(1138), 772.0: m(1018)}
    ),
)
"""Leaning walls, box arches, a reclining seat back."""

VAN = BaySpec(
    sections=(
        section(0, {0: (720, 700), 500: (760, 745), 1100: (690, 700)}, 1180),
        section(900, {0: (730, 715), 500: (770, 755), 1100: (705, 700)}, 1210),
        section(1600, {0: (725, 720), 500: (765, 750), 1100: (700, 690)}, 1205),
    ),
    wheel_arches=ArchSpec(
        between=Sides(left=m(560), right=m(585)),
        profile=((500.0, 0.0), (580.0, 210.0), (760.0, 290.0), (940.0, 205.0), (1010.0, 0.0)),
    ),
    front_wall=m(1650),
)
"""Sides that differ, arches with a profile, a fixed wall ahead."""

HATCH = BaySpec(
    sections=(
        section(0, {0: 960, 200: 1000, 500: 900}, 640),
        section(760, {0: 980, 200: 1010, 500: 930}, 700),
    ),
    wheel_arches=ArchSpec(between=m(900), start=m(200), end=m(820), height=m(330)),
    seat_back=SeatBackSpec(foot=m(800), leans=m(20.0), top=m(560)),
    tailgate=TailgateSpec(inner_face={0.0: m(0), 600.0: m(180)}),
)
"""Small, with arches that reach to the seat back."""

SPECS = {"wagon": WAGON, "van": VAN, "hatch": HATCH}


@pytest.fixture(scope="session")
def bays() -> Mapping[str, Bay]:
    """Solid bays by name: wagon, van, hatch."""
    return {name: build_bay(spec) for name, spec in SPECS.items()}


@pytest.fixture(params=sorted(SPECS))
def bay(request: pytest.FixtureRequest, bays: Mapping[str, Bay]) -> Bay:
    """Each bay in turn."""
    return bays[request.param]


@pytest.fixture(scope="session")
def bay_specs() -> Mapping[str, BaySpec]:
    """The bays as a builder would have measured them."""
    return SPECS


@pytest.fixture
def setting_of() -> Callable[..., Setting]:
    """A setting in a bay, every board but the foam at one thickness if that is given."""

    def make(bay: Bay, thickness: float | None = None, **changes: object) -> Setting:
        boards = {role: CATALOGUE.sheets[key] for role, key in DEFAULT_BOARDS.items()}
        if thickness is not None:
            boards = {
                role: board if role == "foam" else dataclasses.replace(board, thickness=thickness)
                for role, board in boards.items()
            }
        setting = Setting(
            bay=bay,
            boards=boards,
            items={},
            catalogue=CATALOGUE,
            rules=ClearanceSpec(),
            specs={},
        )
        return dataclasses.replace(setting, **changes)

    return make


@pytest.fixture
def faults_of() -> Callable[[Module, Setting], list[str]]:
    """What is wrong with a module whatever its kind; empty for a sound one."""

    def find(module: Module, setting: Setting) -> list[str]:
        return [
            *_contact_faults(module, setting),
            *(fault for panel in module.panels for fault in _panel_faults(panel)),
            *_hardware_faults(module, setting),
        ]

    return find


def _contact_faults(module: Module, setting: Setting) -> list[str]:
    parts = [body_of(part) for part in module.parts()]
    # What has no berth lies outside the bay: the vehicle's surfaces say nothing about it.
    vehicle = setting.bay.obstacles if module.berth is not None else ()
    around = [body_of_obstacle(o) for o in vehicle if o.kind != "aperture"]
    bodies = [*parts, *around]
    ids = [body.id for body in bodies]
    faults = [f"two parts are called {i}" for i in ids if ids.count(i) > 1]
    joined = {frozenset((joint.a, joint.b)) for joint in module.joints}
    # A hinge or slide bridges the gap between what it joins.
    spaced = {
        frozenset((j.a, j.b))
        for j in module.joints
        if j.kind in (JointKind.HINGED, JointKind.SLIDES)
    }
    met = set()
    for (i, j), found in contacts(bodies, TOUCH).items():
        pair = frozenset((ids[i], ids[j]))
        if i >= len(parts):
            continue
        if found.depth > 0.01:
            faults.append(f"{ids[i]} overlaps {ids[j]} by {found.depth:.3f}")
        elif found.gap < TOUCH:
            met.add(pair)
            if pair not in joined:
                faults.append(f"{ids[i]} and {ids[j]} are {found.gap:.3f} apart and not joined")
    known = set(ids)
    apart = [sorted(pair) for pair in joined - met - spaced if pair <= known]
    return faults + [f"joined but apart: {a} and {b}" for a, b in sorted(apart)]


def _panel_faults(panel: Panel) -> list[str]:
    faults = []
    loops = [panel.outline.outer, *panel.outline.inner]
    edges = [loop.chords(grows=False) for loop in loops]
    for hole in panel.holes:
        point = np.array([hole.x, hole.y])
        if not _inside(point, edges[0]) or any(_inside(point, e) for e in edges[1:]):
            faults.append(f"{panel.id}: hole at {hole.x:.1f}, {hole.y:.1f} lies outside")
        elif min(_distance(point, e) for e in edges) < hole.diameter / 2.0:
            faults.append(f"{panel.id}: hole at {hole.x:.1f}, {hole.y:.1f} runs over an edge")
        for pocket in panel.pockets:
            sunk = pocket.loop.chords(grows=True)
            near = _distance(point, sunk) < hole.diameter / 2.0
            if near or _inside(point, sunk):
                faults.append(f"{panel.id}: hole at {hole.x:.1f}, {hole.y:.1f} meets a pocket")
    for a, b in itertools.combinations(panel.holes, 2):
        if math.hypot(a.x - b.x, a.y - b.y) < (a.diameter + b.diameter) / 2.0:
            faults.append(f"{panel.id}: holes meet at {a.x:.1f}, {a.y:.1f}")
    return faults


def _inside(point: np.ndarray, corners: np.ndarray) -> bool:
    following = np.roll(corners, -1, axis=0)
    crossing = (corners[:, 1] > point[1]) != (following[:, 1] > point[1])
    rise = np.where(crossing, following[:, 1] - corners[:, 1], 1.0)
    x = corners[:, 0] + (point[1] - corners[:, 1]) / rise * (following[:, 0] - corners[:, 0])
    return bool(np.count_nonzero(crossing & (point[0] < x)) % 2)


def _distance(point: np.ndarray, corners: np.ndarray) -> float:
    along = np.roll(corners, -1, axis=0) - corners
    share = np.einsum("ij,ij->i", point - corners, along) / np.einsum("ij,ij->i", along, along)
    nearest = corners + np.clip(share, 0.0, 1.0)[:, None] * along
    return float(np.min(np.linalg.norm(nearest - point, axis=1)))


def _hardware_faults(module: Module, setting: Setting) -> list[str]:
    known = {**setting.catalogue.goods, **setting.catalogue.slides}
    bought = {line.article for line in module.hardware} | {f.article for f in module.fixings}
    faults = [f"{article} is not in the catalogue" for article in sorted(bought - set(known))]
    return faults + [f"{li.article}: {li.quantity}" for li in module.hardware if li.quantity < 1]
