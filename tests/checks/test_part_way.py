"""Each demo with something that opens only part-way: how far, as reckoned here by hand."""

from __future__ import annotations

import dataclasses
import itertools
import math
import re
from pathlib import Path

import pytest

from fitout.checks import Memory, Subject, subject_of
from fitout.checks.motions import check_motions
from fitout.model.bay import Obstacle
from fitout.model.design import Design
from fitout.model.finding import Finding, Severity
from fitout.model.spec import Size
from fitout.model.tailgate import DoorLoadSpec, LedgeSpec, TailgateSpec
from fitout.modules.assemble import assemble
from fitout.workflow import arranged, load

DESIGNS = Path(__file__).parents[2] / "designs"


@dataclasses.dataclass(frozen=True)
class Checked:
    """A design's parts, and what its motions came to."""

    design: Design
    subject: Subject
    findings: tuple[Finding, ...]


def changed(name: str, **bay: object) -> Checked:
    """A demo with other entries of the bay."""
    design = load(DESIGNS / f"{name}.yaml")
    design = dataclasses.replace(design, bay=dataclasses.replace(design.bay, **bay))  # type: ignore[arg-type]
    setting, arrangement = arranged(design, Memory())
    assert not arrangement.conflicts
    subject = subject_of(assemble(name, setting), setting, design.cutting, ())
    return Checked(design, subject, tuple(check_motions(subject)))


def tailgate_of(name: str) -> TailgateSpec:
    tailgate = load(DESIGNS / f"{name}.yaml").bay.tailgate
    assert tailgate is not None
    return tailgate


def failed(found: Checked, where: str, code: str = "motion") -> Finding:
    (finding,) = [f for f in found.findings if f.code == code and f.where == where]
    assert finding.severity is Severity.FAIL
    return finding


def told(finding: Finding) -> float:
    """How far it gets, from the sentence."""
    match = re.search(r"by ([\d.]+) of its", finding.sentence)
    assert match is not None
    return float(match[1])


def corners(found: Checked, obstacle: str) -> Obstacle:
    return next(o for o in found.subject.fitout.bay.obstacles if o.name == obstacle)


def test_the_wagons_fridge_lid_under_a_tailgate_that_opens_less() -> None:
    """Its free upper corner, at the distance R from the hinge and b above level when shut, rises
    until R sin(a + b) reaches the inner face of the tailgate over it, which leans as a plane."""
    gate = dataclasses.replace(tailgate_of("touring-wagon"), angle=66.0)
    found = changed("touring-wagon", tailgate=gate)
    finding = failed(found, "fridge/fridge lid")
    assert "bay/open tailgate" in finding.sentence
    lid = next(m for m in found.subject.fitout.modules if m.name == "fridge").motions[0]
    assert lid.of
    spec = found.design.items["fridge"]
    assert spec.lid is not None
    radius = math.hypot(spec.size.width, spec.lid.thickness)
    start = math.atan2(spec.lid.thickness, spec.size.width)
    # The corner furthest rearward meets the plane that falls rearward first.
    rear = min(x for x, _, _ in lid.pieces[0]) + found.subject.parts[lid.of].placement.origin[0]
    ceiling = height_over(found, rear - 700.0)
    wanted = math.degrees(math.asin((ceiling - lid.point[2]) / radius) - start)
    assert finding.value == pytest.approx(wanted, abs=0.1)
    assert told(finding) == pytest.approx(wanted, abs=0.1)


def height_over(found: Checked, x: float) -> float:
    """How high the open tailgate's inner face is there: it turned about the opening's edge."""
    design = found.design
    assert design.bay.tailgate is not None
    assert design.bay.opening is not None
    assert design.bay.tailgate.angle is not None
    face = {h: v.value for h, v in design.bay.tailgate.inner_face.items()}
    top = design.bay.opening.height.value
    edge = 30.0 + (165.0 - 30.0) * (top - 450.0) / 450.0
    assert face == {0.0: 0.0, 450.0: 30.0, 900.0: 165.0}
    turn = math.radians(design.bay.tailgate.angle)
    # The part of the face below 450 is the outer one, straight from (0, 0) to (30, 450).
    points = []
    for z, at in ((28.0, 30.0 * 28.0 / 450.0), (450.0, 30.0), (top, edge)):
        dx, dz = at - edge, z - top
        points.append(
            (edge + dx * math.cos(turn) + dz * math.sin(turn),
             top - dx * math.sin(turn) + dz * math.cos(turn))
        )  # fmt: skip
    for (x0, z0), (x1, z1) in itertools.pairwise(points):
        if x0 <= x <= x1:
            return z0 + (z1 - z0) * (x - x0) / (x1 - x0)
    raise AssertionError(points)


def test_the_hatchs_drawer_beside_a_door_that_opens_by_85() -> None:
    """The door, hinged at the left jamb's widest, leans in by its length times sin 5°: the left
    drawer's front, y left of the centre line, meets its inner face at (w − y) / tan 5° behind
    the axis."""
    gate = TailgateSpec(
        inner_face={0.0: tailgate_of("small-hatch").inner_face[0.0]},
        opens="sideways",
        hinged="left",
        angle=85.0,
    )
    found = changed("small-hatch", tailgate=gate)
    finding = failed(found, "drawers/drawer 1 left")
    front = found.subject.bodies["drawers/drawer 1 left front"]
    assert "bay/open tailgate" in finding.sentence
    jamb = max(left for _, _, left in found.subject.fitout.bay.opening)
    behind = (jamb - float(front.hi[1])) / math.tan(math.radians(5.0))
    assert finding.value == pytest.approx(float(front.lo[0]) + behind, abs=0.1)
    assert told(finding) == pytest.approx(float(front.lo[0]) + behind, abs=0.1)


def test_the_tubs_drawer_over_the_bikes_on_its_dropped_tailgate() -> None:
    """Bikes on the inner face of the lower leaf, which drops till level, stand up behind the
    sill: the drawer meets the side of the box they take, at the height they hang at."""
    gate = tailgate_of("canopy-tub")
    load_ = DoorLoadSpec(name="bikes", size=Size(270.0, 500.0, 100.0), face="inner", above=300.0)
    found = changed("canopy-tub", tailgate=dataclasses.replace(gate, carries=(load_,)))
    finding = failed(found, "drawers/drawer 1 left")
    assert "bay/bikes on the tailgate" in finding.sentence
    front = found.subject.bodies["drawers/drawer 1 left front"]
    # Its side towards the drawer is nearly upright: where the front's lower edge meets it.
    box = corners(found, "bikes on the tailgate").vertices
    (x0, z0), (x1, z1) = sorted({(x, z) for x, _, z in box.tolist()})[-2:]
    behind = x0 + (x1 - x0) * (float(front.lo[2]) - z0) / (z1 - z0)
    assert finding.value == pytest.approx(float(front.lo[0]) - behind, abs=0.1)
    assert told(finding) == pytest.approx(finding.value, abs=0.05)


def test_a_drawer_over_a_bumper_too_high() -> None:
    found = changed("touring-wagon", ledge=LedgeSpec(depth=150.0, top=60.0))
    finding = failed(found, "drawers/drawer 1")
    assert "bay/bumper" in finding.sentence
    front = found.subject.bodies["drawers/drawer 1 front"]
    assert finding.value == pytest.approx(float(front.lo[0]), abs=0.1)
    low = changed("touring-wagon", ledge=LedgeSpec(depth=150.0, top=10.0))
    (past,) = [f for f in low.findings if f.where == "drawers/drawer 1: bumper"]
    assert past.severity is Severity.PASS
    assert past.value == pytest.approx(float(front.lo[2]) - 10.0, abs=0.1)
