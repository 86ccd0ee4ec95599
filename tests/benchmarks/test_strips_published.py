"""Irregular strips as the working group on cutting and packing of EURO uses them.

`strip_irregular.json`: ten sets with the best-known densities that were published, collected
from memory of the literature; they are targets, not proofs. Measured with the optional library,
60 s each; our own filling, which needs no clock, is printed beside it.
"""

import json
from pathlib import Path

import numpy as np
import pytest
import shapely

from fitout.cutting.shapes import SNUG, Barred, Shape, convex_pieces
from fitout.cutting.shapes_fill import RULES, fill
from fitout.cutting.strips import StripItem, available, shortest, turned

SETS = json.loads((Path(__file__).parent / "strip_irregular.json").read_text(encoding="utf-8"))
SECONDS = 60
PAD = 1.0001
"""The library fails on parts as high as the strip."""


def overlap(items, standing):
    """The largest area that two shapes share, as a share of the smaller."""
    solids = []
    for each in standing:
        points = turned(items[each.item].points, each.angle_deg) + np.array([each.x, each.y])
        solids.append(shapely.Polygon(points))
    tree = shapely.STRtree(solids)
    pairs = tree.query(solids, predicate="intersects").T
    shares = [
        solids[i].intersection(solids[j]).area / min(solids[i].area, solids[j].area)
        for i, j in pairs if i < j
    ]  # fmt: skip
    return max(shares, default=0.0), shapely.union_all(solids).bounds


def own_length(items, height, tries=60):
    """The shortest strip our own filling finds, in some orders of the parts."""
    shapes, turns, areas = [], [], []
    scale = 1000.0 / height
    for item in items:
        first = len(shapes)
        for angle in item.angles_deg:
            points = turned(item.points * scale, angle)
            points = points - points.min(axis=0)
            solid = shapely.Polygon(points).buffer(-SNUG, join_style="mitre")
            pieces = convex_pieces(solid)
            shapes.append(Shape(0, *points.max(axis=0), pieces, pieces, ()))
        turns += [tuple(range(first, len(shapes)))] * item.copies
        areas += [shapely.Polygon(item.points).area] * item.copies
    chance = np.random.default_rng(1)
    bars, least = Barred(shapes), np.inf
    for k in range(tries):
        weights = np.array(areas) * np.exp((0.3 if k else 0.0) * chance.standard_normal(len(areas)))
        order = np.argsort(-weights, kind="stable").tolist()
        floors, left = fill(order, turns, [(1e6, 1000.0)], bars, RULES[0])
        assert not left
        lain = floors[0].lain
        least = min(least, max(each.x + shapes[each.shape].length for each in lain))
    return float(least) / scale


@pytest.mark.benchmark
@pytest.mark.skipif(not available(), reason="the optional library is not installed")
def test_density_of_published_strips():
    reached = {}
    for each in SETS["instances"]:
        items = [
            StripItem(
                np.array(item["points"], dtype=float), item["copies"],
                tuple(map(float, item["rotations"])),
            )
            for item in each["items"]
        ]  # fmt: skip
        height = float(each["strip_height"])
        found = shortest(items, height * PAD, SECONDS, seed=1)
        assert found is not None
        length, standing = found
        assert len(standing) == each["n"]
        shared, (x0, y0, x1, y1) = overlap(items, standing)
        assert shared < 1e-3
        assert min(x0, y0) > -1e-4 * height
        assert y1 < height * PAD * 1.0001
        assert x1 < length * 1.0001
        density = 100.0 * each["total_area"] / (height * length)
        reached[each["id"]] = 100.0 * density / each["best_density_pct"]
        own = 100.0 * each["total_area"] / (height * own_length(items, height))
        print(
            f"{each['id']}: {density:.2f} % of {each['best_density_pct']:.2f} % best known, "
            f"{reached[each['id']]:.1f} %; own filling {100 * own / each['best_density_pct']:.1f} %"
        )
    mean = sum(reached.values()) / len(reached)
    print(f"mean {mean:.2f} %, lowest {min(reached.values()):.2f} %")
    assert mean >= 95.0
    assert min(reached.values()) >= 92.0
