"""A starter design is written once, under a name that can be a file."""

import pytest

from fitout import cli, workflow


def test_new_writes_a_design_that_checks_and_builds_as_it_is(here, capsys):
    assert cli.main(["new", "Weekend van"]) == 0
    assert "fitout check Weekend-van.yaml" in capsys.readouterr().out
    assert cli.main(["check", "Weekend-van.yaml"]) == 0
    assert cli.main(["build", "Weekend-van.yaml"]) == 0
    printed = capsys.readouterr()
    assert "Wrote exports" in printed.out
    told = [line for line in printed.err.splitlines() if "so far" not in line]
    assert told
    assert {line[:2] for line in told} == {"… "}
    folder = here / "exports" / "Weekend-van"
    for name in ("cutlist.csv", "hardware.csv", "nesting.csv", "findings.json", "assembly.step"):
        assert (folder / name).stat().st_size > 0
    assert list((folder / "parts").glob("*.dxf"))
    assert list((folder / "sheets").glob("*.dxf"))


@pytest.mark.parametrize(
    ("name", "file"),
    [("4x4: the big one", "4x4--the-big-one.yaml"), ("  van ", "van.yaml"), ("?!", "design.yaml")],
)
def test_new_turns_any_name_into_a_file_name(here, name, file, capsys):
    assert cli.main(["new", name]) == 0
    assert (here / file).is_file()
    assert cli.main(["check", file]) == 0


@pytest.mark.parametrize("name", ["car.yaml", "car.yml", " car.YAML "])
def test_new_takes_the_name_of_a_file_for_the_name(here, name, capsys):
    assert cli.main(["new", name]) == 0
    assert "fitout check car.yaml" in capsys.readouterr().out
    assert [p.name for p in here.iterdir()] == ["car.yaml"]
    assert workflow.load("car.yaml").name == "car"


@pytest.mark.parametrize("name", ["cars/van", "../van", "/van.yaml", "cars\\van"])
def test_new_wants_a_name_and_no_path(here, name, capsys):
    assert cli.main(["new", name]) == 1
    assert "is a name, not a path; nothing was written." in capsys.readouterr().err
    assert list(here.iterdir()) == []


def test_new_never_overwrites(van, here, capsys):
    before = (here / van).read_bytes()
    assert cli.main(["new", "van"]) == 1
    assert "van.yaml is there already; nothing was written." in capsys.readouterr().err
    assert (here / van).read_bytes() == before


@pytest.mark.parametrize("name", ["", "   ", "two\nlines", ".yaml"])
def test_new_wants_a_name_of_one_line(here, name, capsys):
    assert cli.main(["new", name]) == 1
    assert "one line of text; nothing was written." in capsys.readouterr().err
    assert list(here.iterdir()) == []
