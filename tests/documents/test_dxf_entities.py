"""Entities told as text: what the library itself reads back, audits and would have written."""

import io

import ezdxf
import pytest
from ezdxf.enums import TextEntityAlignment

from fitout.documents.dxf_entities import Entities, look
from fitout.documents.dxf_file import DxfFile, new_drawing, plain_metadata

TRIANGLE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0))
SQUARE = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0))


def told() -> bytes:
    entities = Entities(DxfFile())
    entities.polyline([(0, 0, 0.0), (10.5, 0, 0.25), (10, 5, 0.0)], look("0"), closed=True)
    entities.circle((1, 2), 3, look("0", colour=3, weight=35))
    entities.arc((1, 2), 3, (10, 50), look("0", "DASHED", 7, 25))
    entities.triangle(TRIANGLE, look("0"))
    entities.area([SQUARE, TRIANGLE], look("0", colour=5))
    entities.text("Жaß 1", (1, 2), 2.5, look("0"), turned=90, across="right")
    entities.text("A", (1, 2), 3.5, look("0"), across="middle", centred=True)
    return entities.as_bytes()


def by_the_library() -> bytes:
    with plain_metadata():
        drawing = new_drawing()
        space = drawing.modelspace()
        own = {"layer": "0"}
        corners = [(0, 0, 0.0), (10.5, 0, 0.25), (10, 5, 0.0)]
        space.add_lwpolyline(corners, format="xyb", close=True, dxfattribs=own)
        space.add_circle((1, 2), 3, dxfattribs={**own, "color": 3, "lineweight": 35})
        dashed = {**own, "linetype": "DASHED", "color": 7, "lineweight": 25}
        space.add_arc((1, 2), 3, 10, 50, dxfattribs=dashed)
        space.add_solid(TRIANGLE, dxfattribs=own)
        hatch = space.add_hatch(color=5, dxfattribs=own)
        for ring in (SQUARE, TRIANGLE):
            hatch.paths.add_polyline_path(ring, is_closed=True)
        text = space.add_text("Жaß 1", height=2.5, rotation=90, dxfattribs=own)
        text.set_placement((1, 2), align=TextEntityAlignment.RIGHT)
        text = space.add_text("A", height=3.5, dxfattribs=own)
        text.set_placement((1, 2), align=TextEntityAlignment.MIDDLE_CENTER)
        stream = io.StringIO(newline="\n")
        drawing.write(stream)
        return stream.getvalue().encode("cp1252", errors="dxfreplace")


def test_the_same_bytes_as_the_library_writes() -> None:
    assert told() == by_the_library()


def test_reads_back_as_drawn() -> None:
    drawing = ezdxf.read(io.StringIO(told().decode("cp1252")))
    assert [e.dxftype() for e in drawing.modelspace()] == [
        "LWPOLYLINE", "CIRCLE", "ARC", "SOLID", "HATCH", "TEXT", "TEXT",
    ]  # fmt: skip
    polyline, circle, *_, text = drawing.modelspace()
    assert polyline.closed
    assert polyline.get_points("xyb")[1] == pytest.approx((10.5, 0.0, 0.25))
    assert (circle.dxf.color, circle.dxf.lineweight, circle.dxf.radius) == (3, 35, 3.0)
    assert text.get_placement()[0] is TextEntityAlignment.MIDDLE_CENTER
    assert not drawing.audit().has_errors


def test_no_two_handles_are_alike() -> None:
    tags = told().decode("cp1252").split("\n")
    handles = [value for code, value in zip(tags[::2], tags[1::2], strict=False) if code == "  5"]
    assert len(set(handles)) == len(handles) > 10
