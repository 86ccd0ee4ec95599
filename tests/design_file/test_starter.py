import pytest

from fitout import workflow
from fitout.catalogue import names
from fitout.design_file import cautions, read_text, starter
from fitout.modules.registry import KINDS


def with_its_vehicle(text):
    """The starter with the # before its vehicle taken away."""
    at = text.index("# vehicle:")
    block, _, rest = text[at:].partition("\n\n")
    taken_in = "\n".join(line.removeprefix("# ") for line in block.splitlines())
    return f"{text[:at]}{taken_in}\n\n{rest}"


AS_IT_STANDS = starter("van")
TAKEN_IN = with_its_vehicle(AS_IT_STANDS)
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
    vehicle = read(TAKEN_IN).vehicle
    assert vehicle is not None
    assert vehicle.wheelbase == 2850.0
    assert read(AS_IT_STANDS).vehicle is None


@pytest.mark.parametrize(("text", "codes"), [(AS_IT_STANDS, ()), (TAKEN_IN, ("trip mass",))])
def test_its_trip_gives_a_table_that_passes(text, codes):
    """Of the battery as it stands; of axles once its vehicle is taken in."""
    (report,) = workflow.trips(read_text(text, "van.yaml", SPECS, names()))
    assert report.passed
    assert len(report.days) == 3
    found = {finding.code for finding in report.findings}
    assert found >= {"trip battery", *codes}
