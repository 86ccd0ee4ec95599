import pytest

from fitout.design_file.nodes import parse
from fitout.design_file.scalars import plain
from fitout.model.design import BoardSpec, Sides
from fitout.model.fault import DesignError
from fitout.model.spec import Measured, Size


def faults(read, text):
    with pytest.raises(DesignError) as caught:
        read(text)
    return caught.value.faults


def change(whole, old, new):
    assert whole.count(old) >= 1
    return whole.replace(old, new, 1)


def test_whole_design(read, whole):
    design = read(whole)
    assert design.name == "Weekday car"
    assert design.file == "van.yaml"
    assert design.bay.sections[0].widths == {0.0: Measured(1046.0, 2.0), 620.0: Measured(1012.0)}
    assert design.bay.wheel_arches.start == Measured(318.0)
    assert design.bay.seat_back.notches == (14.0, 17.0)
    assert design.bay.trim.walls == 0.0
    assert design.boards == {"carcass": BoardSpec(sheet="birch ply 12", measured=11.8)}
    assert design.items["fridge"].size == Size(690.0, 398.0, 470.0)
    assert list(design.modules) == ["drawers", "fridge"]
    assert design.modules["drawers"].stack[0].carries == 45.0
    assert design.modules["fridge"].right_of == "drawers"
    assert design.catalogue == {}


def test_sources_point_at_values(read, whole):
    design = read(whole)
    lines = whole.splitlines()
    for path, starts in {
        ("bay", "sections", 1, "roof"): "868",
        ("bay", "sections", 0, "widths", "620"): "1012",
        ("bay", "wheel_arches", "from"): "318",
        ("modules", "drawers", "stack", 0, "carries"): "45 kg",
        ("modules", "fridge"): "{kind",
    }.items():
        line, column = design.sources[path]
        assert lines[line - 1][column - 1 :].startswith(starts)


def test_heights_are_found_as_written_and_in_mm(read, whole):
    design = read(change(whole, "620: 1012", "24 in: 1012"))
    assert 609.6 in design.bay.sections[0].widths
    path = ("bay", "sections", 0, "widths")
    assert design.sources[*path, "24 in"] == design.sources[*path, "609.6"]


def test_same_height_written_otherwise(read, whole):
    (fault,) = faults(read, change(whole, "620: 1012", "0.0: 1012"))
    assert fault.found == "0.0 a second time"


def test_sides_measured_apart(read, whole):
    design = read(change(whole, "1012", "{left: 500, right: 51 cm}"))
    sides = design.bay.sections[0].widths[620.0]
    assert sides == Sides(left=Measured(500.0), right=Measured(510.0))


def test_board_by_name_alone(read, whole):
    design = read(change(whole, "{sheet: birch ply 12, measured: 11.8}", "birch ply 15"))
    assert design.boards["carcass"] == BoardSpec(sheet="birch ply 15")


def test_design_may_add_catalogue_rows(read, whole):
    text = change(whole, "birch ply 12", "poplar ply 10")
    assert "poplar" in faults(read, text)[0].found
    added = "catalogue: {sheets: {poplar ply 10: {like: birch ply 12, thickness: 10.1}}}\n"
    design = read(text + added)
    assert design.catalogue == {
        "sheets": {"poplar ply 10": {"like": "birch ply 12", "thickness": 10.1}}
    }


@pytest.mark.parametrize(
    ("word", "value"), [("yes", True), ("true", True), ("No", False), ("FALSE", False)]
)
def test_yes_and_no(read, whole, word, value):
    design = read(change(whole, "kind: drawers", f"kind: drawers\n    removable: {word}"))
    assert design.modules["drawers"].removable is value


@pytest.mark.parametrize("left_out", ["fit", "", "~", "null"])
def test_size_left_to_be_worked_out(read, whole, left_out):
    design = read(change(whole, "kind: drawers", f"kind: drawers\n    width: {left_out}"))
    assert design.modules["drawers"].width is None


def test_fit_means_nothing_outside_modules(read, whole):
    (fault,) = faults(read, change(whole, "measured: 11.8", "measured: fit"))
    assert fault.expected.startswith("a length above 0")


def test_empty_entry_takes_its_default(read, whole):
    design = read(change(whole, "kind: drawers", "kind: drawers\n    rear_gap:"))
    assert design.modules["drawers"].rear_gap == 8.0
    assert read(whole + "cutting:\nclearances: {wall: 4}\n").clearances.wall == 4.0


def test_number_or_word(read, whole):
    design = read(change(whole, "right_of: drawers", "tilt: 12 deg"))
    assert design.modules["fridge"].tilt == 12.0
    (fault,) = faults(read, change(whole, "right_of: drawers", "tilt: nome"))
    assert fault.hint == "Did you mean none?"


def test_name_of_another_module(read, whole):
    assert read(change(whole, "right_of", "beside")).modules["fridge"].beside == "drawers"
    (fault,) = faults(read, change(whole, "right_of: drawers", "beside: drawer"))
    assert (fault.found, fault.hint) == ("drawer", "Did you mean drawers?")


def test_module_without_kind(read, whole):
    (fault,) = faults(read, change(whole, "    kind: drawers\n", ""))
    assert fault.found == "nothing for kind"
    assert fault.hint == "Did you mean drawers?"
    assert (fault.line, fault.column) == (14, 3)


def test_only_the_declared_spelling(read, whole):
    (fault,) = faults(read, change(whole, "carries: 45 kg", "front height: 140"))
    assert fault.found == "front height"
    assert fault.hint == "Did you mean front_height?"


def test_misspelled_entry_is_not_also_missing(read, whole):
    (fault,) = faults(read, change(whole, "mass: 21 kg", "mas: 21 kg"))
    assert fault.hint == "Did you mean mass?"


def test_names_of_a_broken_list_are_not_judged(read, whole):
    text = change(whole, "  fridge: {size: 690 x 398 x 470, mass: 21 kg}", "  - fridge")
    (fault,) = faults(read, text)
    assert fault.path == ("items",)


def test_other_version_is_all_that_is_said(read, whole):
    (fault,) = faults(read, change(whole, "fitout: 1", "fitout: 2") + "future: {a: 1}\n")
    assert fault.path == ("fitout",)


def test_empty_design_names_all_that_is_required(read):
    found = [fault.found for fault in faults(read, "{}\n")]
    assert found == [f"nothing for {key}" for key in ("fitout", "name", "bay", "modules")]


def test_text_alone_is_no_design(read):
    (fault,) = faults(read, "just words\n")
    assert fault.found == "just words"


def test_byte_order_mark_is_skipped(read, whole):
    assert read("\ufeff" + whole).sources == read(whole).sources


def test_windows_line_ends(read, whole):
    assert read(whole.replace("\n", "\r\n")).sources == read(whole).sources


def test_control_character_by_escape(read, whole):
    (fault,) = faults(read, change(whole, "Weekday car", '"a\\x07b"'))
    assert fault.found == "a?b"
    assert fault.expected == "one line of text"


def test_plain_values():
    root, _ = parse("{a: [1, 1.5, 1e999, true, yes, ~, '1'], b: {c: text}}")
    assert plain(root) == {"a": [1, 1.5, "1e999", True, "yes", None, "1"], "b": {"c": "text"}}


def test_the_beginning_of_a_word_is_enough_to_name_it(read, whole):
    (fault,) = faults(read, change(whole, "full extension 500", "heavy"))
    assert fault.hint == "Did you mean heavy locking?"
    (fault,) = faults(read, change(whole, "full extension 500", "full"))
    assert fault.hint == "Did you mean full extension 500 or full extension 700?"


@pytest.mark.parametrize(
    ("old", "new", "found", "hint", "column"),
    [
        ("height: 262}", "height: 262,5 ± 2}", "262,5 ± 2", "Write 262.5.", 60),
        ("between: 968,", "between: 958,5 mm +/- 2,", "958,5 mm +/- 2", "Write 958.5.", 47),
        ("0: 1046 ± 2,", "0: 1046,5 ± 2,", "1046,5 ± 2", "Write 1046.5.", 27),
        ("620: 1012}", "620: 958,5}", "958,5", "Write 958.5.", 42),
        ("foot: 1064,", "foot: 1,064,", "1,064", "Write 1064 or 1.064.", 21),
        ("size: 690 x", "size: 700 x 690,5 x", "700 x 690,5 x 398 x 470", "Write 690.5.", 18),
    ],
)
def test_a_decimal_comma_within_braces(read, whole, old, new, found, hint, column):
    """Told where the number begins, whatever follows it."""
    told = [f for f in faults(read, change(whole, old, new)) if f.expected == "a number"]
    assert [(f.found, f.hint, f.column) for f in told] == [(found, hint, column)]


def test_two_decimal_commas_within_braces(read, whole):
    text = change(whole, "leans: 17 deg,", "leans: 17,5 deg ± 0,5 deg,")
    assert [(f.found, f.hint) for f in faults(read, text)] == [
        ("17,5 deg ± 0", "Write 17.5."),
        ("5 deg ± 0,5 deg", "Write 0.5."),
    ]


def test_a_number_for_a_name_is_no_decimal_comma(read, whole):
    (fault,) = faults(read, change(whole, "height: 262}", "height: 262, 5: }"))
    assert fault.expected.startswith("one of between")
    (fault,) = faults(read, change(whole, "620: 1012}", "620: }"))
    assert fault.found == "nothing"
