"""`fitout` alone says what to do next, by what stands in the folder."""

import os

import pytest

from fitout import cli
from fitout.verbs.next_step import designs_in


def told(capsys):
    assert cli.main([]) == 0
    printed = capsys.readouterr().out
    assert max(map(len, printed.splitlines())) <= 80
    return printed


def commands(printed):
    return [line.split()[1] for line in printed.splitlines() if line.startswith("  fitout ")]


def test_in_an_empty_folder_it_begins_with_a_file_and_its_sheet(here, capsys):
    printed = told(capsys)
    assert commands(printed) == ["new", "survey"]
    assert "No design in this folder yet" in printed


def test_every_command_it_tells_can_be_run(here, van, capsys):
    first = told(capsys)
    (here / van).unlink()
    for printed in (first, told(capsys)):
        for line in printed.splitlines():
            if line.startswith("  fitout "):
                options = cli.parser().parse_args(line.split()[1:])
                assert options.run is not None


def test_beside_a_design_it_goes_on_to_checking_and_building(van, capsys):
    printed = told(capsys)
    assert printed.startswith("van.yaml is here, not built yet.")
    assert commands(printed) == ["survey", "survey", "check", "trip", "build"]


def test_once_built_it_opens_the_report_until_the_design_is_saved_again(van, here, capsys):
    export = here / "exports" / "van"
    export.mkdir(parents=True)
    (export / "report.html").write_text("", encoding="utf-8")
    os.utime(here / van, (1_000_000, 1_000_000))
    printed = told(capsys)
    assert "  open exports/van/report.html in a browser" in printed
    assert commands(printed) == ["compare"]
    os.utime(export / "report.html", (999_000, 999_000))
    printed = told(capsys)
    assert "saved again since it was built" in printed
    assert commands(printed)[-1] == "build"


def test_of_several_designs_the_one_saved_last_is_meant(van, here, capsys):
    (here / "a long name of an older design.yml").write_text("fitout: 1\n", encoding="utf-8")
    os.utime(here / "a long name of an older design.yml", (1_000_000, 1_000_000))
    printed = told(capsys)
    assert " ".join(printed.split()).startswith("van.yaml is here (saved last of 2 designs),")


@pytest.mark.parametrize("text", ["sheets: {}\n", "# fitout: 1\n", "", " fitout: 1\n"])
def test_other_yaml_is_no_design(text, here):
    (here / "other.yaml").write_text(text, encoding="utf-8")
    assert designs_in(here) == ()


def test_a_byte_order_mark_and_a_comment_before_are_let_pass(here):
    (here / "van.yaml").write_bytes(b"\xef\xbb\xbffitout: 1\n")
    (here / "two.yaml").write_text("# mine\nfitout: 1\n", encoding="utf-8")
    assert {path.name for path in designs_in(here)} == {"van.yaml", "two.yaml"}
