"""A reader of our own reads what the writer's library wrote, and refuses what can't be cut."""

import pytest

from fitout.cutting.cut_list import CutLine, CutList
from fitout.documents.alike import missing_and_extra, works
from fitout.documents.cut_reading import CutFileError, Work, read_cuts
from fitout.documents.dxf import part_dxf
from fitout.model.panel import Face


@pytest.fixture
def data(cuts: CutList) -> bytes:
    return part_dxf(drilled(cuts))


def drilled(cuts: CutList) -> CutLine:
    return next(line for line in cuts.lines if line.panel.holes and line.panel.pockets)


def test_a_part_is_read_as_it_was_written(cuts, data):
    found = read_cuts(data)
    assert missing_and_extra(works(drilled(cuts).panel), found.drawn) == ([], [])
    assert found.borders == ()


def test_layers_are_named_as_they_are_read():
    assert str(Work("SINK", 60, Face.B)) == "SINK_0060_FACE_B"
    assert str(Work("PERIMETER", 118, None)) == "PERIMETER_0118_THROUGH"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("EOF", "", "does not end"),
        ("$INSUNITS\n 70\n4", "$INSUNITS\n 70\n1", "unit"),
        ("PERIMETER_0118_THROUGH", "OUTSIDE", "layer OUTSIDE"),
        ("\nCIRCLE\n", "\nPOINT\n", "holds a POINT"),
        (" 70\n1\n", " 70\n0\n", "not closed"),
    ],
)
def test_what_cannot_be_cut_is_refused(data, old, new, said):
    text = data.decode()
    assert old in text
    with pytest.raises(CutFileError, match=said):
        read_cuts(text.replace(old, new).encode())


@pytest.mark.parametrize("data", [b"", b"hello", b"\x00\xff" * 40, b"0\nSECTION\n2\nENTITIES"])
def test_what_is_no_dxf_is_refused(data):
    with pytest.raises(CutFileError):
        read_cuts(data)
