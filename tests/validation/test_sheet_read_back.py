"""Written sheets read back by GDAL, which shares no code with the writer: every part is there.

Rings are grouped by the perimeter they lie in; each group must be one part of the cut list,
its outline and each feature, on the layer its depth asks for, turned by whole quarters (half
turns where the grain is kept), never mirrored, each copy once; no two parts overlap or come
nearer than the gap, and none reaches into the trim. ezdxf's forgiving reader finds nothing to
repair. GDAL's chords lie on the arcs: half a degree each loses a share of 1.3e-5 of a circle.
"""

import dataclasses
import io
import math
from collections import Counter
from pathlib import Path

import numpy as np
import pyogrio
import pyogrio.raw
import pytest
import shapely
from ezdxf import recover
from shapely import affinity

from fitout import workflow
from fitout.cutting.corners import relieved
from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import Effort, nest
from fitout.cutting.plan import gap_between
from fitout.documents.dxf import sheet_dxf
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Outline, circle, polygon, rectangle, rounded, slot
from fitout.model.panel import Face, Grain, Hole, Panel, Pocket
from fitout.model.placement import Placement
from fitout.model.stock import Board

DESIGNS = sorted((Path(__file__).parents[2] / "designs").glob("*.yaml"))
GUIDES = ("SHEET", "TEXT", "TAB", "LEAD", "HOLD", "DATUM")
QUICK = Effort(work=400_000)
BIT = 6.0
"""The widest bit or blade of these tests, mm."""

NEAR = 0.02
"""How far apart (mm) read and wanted places of a feature may be, by chords and rounding."""


@pytest.fixture
def read(tmp_path):
    """Reads DXF bytes: pairs of a layer and the polygon in its ring."""
    before = pyogrio.get_gdal_config_option("OGR_ARC_STEPSIZE")
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "0.5"})

    def rings(data):
        _, audit = recover.read(io.BytesIO(data))
        assert not audit.errors
        assert not audit.fixes
        file = tmp_path / "sheet.dxf"
        file.write_bytes(data)
        meta, _, shapes, columns = pyogrio.raw.read(file)
        fields = dict(zip(meta["fields"], columns, strict=True))
        found = []
        for layer, shape in zip(fields["Layer"], shapely.from_wkb(shapes), strict=True):
            if layer != "TEXT":
                ring = shapely.get_exterior_ring(shape) if shape.geom_type == "Polygon" else shape
                assert ring.is_closed
                assert ring.is_simple
                found.append((layer, shapely.Polygon(ring)))
        return found

    yield rings
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": before})


def layer_of(work, depth, thickness, face=Face.A, skin=0.0):
    if work in ("CUTOUT", "PERIMETER") and skin:
        return f"{work}_{round(10 * (thickness - skin)):04d}_FACE_A"
    if depth is None or depth >= thickness:
        work = "CUTOUT" if work == "SINK" else work
        return f"{work}_{round(10 * thickness):04d}_THROUGH"
    return f"{work}_{round(10 * depth):04d}_FACE_{face.value}"


def wanted(panel, skin):
    """A part's perimeter from its centroid, and each feature: layer, area, place from there."""
    x, y = panel.outline.outer.centroid
    t = panel.thickness
    features = [(layer_of("CUTOUT", None, t, skin=skin), loop) for loop in panel.outline.inner]
    features += [(layer_of("SINK", p.depth, t, p.face), p.loop) for p in panel.pockets]
    features += [(layer_of("DRILL", h.depth, t, h.face), h.loop) for h in panel.holes]
    told = {
        (layer, round(loop.area, 2), round(loop.centroid[0] - x, 3), round(loop.centroid[1] - y, 3))
        for layer, loop in features
    }
    outer = shapely.Polygon(panel.outline.outer.chords(grows=False, sagitta=1e-3))
    return affinity.translate(outer, -x, -y), sorted(told)


def same(found, part, grain):
    """Whether a group that was read is the part, turned by quarters, or by halves for its grain."""
    (outer, features), (wanted_outer, wanted_features) = found, part
    if abs(outer.area - wanted_outer.area) > 1e-4 * outer.area:
        return False
    if len(features) != len(wanted_features):
        return False
    for cos, sin in ((1, 0), (-1, 0)) if grain else ((1, 0), (-1, 0), (0, 1), (0, -1)):
        turned = affinity.affine_transform(wanted_outer, (cos, -sin, sin, cos, 0.0, 0.0))
        if turned.symmetric_difference(outer).area > NEAR * outer.length:
            continue
        left = list(features)
        for layer, size, x, y in wanted_features:
            at = (cos * x - sin * y, sin * x + cos * y)
            hit = next(
                (f for f in left
                 if f[0] == layer and math.dist(f[2:], at) < NEAR
                 and abs(f[1] - size) < 2e-4 * size + 0.02),
                None,
            )  # fmt: skip
            if hit is None:
                break
            left.remove(hit)
        else:
            return True
    return False


def groups(rings, thickness, skin):
    """Each perimeter with what belongs to it, as `wanted` tells it, and its material."""
    edge = layer_of("PERIMETER", None, thickness, skin=skin)
    outers = [ring for layer, ring in rings if layer == edge]
    others = [(n, r) for n, r in rings if n != edge and n.split("_")[0] not in GUIDES]
    holding = [[] for _ in outers]
    for layer, ring in others:
        # A pocket may run out over its part's edge; a part in a cut-out is the smaller one.
        share = [ring.intersection(outer).area / ring.area for outer in outers]
        best = min(range(len(outers)), key=lambda i: (-round(share[i], 2), outers[i].area))
        assert share[best] > 0.3
        if layer.startswith("SINK"):
            # Open ends are drawn beyond the part, a bit's radius at most.
            assert outers[best].buffer(BIT / 2.0 + NEAR).covers(ring)
            holding[best].append((layer, ring.intersection(outers[best])))
        else:
            holding[best].append((layer, ring))
    for outer, held in zip(outers, holding, strict=True):
        middle = outer.centroid
        told = [(n, r.area, r.centroid.x - middle.x, r.centroid.y - middle.y) for n, r in held]
        cut = [r for n, r in held if n.startswith("CUTOUT")]
        about = affinity.translate(outer, -middle.x, -middle.y)
        yield (about, told), outer.difference(shapely.union_all(cut))


def check(plan, cuts, read):
    """Every sheet of the plan, written and read back."""
    left = Counter({line.number: line.quantity for line in cuts.lines})
    for unplaced in plan.unplaced:
        del left[unplaced.number]
    lines = {line.number: line for line in cuts.lines}
    for sheet in plan.sheets:
        spec = plan.spec.of(sheet.board.key)
        rings = read(sheet_dxf(sheet, plan))
        solids = []
        skin = spec.skin if spec.by == "router" else 0.0
        for found, solid in groups(rings, sheet.board.thickness, skin):
            number = next(
                (n for n in left
                 if left[n] and lines[n].board.key == sheet.board.key
                 and same(found, wanted(lines[n].panel, skin), lines[n].grain_locked)),
                None,
            )  # fmt: skip
            assert number is not None, f"no part of the cut list, or one too many: {found}"
            left[number] -= 1
            solids.append(solid)
        assert len(solids) == len(sheet.placed)
        tree = shapely.STRtree(solids)
        gap = gap_between(spec)
        for i, solid in enumerate(solids):
            near = tree.query(solid, predicate="dwithin", distance=gap - NEAR)
            assert [int(k) for k in near if k != i] == []
        trim = spec.trim if sheet.trim is None else sheet.trim
        room = shapely.box(trim, trim, sheet.board.length - trim, sheet.board.width - trim).buffer(
            1e-3, join_style="mitre"
        )
        assert all(room.covers(solid) for solid in solids)
    assert not any(left.values()), f"not on any sheet: {left}"


@pytest.mark.parametrize("by", ["saw", "router"])
@pytest.mark.parametrize("design", DESIGNS, ids=lambda path: path.stem)
def test_demos(design, by, read):
    found = workflow.evaluate(workflow.load(design))
    spec = dataclasses.replace(found.subject.cutting, by=by)
    panels = list(found.fitout.panels())
    cuts = relieved(cut_list(panels), panels, spec)
    check(nest(cuts, spec, QUICK), cuts, read)


def random_panels(seed):
    """A few panels with random outlines and features that keep clear of each other."""
    chance = np.random.default_rng(seed)
    thickness = float(chance.choice([6.3, 9.0, 11.8, 14.75, 18.0]))
    board = Board(
        key="ply", nominal=12.0, thickness=thickness, thickness_tolerance=0.4,
        density_kg_m3=680.0, length=2440.0, width=1220.0,
    )  # fmt: skip
    for i in range(int(chance.integers(1, 13))):
        length, width = (float(v) for v in chance.uniform((240, 200), (1300, 700)).round(1))
        a, b = (float(v) for v in chance.uniform(0.3, 0.7, 2))
        outer = [
            rectangle(length, width),
            polygon([(0, 0), (length, 0), (a * length, width), (0, width)]),
            polygon([(0, 0), (length, 0), (length, b * width), (a * length, b * width),
                     (a * length, width), (0, width)]),
            rounded(rectangle(length, width), 25.0),
            circle(width / 2, width / 2, width),
        ][int(chance.integers(5))]  # fmt: skip
        cx, cy = outer.centroid
        # Four places round the middle, each for one kind of feature.
        inner, holes, pockets = [], [], []
        if chance.random() < 0.5:
            inner = [slot(cx - 30, cy + 25, cx + 5, cy + 25, 20.0)]
        if chance.random() < 0.6:
            depth = float(chance.choice([3.0, 5.0, thickness]))
            face = Face.B if chance.random() < 0.2 else Face.A
            pockets = [Pocket(rectangle(40.0, 12.0, cx - 35, cy - 30), depth, face=face)]
        for k in range(int(chance.integers(0, 4))):
            depth = float(chance.choice([0.0, 4.0]))
            holes.append(Hole(cx + 15 + 6 * k, cy - 12 - 9 * k, 4.5, depth or None))
        room = shapely.Polygon(outer.chords(grows=False)).buffer(-3.0)

        def fits(loop, room=room):
            return room.covers(shapely.Polygon(loop.chords(grows=True)))

        inner = [loop for loop in inner if fits(loop)]
        holes = [hole for hole in holes if fits(hole.loop)]
        pockets = [pocket for pocket in pockets if fits(pocket.loop)]
        whole = math.isclose(outer.area, length * width)
        if chance.random() < 0.3 and whole and not pockets:
            pockets = [Pocket(rectangle(length, 6.6, 0.0, 12.0), 5.0)]
        grain = Grain.ALONG_U if chance.random() < 0.5 else Grain.EITHER
        part = Panel(
            name=f"p{i}", module="m", board=board, placement=Placement(), grain=grain,
            outline=Outline(outer, tuple(inner)), holes=tuple(holes), pockets=tuple(pockets),
        )  # fmt: skip
        for k in range(int(chance.integers(1, 3))):
            yield dataclasses.replace(part, name=f"p{i} {k}")


def random_set(seed, read):
    panels = list(random_panels(seed))
    spec = CuttingSpec(by="saw" if seed % 2 else "router", kerf=4.0 + seed % 3, trim=10.0,
                       skin=0.3 if seed % 5 == 4 else 0.0)  # fmt: skip
    cuts = cut_list(panels)
    check(nest(cuts, spec, QUICK), cuts, read)


@pytest.mark.parametrize("seed", range(8))
def test_random_sets(seed, read):
    random_set(seed, read)


@pytest.mark.thorough
@pytest.mark.parametrize("seed", range(8, 200))
def test_many_random_sets(seed, read):
    random_set(seed, read)


def test_the_judge_finds_what_is_missing_mirrored_or_too_deep(read):
    """Each fault is put into the cut list, as if the file were wrong against it."""
    panel = Panel(
        name="p", module="m", placement=Placement(), grain=Grain.ALONG_U,
        outline=Outline(polygon([(0, 0), (500, 0), (400, 200), (0, 200)])),
        holes=(Hole(50.0, 40.0, 5.0, 4.0),),
        board=Board(
            key="ply", nominal=12.0, thickness=11.8, thickness_tolerance=0.4,
            density_kg_m3=680.0, length=2440.0, width=1220.0,
        ),
    )  # fmt: skip
    cuts = cut_list([panel])
    plan = nest(cuts, CuttingSpec(by="router"), QUICK)
    check(plan, cuts, read)
    drawn = cuts.lines[0].panel
    moved = dataclasses.replace(drawn.holes[0], x=drawn.holes[0].x + 0.1)
    deeper = dataclasses.replace(drawn.holes[0], depth=4.1)
    mirrored = Outline(drawn.outline.outer.mirrored())
    for wrong in (
        dataclasses.replace(drawn, holes=()),
        dataclasses.replace(drawn, holes=(moved,)),
        dataclasses.replace(drawn, holes=(deeper,)),
        dataclasses.replace(drawn, outline=mirrored),
    ):
        line = dataclasses.replace(cuts.lines[0], panels=(wrong,))
        with pytest.raises(AssertionError, match="no part of the cut list"):
            check(plan, dataclasses.replace(cuts, lines=(line,)), read)
    twice = dataclasses.replace(cuts.lines[0], panels=(drawn, drawn))
    with pytest.raises(AssertionError, match="not on any sheet"):
        check(plan, dataclasses.replace(cuts, lines=(twice,)), read)


def test_the_judge_finds_what_lies_wrong(read):
    """Each fault is put into the plan before it is written."""
    board = Board(
        key="ply", nominal=12.0, thickness=11.8, thickness_tolerance=0.4,
        density_kg_m3=680.0, length=2440.0, width=1220.0,
    )  # fmt: skip
    cuts = cut_list(
        Panel(
            name=name, module="m", placement=Placement(), grain=Grain.ALONG_U, board=board,
            outline=Outline(rectangle(500.0, width)),
        )
        for name, width in (("p", 200.0), ("q", 240.0))
    )  # fmt: skip
    plan = nest(cuts, CuttingSpec(by="router"), QUICK)
    (sheet,) = plan.sheets
    first, second = sheet.placed

    def with_first(**changes):
        placed = (dataclasses.replace(first, **changes), second)
        return dataclasses.replace(plan, sheets=(dataclasses.replace(sheet, placed=placed),))

    check(with_first(), cuts, read)
    with pytest.raises(AssertionError, match="no part of the cut list"):
        check(with_first(x=1000.0, quarter_turns=1), cuts, read)
    for x, y in ((second.x, second.y), (2.0, 600.0)):
        with pytest.raises(AssertionError):
            check(with_first(x=x, y=y), cuts, read)
