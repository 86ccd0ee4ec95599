"""A builder's own catalogue beside the design: its rows, and every fault in its place."""

from pathlib import Path

import pytest

from fitout import workflow
from fitout.design_file import read_file, rows_of, show_faults, starter
from fitout.model.fault import DesignError

WHOLE = Path(__file__).with_name("whole.yaml")
GOOD = (
    "sheets:\n"
    "  my ply:\n"
    "    like: birch ply 12\n"
    "    thickness: 11.6\n"
    "    source: calliper, four corners\n"
)


@pytest.fixture
def read(tmp_path, specs, catalogue_names):
    """read(text of the catalogue, more lines of the design) -> the design with its rows."""

    def reading(rows=None, more="catalogue: mine.yaml\n"):
        design = tmp_path / "design.yaml"
        design.write_text(WHOLE.read_text(encoding="utf-8") + more, encoding="utf-8")
        if rows is not None:
            (tmp_path / "mine.yaml").write_text(rows, encoding="utf-8")
        return read_file(design, specs, catalogue_names)

    return reading


def faults(read, *given):
    with pytest.raises(DesignError) as caught:
        read(*given)
    return show_faults(caught.value, "", "design.yaml")


def found_in(read, *given):
    return [line for line in faults(read, *given).splitlines() if ": found " in line]


def test_the_rows_of_the_file_are_the_designs(read):
    design = read(GOOD)
    assert design.catalogue["sheets"]["my ply"]["thickness"] == 11.6
    assert design.beside == ("mine.yaml",)


def test_rows_in_the_design_itself_stay_as_they_were(read):
    design = read(None, "catalogue: {sheets: {my ply: {like: birch ply 12}}}\n")
    assert design.catalogue == {"sheets": {"my ply": {"like": "birch ply 12"}}}
    assert design.beside == ()
    assert read(None, "").catalogue == {}


def test_the_design_may_name_the_rows_and_is_built_of_them(tmp_path):
    text = starter("Van").replace(
        "carcass: {sheet: birch ply 12, measured: 11.8}", "carcass: my ply"
    )
    (tmp_path / "van.yaml").write_text(f"{text}catalogue: mine.yaml\n", encoding="utf-8")
    (tmp_path / "mine.yaml").write_text(GOOD, encoding="utf-8")
    evaluation = workflow.evaluate(workflow.load(tmp_path / "van.yaml"))
    board = evaluation.setting.boards["carcass"]
    assert (board.key, board.thickness) == ("my ply", 11.6)
    assert board.source == "calliper, four corners"


def test_every_row_of_the_file_needs_a_source(read):
    assert faults(read, "slides:\n  short: {like: full extension 300}\n").splitlines() == [
        "mine.yaml:2:3: found no source for short; expected where its numbers come from. For "
        "example source: maker's sheet of 2026, or source: measured with a calliper.",
        "    short: {like: full extension 300}",
        "    ^",
    ]


def test_faults_of_both_files_are_told_at_once(read):
    rows = (
        "sheets:\n"
        "  far: {like: birch ply 12x, source: a}\n"
        "  odd: {like: birch ply 12, thicknes: 3, source: a}\n"
        "slidez: {}\n"
        "slides: {weak: {like: full extension 300, rating_kg: -3, source: a}}\n"
        "sections: {5: 7}\n"
    )
    more = "catalogue: mine.yaml\nstock: {sheets: {fra: [{size: [2440, 1220]}]}}\n"
    told = [line.partition(";")[0] for line in found_in(read, rows, more)]
    assert told == [
        "design.yaml:21:18: found fra",
        "mine.yaml:2:9: found 'birch ply 12x'",
        "mine.yaml:3:29: found 'thicknes'",
        "mine.yaml:4:1: found slidez",
        "mine.yaml:5:43: found -3",
        "mine.yaml:6:15: found 7",
    ]


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        (None, "found mine.yaml: no such file; expected the name of a file beside the design"),
        ("", "mine.yaml:1:1: found an empty file; expected rows by table and name."),
        ("sheets: {a: {like: birch\n", "mine.yaml:1:"),
    ],
)
def test_a_file_that_tells_nothing_is_one_fault_and_its_names_are_not_judged(read, rows, told):
    # A name that only the lost file could explain is no further fault.
    text = "catalogue: mine.yaml\nstock: {sheets: {my ply: [{size: [2440, 1220]}]}}\n"
    (line,) = found_in(read, rows, text)
    assert told in line


def test_rows_can_be_read_without_a_design():
    rows, wrong = rows_of(GOOD)
    assert wrong == ()
    assert list(rows["sheets"]) == ["my ply"]
