import dataclasses

import pytest

from fitout.design_file import validate
from fitout.model.fault import DesignError
from fitout.model.spec import Measured

SEAT = "{foot: 1064, leans: 17 deg, notches: [14 deg, 17 deg], top: 612}"
ARCHES = "{from: 318, to: 842, between: 968, height: 262}"
WHOLE_BAY = "boards:"
ITEM = "fridge: {size: 690 x 398 x 470, mass: 21 kg}"


@pytest.mark.parametrize(
    ("old", "new", "path", "found"),
    [
        ("1046 ± 2", "0", ("bay", "sections", 0, "widths", "0"), "0"),
        ("foot: 1064", "foot: -1064", ("bay", "seat_back", "foot"), "-1064"),
        ("{0: 1046 ± 2, 620: 1012}", "{}", ("bay", "sections", 0, "widths"), "no widths"),
        ("17 deg, n", "85 deg, n", ("bay", "seat_back", "leans"), "85 deg"),
        (
            "top: 612",
            "top: 4 m",
            ("bay", "seat_back", "leans"),
            "17 deg, which puts its top behind the sill",
        ),
        (", height: 262", "", ("bay", "wheel_arches"), "nothing for height"),
        (
            ARCHES,
            "{between: 968, profile: [[300, 0], [500, 900], [700, 0]]}",
            ("bay", "wheel_arches", "profile", 1),
            "an arch 900 high at 500, where the roof is at 857",
        ),
        (
            ARCHES,
            "{between: 968, profile: [[300, 0], [300, 90], [700, 0]]}",
            ("bay", "wheel_arches", "profile", 1),
            "300 after 300",
        ),
        (
            ARCHES,
            "{from: 318, to: 842, between: {left: 530, right: 540}, height: 262}",
            ("bay", "wheel_arches", "between"),
            "1070 between the arches, where the bay is at most 1064 wide",
        ),
        (
            WHOLE_BAY,
            "  opening: {lip: 800, height: 772, widths: {0: 1004}}\nboards:",
            ("bay", "opening", "height"),
            "an upper edge at 772, a lip of 800",
        ),
        (
            WHOLE_BAY,
            "  opening: {lip: -1, height: 772, widths: {}}\nboards:",
            ("bay", "opening", "lip"),
            "-1",
        ),
        (
            WHOLE_BAY,
            "  tailgate: {inner_face: {}}\nboards:",
            ("bay", "tailgate", "inner_face"),
            "no points",
        ),
        (
            WHOLE_BAY,
            "  keep_clear: [{name: jack, side: left, from: 300, to: 120, reach: 90, up_to: 210}]\n"
            "boards:",
            ("bay", "keep_clear", 0, "from"),
            "a place from 300 to 120",
        ),
        (
            WHOLE_BAY,
            "  keep_clear: [{name: jack, side: left, from: 120, to: 300, up_to: 210}]\nboards:",
            ("bay", "keep_clear", 0),
            "nothing for reach",
        ),
        (
            WHOLE_BAY,
            "  keep_clear: [{name: hatch, side: floor, from: 0, to: 300, up_to: 9}]\nboards:",
            ("bay", "keep_clear", 0),
            "a place on the floor with no edges",
        ),
        (
            WHOLE_BAY,
            "  keep_clear:\n"
            "  - {name: hatch, side: floor, from: 0, to: 3, left: -1, right: 1, up_to: 9}\nboards:",
            ("bay", "keep_clear", 0, "left"),
            "a left edge at -1, a right edge at 1",
        ),
        (
            WHOLE_BAY,
            "  anchors: [{name: eye, at: [1, 2]}, {name: eye, at: [1, -2]}]\nboards:",
            ("bay", "anchors", 1, "name"),
            "eye a second time",
        ),
        (
            WHOLE_BAY,
            "  trim: {walls: 600}\nboards:",
            ("bay", "trim", "walls"),
            "lining of 600 on each wall of a bay 1012 wide",
        ),
        ("  drawers:\n", "  a/b:\n", ("modules", "a/b"), "a/b"),
        ("  drawers:\n", "  Seat back:\n", ("modules", "Seat back"), "Seat back"),
        ("  drawers:\n", "  Fridge:\n", ("modules", "fridge"), "fridge and Fridge"),
        ("right_of: drawers", "right_of: fridge", ("modules", "fridge", "right_of"), "itself"),
        (
            "right_of: drawers",
            "behind: front_wall",
            ("modules", "fridge", "behind"),
            "front_wall",
        ),
        (
            ITEM,
            "fridge: {size: 1 x 1 x 1, mass: 1, lid: {hinge: left, opens: -9}}",
            ("items", "fridge", "lid", "opens"),
            "-9 deg",
        ),
    ],
)
def test_fault_of_meaning(read, whole, old, new, path, found):
    assert old in whole
    with pytest.raises(DesignError) as caught:
        read(whole.replace(old, new, 1))
    assert (path, found) in [(fault.path, fault.found) for fault in caught.value.faults]


@pytest.mark.parametrize("place", ["seat_back", "drawers", "drawers left"])
def test_places_to_stand_by(read, whole, place):
    design = read(whole.replace("right_of: drawers", f"behind: {place}", 1))
    assert design.modules["fridge"].behind == place


@pytest.mark.parametrize("relation", ["left_of: seat_back", "on: walls", "in_front_of: floor"])
def test_relations_that_say_nothing(read, whole, relation):
    with pytest.raises(DesignError, match="1 fault"):
        read(whole.replace("right_of: drawers", relation, 1))


def test_on_the_floor_is_on_nothing_else(read, whole):
    design = read(whole.replace("right_of: drawers", "on: floor", 1))
    assert design.modules["fridge"].on is None


def test_between_two_modules(read, whole):
    text = whole.replace("right_of: drawers", "between: [seat_back, drawers]", 1)
    assert read(text).modules["fridge"].between == ("seat_back", "drawers")
    with pytest.raises(DesignError) as caught:
        read(text.replace("[seat_back, drawers]", "[seat_back, fridge]", 1))
    (fault,) = caught.value.faults
    assert fault.path == ("modules", "fridge", "between", 1)
    assert fault.found == "itself"


def test_bay_without_sections(read, whole):
    lines = whole.splitlines(keepends=True)
    text = "".join([*lines[:3], "  sections: []\n", *lines[7:]])
    with pytest.raises(DesignError) as caught:
        read(text)
    assert [fault.found for fault in caught.value.faults] == ["no sections"]


def test_lining_above_and_below(read, whole):
    text = whole.replace("boards:", "  trim: {floor: 800, roof: 50}\nboards:", 1)
    with pytest.raises(DesignError) as caught:
        read(text)
    assert [fault.found for fault in caught.value.faults] == ["lining of 850 below a roof at 846"]


def test_places_without_height(read, whole):
    zone = "{name: jack, side: left, from: 1, to: 3, reach: 9, above: 50, up_to: 50}"
    with pytest.raises(DesignError) as caught:
        read(whole.replace("boards:", f"  keep_clear: [{zone}]\nboards:", 1))
    assert [fault.found for fault in caught.value.faults] == ["a place from 50 up to 50"]


def test_front_wall_instead_of_seat(read, whole):
    text = whole.replace(f"seat_back: {SEAT}", "front_wall: 1100", 1)
    assert read(text).bay.front_wall == Measured(1100.0)


def test_seat_back_left_blank_is_none(read, whole):
    text = whole.replace(f"seat_back: {SEAT}", "seat_back:\n  front_wall: 1100", 1)
    assert read(text).bay.seat_back is None


def test_meaning_is_judged_beside_other_faults(read, whole):
    text = whole.replace("at: 1040", "at: 0", 1).replace("top: 612", "top: 6 kg", 1)
    with pytest.raises(DesignError) as caught:
        read(text)
    assert [fault.found for fault in caught.value.faults] == [
        "6 kg (a mass)",
        "a second section at 0",
    ]


@pytest.mark.parametrize("lean", ["91 deg", "80 deg", "-95 deg"])
def test_a_lean_at_fault_puts_no_other_notch_at_fault(read, whole, lean):
    with pytest.raises(DesignError) as caught:
        read(whole.replace("leans: 17 deg, n", f"leans: {lean}, n", 1))
    assert [fault.path for fault in caught.value.faults] == [("bay", "seat_back", "leans")]


def test_no_guess_about_a_roof_that_was_not_read(read, whole):
    text = whole.replace("roof: 868", "roof: high", 1).replace("height: 262", "height: 2 m", 1)
    with pytest.raises(DesignError) as caught:
        read(text)
    assert [fault.found for fault in caught.value.faults] == ["high"]


def test_sections_may_stand_in_any_order(read, whole):
    lines = whole.splitlines(keepends=True)
    lines[4], lines[5] = lines[5], lines[4]
    assert len(read("".join(lines)).bay.sections) == 2


def test_changed_design_is_validated_at_its_sources(read, whole):
    design = read(whole)
    seat = dataclasses.replace(design.bay.seat_back, foot=Measured(1064.0, 0.0))
    changed = dataclasses.replace(design, bay=dataclasses.replace(design.bay, seat_back=seat))
    assert validate(design) == ()
    (fault,) = validate(changed)
    assert (fault.line, fault.column) == design.sources["bay", "seat_back", "foot"]
    bare = dataclasses.replace(changed, sources={})
    assert [f.line for f in validate(bare)] == [None]
