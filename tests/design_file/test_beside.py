"""Files that lie beside a design, and the faults found in them."""

import pytest

from fitout.design_file.beside import read_beside, there
from fitout.model.fault import DesignError, Fault


def test_the_file_lies_beside_the_design(tmp_path):
    (tmp_path / "left.yaml").write_text("offcuts: []\n", encoding="utf-8")
    assert read_beside(tmp_path / "van.yaml", "left.yaml", (), "a file") == "offcuts: []\n"


def test_a_missing_file_is_a_fault_of_the_entry_that_names_it(tmp_path):
    (tmp_path / "left.yaml").write_text("", encoding="utf-8")
    with pytest.raises(DesignError) as caught:
        read_beside(tmp_path / "van.yaml", "lefd.yaml", ("stock", "offcuts"), "a file of offcuts")
    (fault,) = caught.value.faults
    assert fault.path == ("stock", "offcuts")
    assert fault.found == "lefd.yaml: no such file"
    assert fault.expected == "a file of offcuts"
    assert fault.hint == "Did you mean left.yaml?"


def test_a_fault_placed_in_a_file_shows_its_line():
    faults = (
        Fault(path=(), found="b", expected="c", line=2, column=1),
        Fault(path=(), found="none", expected="c"),
    )
    placed, nowhere = there(faults, "left.yaml", "\ufeffa\nb\n")
    assert (placed.file, placed.source_line) == ("left.yaml", "b")
    assert (nowhere.file, nowhere.source_line) == ("left.yaml", "")
