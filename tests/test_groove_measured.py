"""What the test piece measured changes the grooves in the cut files by that much, nothing else."""

import csv
import io
import re
from pathlib import Path

import ezdxf
import pytest

from fitout import workflow
from fitout.documents.cut_files import cut_files

DESIGN = Path(__file__).parent.parent / "designs" / "small-hatch.yaml"
BOARDS = "boards:\n"
DRAWN, MEASURED = 6.6, 6.78


def files(folder, name, more):
    """Every cut file of the demo with a test piece, and with more told of its boards."""
    text = DESIGN.read_text(encoding="utf-8")
    assert text.count(BOARDS) == 1
    text = text.replace(BOARDS, BOARDS + more) + "\ncutting: {by: router, coupon: yes}\n"
    path = folder / f"{name}.yaml"
    path.write_text(text, encoding="utf-8")
    evaluation = workflow.evaluate(workflow.load(path))
    design = evaluation.design
    return cut_files(workflow.plan(evaluation), design.stock, design.name)


def entities(data):
    """What a drawing holds, in its order: layer, kind and every number."""
    for entity in ezdxf.read(io.StringIO(data.decode("cp1252"))).modelspace():
        if entity.dxftype() == "LWPOLYLINE":
            told = tuple(tuple(map(float, point)) for point in entity.get_points("xyb"))
        elif entity.dxftype() == "CIRCLE":
            told = (*entity.dxf.center, entity.dxf.radius)
        else:
            told = (entity.dxf.text, *entity.dxf.insert, *entity.dxf.align_point)
        yield entity.dxf.layer, entity.dxftype(), told


def bounds(points):
    xs, ys, _ = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


@pytest.fixture(scope="module")
def both(tmp_path_factory):
    folder = tmp_path_factory.mktemp("groove")
    plain = "  bottom: birch ply 6.5\n"
    measured = f"  bottom: {{sheet: birch ply 6.5, groove_measured: {MEASURED}}}\n"
    return files(folder, "before", plain), files(folder, "after", measured)


def rows(data):
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"))))


def parted(picture):
    """The words of a picture, and its numbers."""
    pieces = re.split(r"(-?[0-9]+\.?[0-9]*)", picture.decode("utf-8"))
    return pieces[::2], [float(number) for number in pieces[1::2]]


def test_lists_and_layout_stay_as_they_are(both):
    """But for the masses of parts, which follow what is drawn, a gram or two, and the picture
    of the sheets, where grooves are a hair narrower.
    """
    before, after = both
    assert before.keys() == after.keys()
    for name in before:
        if name == "cutlist.csv":
            for was, now in zip(rows(before[name]), rows(after[name]), strict=True):
                for column, told in was.items():
                    if column.startswith("mass") and told:
                        assert float(now[column]) == pytest.approx(float(told), abs=0.003)
                    else:
                        assert now[column] == told
        elif name == "sheets.svg":
            (old, values), (new, others) = map(parted, (before[name], after[name]))
            assert new == old
            assert others == pytest.approx(values, abs=0.15)
        elif not name.endswith(".dxf"):
            assert after[name] == before[name], name


def test_grooves_alone_are_drawn_narrower_by_what_they_came_out_too_wide(both):
    before, after = both
    narrowed = {"parts": 0, "sheets": 0}
    kept = 0
    for name in before:
        if not name.endswith(".dxf"):
            continue
        old, new = list(entities(before[name])), list(entities(after[name]))
        assert len(old) == len(new), name
        for was, now in zip(old, new, strict=True):
            if was == now:
                kept += was[0].startswith("SINK")
                continue
            assert was[:2] == now[:2] == (was[0], "LWPOLYLINE")
            assert was[0].startswith("SINK"), (name, was, now)
            x0, y0, x1, y1 = bounds(was[2])
            a0, b0, a1, b1 = bounds(now[2])
            if x1 - x0 < y1 - y0:
                x0, y0, x1, y1, a0, b0, a1, b1 = y0, x0, y1, x1, b0, a0, b1, a1
            assert (a0, a1) == pytest.approx((x0, x1))
            assert y1 - y0 == pytest.approx(DRAWN)
            assert (b0 - y0, y1 - b1) == pytest.approx(((MEASURED - DRAWN) / 2.0,) * 2)
            narrowed[name.split("/")[0]] += 1
    # Eight panels of four parts hold a bottom; test pieces and strap grooves stay.
    assert narrowed["sheets"] == 8
    assert narrowed["parts"] > 0
    assert kept > 0
