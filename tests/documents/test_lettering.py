"""Where there is room to write on a part, against shapely."""

import pytest
import shapely

from fitout.documents.lettering import writing_room
from fitout.model.outline import Outline, circle, polygon, rectangle, slot

NOTCHED = [(0, 0), (200, 0), (200, 250), (600, 250), (600, 0), (800, 0), (800, 500), (0, 500)]


def box(rect):
    return shapely.box(rect.x, rect.y, rect.x + rect.length, rect.y + rect.width)


def test_a_plain_part_is_written_on_in_its_middle():
    room = writing_room(Outline(rectangle(700.0, 300.0, 10.0, 20.0)))
    assert (room.x, room.y, room.length, room.width) == (10.0, 20.0, 700.0, 300.0)


@pytest.mark.parametrize(
    ("outline", "least"),
    [
        # A notch in the middle leaves the strip above it.
        (Outline(polygon(NOTCHED)), 0.9 * 800 * 250),
        # A grip in the middle leaves the better half.
        (Outline(rectangle(800.0, 480.0), (slot(350, 240, 450, 240, 40),)), 0.85 * 800 * 220),
        (Outline(polygon([(0, 0), (400, 0), (0, 300)])), 0.8 * 400 * 300 / 4),
    ],
)
def test_the_room_is_large_and_on_the_part(outline, least):
    room = writing_room(outline)
    part = shapely.Polygon(
        outline.outer.chords(grows=True), [loop.chords(grows=False) for loop in outline.inner]
    )
    assert room.area >= least
    # Cells are looked at inside their corners, so a twentieth of a cell may stick out.
    assert box(room).difference(part).area <= 0.01 * room.area


def test_a_ring_too_thin_to_write_on_keeps_its_middle():
    ring = Outline(circle(200.0, 200.0, 400.0), (circle(200.0, 200.0, 399.0),))
    room = writing_room(ring)
    assert (room.length, room.width) == pytest.approx((400.0, 400.0))
