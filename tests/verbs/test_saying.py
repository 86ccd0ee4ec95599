"""What is printed where, and how wide."""

import sys

import pytest
from running import run

from fitout import cli
from fitout.design_file import starter
from fitout.verbs import saying


def test_nothing_printed_by_check_is_wider_than_a_console(van, failing, here, capsys):
    long = "Two weeks " * 15
    (here / "long.yaml").write_text(starter(long.strip()), encoding="utf-8")
    for file in (van, failing, "long.yaml"):
        cli.main(["check", file])
        wide = [line for line in capsys.readouterr().out.splitlines() if len(line) > 80]
        assert wide == []


def test_entries_to_paste_are_printed_one_a_line_and_whole(here, capsys):
    anchor = "    - {name: left rear eye, at: [120, 430], thread: M8, below: clear}\n"
    text = starter("Van").replace(anchor, "").replace("  drawers:\n", "  long-drawer-box:\n", 1)
    (here / "van.yaml").write_text(text, encoding="utf-8")
    assert cli.main(["check", "van.yaml"]) == 1
    lines = capsys.readouterr().out.splitlines()
    entries = [line for line in lines if "{name:" in line]
    assert len(entries) == 1
    assert entries[0].startswith("          - {name: long-drawer-box 1, at: [")
    assert entries[0].endswith("], below: unknown}")


def test_at_a_terminal_what_takes_long_says_what_is_checked(van, capsys, monkeypatch):
    monkeypatch.setattr(saying, "PATIENCE_S", -1.0)
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True, raising=False)
    assert cli.main(["check", van]) == saying.PASSED
    told = capsys.readouterr().err
    assert "fitout: checking going in …" in told
    assert told.endswith("\r")
    assert told.split("\r")[-2].strip() == ""


def test_a_pipe_hears_of_no_progress(van, capsys, monkeypatch):
    monkeypatch.setattr(saying, "PATIENCE_S", -1.0)
    cli.main(["check", van])
    assert capsys.readouterr().err == ""


@pytest.mark.parametrize(
    "environment",
    [
        {"LC_ALL": "C", "LANG": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
        {"PYTHONIOENCODING": "cp1252"},
        {"PYTHONIOENCODING": "ascii"},
    ],
    ids=["C locale", "cp1252", "ascii"],
)
def test_a_console_without_the_signs_still_gets_every_finding(failing, here, environment):
    shown = run("check", failing, cwd=here, **environment)
    assert shown.returncode == 1
    assert b"Traceback" not in shown.stderr
    assert b"FAIL      slide load: drawers/drawer 2" in shown.stdout
    built = run("build", failing, cwd=here, **environment)
    assert built.returncode == 1
    assert b"Traceback" not in built.stderr
