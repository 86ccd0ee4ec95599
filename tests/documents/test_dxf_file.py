"""Files of DXF: millimetres, repeating bytes, safe text."""

import io
from pathlib import Path

import ezdxf
import pytest
from ezdxf import options
from ezdxf.lldxf.encoding import decode_dxf_unicode

from fitout.documents.dxf_file import as_bytes, new_drawing, plain, plain_metadata


def _written(text: str) -> bytes:
    with plain_metadata():
        drawing = new_drawing()
        drawing.modelspace().add_text(plain(text))
        return as_bytes(drawing)


def test_a_file_is_in_millimetres_and_its_bytes_repeat() -> None:
    assert _written("P01") == _written("P01")
    read = ezdxf.read(io.StringIO(_written("P01").decode("cp1252")))
    assert (read.header["$INSUNITS"], read.header["$MEASUREMENT"]) == (4, 1)
    assert not read.audit().has_issues


@pytest.mark.parametrize("text", ["Ø 6 ± 1", "левая", "شمال", "%%d", "a\nb"])
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
