"""The file of offcuts that a design names."""

from pathlib import Path

import pytest

from fitout.design_file import read_file, show_faults, with_offcuts
from fitout.model.cutting import OffcutSpec
from fitout.model.fault import DesignError

WHOLE = Path(__file__).with_name("whole.yaml")


@pytest.fixture
def read(tmp_path, specs, catalogue_names):
    """read(text of the offcuts, more lines of the design) -> the design with its offcuts."""

    def reading(offcuts=None, more="stock: {offcuts: left.yaml}\n"):
        design = tmp_path / "design.yaml"
        design.write_text(WHOLE.read_text(encoding="utf-8") + more, encoding="utf-8")
        if offcuts is not None:
            (tmp_path / "left.yaml").write_text(offcuts, encoding="utf-8")
        return with_offcuts(read_file(design, specs, catalogue_names), catalogue_names)

    return reading


def faults(read, *given):
    with pytest.raises(DesignError) as caught:
        read(*given)
    return show_faults(caught.value, "", "design.yaml")


def test_the_file_beside_the_design_is_read(read):
    found = read("offcuts:\n  - {sheet: birch ply 12, size: [840, 410], thickness: 11.8}\n")
    assert found.stock.offcuts == (
        OffcutSpec(sheet="birch ply 12", size=(840.0, 410.0), thickness=11.8),
    )


def test_a_design_without_a_file_stays_as_it_is(read):
    listed = "stock: {offcuts: [{sheet: birch ply 15, size: [840, 410], thickness: 9.1}]}\n"
    assert read(None, listed).stock.offcuts[0].thickness == 9.1
    assert read(None, "").stock.offcuts == ()


def test_a_sheet_of_the_designs_own_is_known(read):
    own = "catalogue: {sheets: {my ply: {like: birch ply 12}}}\nstock: {offcuts: left.yaml}\n"
    text = "offcuts: [{sheet: my ply, size: [840, 410], thickness: 11.8}]\n"
    assert read(text, own).stock.offcuts[0].sheet == "my ply"


def test_faults_stand_in_the_file_of_offcuts(read):
    text = (
        "offcuts:\n"
        "  - {sheet: birch plyx 15, size: [840, 410], thickness: 11.8}\n"
        "  - {sheet: birch ply 12, size: [840, 410]}\n"
        "  - {sheet: birch ply 12, size: [840, 410], thickness: 11.8, quantity: 0}\n"
    )
    assert faults(read, text).splitlines() == [
        "left.yaml:2:13: found birch plyx 15; expected a sheet of the catalogue. "
        "Did you mean birch ply 15?",
        "    - {sheet: birch plyx 15, size: [840, 410], thickness: 11.8}",
        "              ^",
        "left.yaml:3:5: found nothing for thickness; expected thickness: its thickness as "
        "measured. For example thickness: 11.8.",
        "    - {sheet: birch ply 12, size: [840, 410]}",
        "      ^",
        "left.yaml:4:72: found 0; expected a whole number from 1 to 1000.",
        "    - {sheet: birch ply 12, size: [840, 410], thickness: 11.8, quantity: 0}",
        "                                                                         ^",
    ]


def test_a_file_that_is_not_there_is_a_fault_of_the_design(read):
    (line,) = [row for row in faults(read).splitlines() if "found" in row]
    assert line.startswith("design.yaml:")
    assert "found left.yaml: no such file; expected the name of a file of offcuts" in line


def test_what_is_no_yaml_is_told(read):
    assert "left.yaml:1:" in faults(read, "offcuts: [{sheet: birch ply 12\n")
