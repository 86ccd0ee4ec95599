"""Files of DXF: millimetres, repeating bytes, safe text, records as the library writes them."""

import io
from pathlib import Path

import ezdxf
import pytest
from ezdxf import options
from ezdxf.lldxf.encoding import decode_dxf_unicode

from fitout.documents.dxf_entities import Entities, look
from fitout.documents.dxf_file import DxfFile, new_drawing, plain, plain_metadata


def _written(text: str) -> bytes:
    entities = Entities(DxfFile())
    entities.text(plain(text), (0.0, 0.0), 2.5, look("0"))
    return entities.as_bytes()


def test_a_file_is_in_millimetres_and_its_bytes_repeat() -> None:
    assert _written("P01") == _written("P01")
    read = ezdxf.read(io.StringIO(_written("P01").decode("cp1252")))
    assert (read.header["$INSUNITS"], read.header["$MEASUREMENT"]) == (4, 1)
    assert not read.audit().has_issues


def test_the_same_bytes_as_the_library_writes() -> None:
    file = DxfFile((("$LWDISPLAY", 1), ("$EXTMAX", (420.0, 297.0, 0.0))))
    file.style("LETTERING", "arial.ttf")
    file.layer("OUTLINE")
    file.linetype("DASH", (3.0, -0.75))
    file.layer("DRILL", 1)
    for _ in range(2):
        file.layer("OUTLINE", 3)
        file.linetype("DASH", (1.0, -1.0))
        file.style("LETTERING", "txt")
    with plain_metadata():
        drawing = new_drawing()
        drawing.header["$LWDISPLAY"] = 1
        drawing.header["$EXTMAX"] = (420.0, 297.0, 0.0)
        drawing.styles.add("LETTERING", font="arial.ttf")
        drawing.layers.add("OUTLINE")
        drawing.linetypes.add("DASH", [3.75, 3.0, -0.75])
        drawing.layers.add("DRILL", color=1)
        stream = io.StringIO(newline="\n")
        drawing.write(stream)
    assert file.as_bytes("").decode("cp1252") == stream.getvalue()


@pytest.mark.parametrize("text", ["Ø 6 ± 1", "левая", "شمال", "%%d", "a\nb", "{0} {x}"])
def test_any_text_is_read_as_it_was_written(text: str, tmp_path: Path) -> None:
    (tmp_path / "one.dxf").write_bytes(_written(text))
    read = ezdxf.readfile(tmp_path / "one.dxf")
    (told,) = read.modelspace()
    assert decode_dxf_unicode(told.plain_text()) == plain(text)


def test_letters_that_have_no_number_of_four_digits_become_boxes() -> None:
    assert plain("van \U0001f690") == "van □"


def test_metadata_is_fixed_only_while_a_file_is_written() -> None:
    before = options.write_fixed_meta_data_for_testing
    with pytest.raises(RuntimeError), plain_metadata():
        raise RuntimeError
    assert options.write_fixed_meta_data_for_testing == before
