"""What is printed where, and how wide."""

import os
import re
import subprocess
import sys
import time

import pytest
from running import ROOT, run

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
    assert "fitout: checking going in … " in told
    assert max(map(len, told.split("\r"))) < saying.WIDTH
    assert told.endswith("\r")
    assert told.split("\r")[-2].strip() == ""


def test_one_long_step_is_no_silence(capsys, monkeypatch):
    monkeypatch.setattr(saying, "PATIENCE_S", 0.02)
    monkeypatch.setattr(saying, "BLINK_S", 0.01)
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True, raising=False)
    with saying.Progress() as progress:
        progress.tell("a long name " * 20)
        time.sleep(0.2)
    told = capsys.readouterr().err
    assert told.count("fitout: a long name") >= 2
    assert max(map(len, told.split("\r"))) < saying.WIDTH


@pytest.mark.parametrize("verb", ["check", "survey", "trip"])
def test_a_pipe_hears_of_no_progress(verb, van, capsys, monkeypatch):
    monkeypatch.setattr(saying, "PATIENCE_S", -1.0)
    cli.main([verb, van])
    assert "…" not in capsys.readouterr().err


def at_a_terminal(*arguments, cwd, **environment):
    """What a terminal is shown: output and errors through a pseudo terminal."""
    pty = pytest.importorskip("pty", reason="needs a pseudo terminal")
    inner, outer = pty.openpty()
    kept = {k: v for k, v in os.environ.items() if k not in ("NO_COLOR", "FORCE_COLOR", "TERM")}
    env = {**kept, "PYTHONPATH": str(ROOT), "TERM": "xterm", **environment}
    command = [sys.executable, "-m", "fitout", *arguments]
    with subprocess.Popen(command, cwd=cwd, env=env, stdout=outer, stderr=outer):
        os.close(outer)
        shown = b""
        while True:
            try:
                part = os.read(inner, 65536)
            except OSError:
                break
            if not part:
                break
            shown += part
    os.close(inner)
    return shown.decode("utf-8")


MARKED = re.compile("\x1b\\[([0-9;]+)m(FAIL|caution|unchecked|pass) +\x1b\\[0m")


def test_marks_are_coloured_at_a_terminal_alone(failing, here):
    shown = at_a_terminal("check", failing, cwd=here)
    colours = {mark: colour for colour, mark in MARKED.findall(shown)}
    assert colours == {"FAIL": "1;31", "caution": "33", "unchecked": "36", "pass": "32"}
    assert "\x1b[1;31mFailing: " in shown
    bare = re.sub("\x1b\\[[0-9;]+m", "", shown)
    piped = run("check", failing, cwd=here, NO_COLOR="", FORCE_COLOR="").stdout.decode()
    assert "\x1b" not in piped
    assert piped.splitlines()[-20:] == bare.replace("\r\n", "\n").splitlines()[-20:]


@pytest.mark.parametrize("asked", [{"NO_COLOR": "1"}, {"NO_COLOR": "1", "FORCE_COLOR": "1"},
                                   {"TERM": "dumb"}], ids=str)  # fmt: skip
def test_a_terminal_that_wants_no_colours_gets_none(asked, failing, here):
    assert "\x1b" not in at_a_terminal("check", failing, cwd=here, **asked)


def test_colours_can_be_asked_for_in_a_pipe(failing, here):
    assert b"\x1b[1;31mFAIL" in run("check", failing, cwd=here, NO_COLOR="", FORCE_COLOR="1").stdout


@pytest.mark.parametrize(
    "environment",
    [
        {"LC_ALL": "C", "LANG": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
        pytest.param({"PYTHONIOENCODING": "cp1252"}, marks=pytest.mark.thorough),
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
