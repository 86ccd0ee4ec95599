"""Pages as DXF: read by ezdxf without a fault and by GDAL within the sheet; repeating bytes."""

import os
import subprocess
import sys
from pathlib import Path

import ezdxf
import pytest
from ezdxf.lldxf.encoding import decode_dxf_unicode

from fitout.documents.paper.frame import Cell, framed
from fitout.documents.paper.marks import (
    BLACK,
    GREY,
    HIDDEN,
    WHITE,
    WIDE,
    Arc,
    Area,
    Mark,
    Page,
    Stroke,
    Text,
)
from fitout.documents.paper.page_dxf import page_dxf

MARKS: tuple[Mark, ...] = (
    Stroke(((10.0, 10.0), (110.0, 10.0), (110.0, 60.0)), WIDE, closed=True, layer="OUTLINE"),
    Stroke(((20.0, 20.0), (90.0, 20.0)), HIDDEN, layer="HIDDEN"),
    Arc((60.0, 40.0), 10.0, layer="HOLE"),
    Arc((60.0, 40.0), 12.0, 30.0, 150.0, layer="HOLE"),
    Area((((0.0, 0.0), (2.0, 0.5), (2.0, -0.5)),), BLACK, "DIMENSION"),
    Area((((0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0)),), GREY),
    Area((((1.0, 1.0), (8.0, 1.0), (8.0, 8.0)),), WHITE),
    Text((30.0, 30.0), "Ø4.5 левая 🧰 %%d", 2.5, "middle", 90.0),
    Text((30.0, 30.0), "\u202e"),
)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    page = framed(MARKS, ((56.0, (Cell("Title", "Drawer side", 180.0),)),), "one")
    (tmp_path / "one.dxf").write_bytes(page_dxf(page))
    return tmp_path / "one.dxf"


def test_the_audit_finds_nothing_and_millimetres_are_stated(file: Path) -> None:
    read = ezdxf.readfile(file)
    found = read.audit()
    assert (found.errors, found.fixes) == ([], [])
    assert read.dxfversion == "AC1015"
    assert read.header["$INSUNITS"] == 4


def test_lines_have_their_layer_width_and_type(file: Path) -> None:
    read = ezdxf.readfile(file)
    space = read.modelspace()
    (outline,) = space.query('LWPOLYLINE[layer=="OUTLINE"]')
    assert outline.dxf.lineweight == 50
    assert outline.closed
    assert [tuple(p[:2]) for p in outline.get_points()] == [
        (30.0, 20.0), (130.0, 20.0), (130.0, 70.0),
    ]  # fmt: skip
    (hidden,) = space.query('LWPOLYLINE[layer=="HIDDEN"]')
    dashes = read.linetypes.get(hidden.dxf.linetype).pattern_tags.tags
    assert [tag.value for tag in dashes if tag.code == 49] == [3.0, -0.75]
    assert [len(space.query(f"{kind}[layer=='HOLE']")) for kind in ("CIRCLE", "ARC")] == [1, 1]


def test_text_is_as_high_as_its_capitals_and_readable(file: Path) -> None:
    texts = ezdxf.readfile(file).modelspace().query('TEXT[layer=="TEXT"]')
    (text,) = texts
    assert decode_dxf_unicode(text.dxf.text) == "Ø4.5 левая □ % %d"
    assert (text.dxf.height, text.dxf.rotation) == (2.5, 90.0)


def test_gdal_sees_it_all_within_the_sheet(file: Path) -> None:
    pyogrio = pytest.importorskip("pyogrio")
    _, bounds = pyogrio.read_bounds(file)
    assert bounds.shape[1] > len(MARKS)
    assert (bounds[0].min(), bounds[1].min()) == pytest.approx((15.0, 5.0), abs=0.01)
    assert (bounds[2].max(), bounds[3].max()) == pytest.approx((415.0, 292.0), abs=0.01)


def test_bytes_repeat_over_processes_and_hash_seeds() -> None:
    script = (
        "import hashlib; from fitout.documents.paper.page_dxf import page_dxf;"
        "from fitout.documents.paper.marks import *;"
        "page = Page(420.0, 297.0, (box(0.0, 0.0, 9.0, 9.0, HIDDEN), Arc((1.0, 1.0), 2.0),"
        "Area((((0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0)),), GREY), Text((1.0, 1.0), 'x')));"
        "print(hashlib.sha256(page_dxf(page)).hexdigest())"
    )
    told = {
        subprocess.run(
            [sys.executable, "-c", script], check=True, capture_output=True, text=True,
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(sys.path)},
        ).stdout
        for seed in ("1", "2")
    }  # fmt: skip
    assert len(told) == 1


def test_an_empty_page_is_a_sound_file(tmp_path: Path) -> None:
    (tmp_path / "none.dxf").write_bytes(page_dxf(Page(420.0, 297.0, ())))
    assert not ezdxf.readfile(tmp_path / "none.dxf").audit().has_issues
