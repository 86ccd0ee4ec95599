"""The export folder as a builder asks for it."""

import json
from pathlib import Path

from fitout import cli


def test_build_writes_where_it_is_told(van, here, capsys):
    assert cli.main(["build", van, "--out", "out/there", "--json"]) == 0
    assert (here / "out" / "there" / "cutlist.csv").is_file()
    assert not (here / "exports").exists()
    told = json.loads(capsys.readouterr().out)
    assert told["passed"] is True
    assert told["folder"] == str(Path("out/there"))
    folder = here / told["folder"]
    there = {p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file()}
    assert set(told["files"]) == there


def test_a_machine_reads_why_nothing_was_written(failing, here, capsys):
    assert cli.main(["build", failing, "--json"]) == 1
    told = json.loads(capsys.readouterr().out)
    assert (told["passed"], told["folder"], told["files"]) == (False, None, [])
    assert "slide load" in {f["code"] for f in told["findings"] if f["severity"] == "fail"}


def test_build_refuses_a_failing_design_in_plain_words(failing, here, capsys):
    assert cli.main(["build", failing]) == 1
    printed = capsys.readouterr()
    assert printed.out == ""
    assert "nothing is written" in printed.err
    assert "drawers/drawer 2" in printed.err
    assert max(map(len, printed.err.splitlines())) <= 80
    assert not (here / "exports").exists()
