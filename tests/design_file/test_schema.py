import json
from importlib import resources

import jsonschema
import pytest

from fitout.design_file import schema, starter
from fitout.design_file.nodes import parse
from fitout.design_file.scalars import plain
from fitout.design_file.schema import schema_text
from fitout.modules.registry import KINDS


def as_json(text):
    root, faults = parse(text)
    assert faults == ()
    return plain(root)


@pytest.fixture(scope="module")
def validator(specs):
    return jsonschema.Draft202012Validator(schema(specs))


def test_shipped_schema_is_current():
    shipped = resources.files("fitout.design_file").joinpath("design.schema.json")
    today = schema_text({kind.kind: kind.spec for kind in KINDS})
    assert shipped.read_text(encoding="utf-8") == today, "run python -m fitout.design_file"


def test_is_a_schema(specs):
    jsonschema.Draft202012Validator.check_schema(schema(specs))


def test_accepts_what_the_reader_accepts(validator, whole):
    assert [error.message for error in validator.iter_errors(as_json(whole))] == []


def test_starter_fits_the_shipped_schema():
    shipped = resources.files("fitout.design_file").joinpath("design.schema.json")
    shipped_schema = json.loads(shipped.read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator(shipped_schema).validate(as_json(starter("van")))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("fitout: 1", "fitout: 2"),
        ("name: Weekday car", "nam: Weekday car"),
        ("at: 1040, ", ""),
        ("roof: 868", "roof: high"),
        ("height: 262", "height: [262]"),
        ("carcass:", "carcase:"),
        ("measured: 11.8", "measured: -1"),
        ("kind: drawers", "kind: draws"),
        ("carries: 45 kg", "carry: 45 kg"),
        ("item: fridge", "tilt: 3"),
        ("{0: 1064, 620: 1024}", "[1064, 1024]"),
    ],
)
def test_refuses(validator, whole, old, new):
    assert old in whole
    assert not validator.is_valid(as_json(whole.replace(old, new, 1)))


def test_editors_are_told_what_entries_mean(specs):
    made = schema(specs)
    roof = made["$defs"]["SectionSpec"]["properties"]["roof"]
    assert roof["description"] == "height of the roof lining above the floor, for example 846"
    gap = made["$defs"]["module drawers"]["properties"]["rear_gap"]
    assert gap["description"] == "room behind the fronts (8 if left out)"
    width = made["$defs"]["module drawers"]["properties"]["width"]
    assert {"const": "fit"} in width["anyOf"]
