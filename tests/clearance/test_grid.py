import numpy as np
import pytest

from fitout.clearance.body import body_of
from fitout.clearance.grid import core_and_cover
from fitout.clearance.shape import Blocks, united
from fitout.model.outline import Outline, circle, polygon, rectangle, rounded, slot
from fitout.model.panel import Face, Pocket


def volume(boxes: np.ndarray) -> float:
    return float((boxes[:, 1] - boxes[:, 0]).prod(axis=1).sum())


def solid(boxes: np.ndarray):
    return united([Blocks(box[None]).manifold for box in boxes])


def test_a_rectilinear_panel_is_its_own_core_and_cover(samples):
    corner = polygon([(0, 0), (300, 0), (300, 200), (180, 200), (180, 120), (0, 120)])
    window = rectangle(60.0, 50.0, 30.0, 40.0)
    pockets = (
        Pocket(rectangle(310.0, 9.0, -5.0, 10.0), 5.0),
        Pocket(rectangle(20.0, 150.0, 200.0, 0.0), 6.0, face=Face.B),
    )
    body = body_of(samples.panel(Outline(corner, (window,)), pockets=pockets))
    assert isinstance(body.shape, Blocks)
    area = 300 * 120 + 120 * 80 - 60 * 50
    # The two pockets leave 12 - 5 - 6 = 1 mm where they cross.
    assert volume(body.shape.boxes) == pytest.approx(area * 12 - 300 * 9 * 5 - 20 * 150 * 6)
    assert body.manifold.volume() == pytest.approx(volume(body.shape.boxes))


@pytest.mark.parametrize(
    "outline",
    [
        Outline(rounded(rectangle(300.0, 200.0), 20.0), (slot(80, 150, 160, 150, 30.0),)),
        Outline(polygon([(0, 0), (300, 40), (260, 200), (10, 170)])),
        Outline(circle(150.0, 150.0, 300.0), (circle(150.0, 150.0, 100.0),)),
    ],
)
def test_the_core_lies_inside_and_the_cover_outside(samples, outline):
    pockets = (Pocket(slot(100, 100, 200, 100, 12.0), 5.0),)
    body = body_of(samples.panel(outline, pockets=pockets))
    core, cover = body.shape.core, body.shape.cover
    assert 0.3 * volume(cover) < volume(core) < body.manifold.volume() < volume(cover)
    assert (solid(core) - body.manifold).volume() < 1e-6
    assert (body.manifold - solid(cover)).volume() < 1e-6


def test_a_corner_level_with_a_cell_centre_counts_once():
    hexagon = np.array(
        [[0.0, 10.0], [10.0, 0.0], [20.0, 0.0], [30.0, 10.0], [20.0, 20.0], [10.0, 20.0]]
    )
    core, cover = core_and_cover([hexagon], 1.0, [])
    assert volume(core) > 0.0
    assert volume(cover) <= 600.0


def test_blocks_of_one_panel_do_not_overlap(samples):
    pockets = (Pocket(rectangle(300.0, 9.0, 0.0, 10.0), 5.0),)
    boxes = body_of(samples.panel(pockets=pockets)).shape.cover
    lo, hi = boxes[:, 0], boxes[:, 1]
    shared = np.minimum(hi[:, None], hi[None]) - np.maximum(lo[:, None], lo[None])
    overlaps = np.all(shared > 0, axis=2)
    assert len(boxes) == 3
    assert np.array_equal(overlaps, np.eye(3, dtype=bool))
