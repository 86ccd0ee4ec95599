import pytest

from fitout.catalogue import names
from fitout.design_file import cautions, read_text, starter
from fitout.modules.registry import KINDS

SPECS = {kind.kind: kind.spec for kind in KINDS}


@pytest.mark.parametrize(
    "name", ["van", "Two-week tourer", '4x4: the "big" one', "null", "Ümit's #2"]
)
def test_starter_reads_without_a_doubt(name):
    design = read_text(starter(name), "van.yaml", SPECS, names())
    assert design.name == name
    assert cautions(design) == ()
    assert design.modules


def test_starter_explains_every_group_of_entries():
    lines = starter("van").splitlines()
    for number, line in enumerate(lines):
        if line and not line.startswith((" ", "#")):
            assert "#" in line or lines[number - 1].startswith("#") or line.startswith("name")


@pytest.mark.parametrize("name", ["", "  ", "two\nlines"])
def test_name_is_one_line(name):
    with pytest.raises(ValueError, match="one line"):
        starter(name)


def test_its_vehicle_can_be_taken_in_as_it_stands(read):
    text = starter("van")
    at = text.index("# vehicle:")
    block, _, rest = text[at:].partition("\n\n")
    taken_in = "\n".join(line.removeprefix("# ") for line in block.splitlines())
    vehicle = read(f"{text[:at]}{taken_in}\n\n{rest}").vehicle
    assert vehicle is not None
    assert vehicle.wheelbase == 2850.0
    assert read(text).vehicle is None
