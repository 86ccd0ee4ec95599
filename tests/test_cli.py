"""The command line as a builder meets it: verbs, exit codes, what is printed where."""

import json
import os
import subprocess
import sys

import pytest
from running import ROOT

from fitout import __version__, cli, workflow
from fitout.design_file import starter


def test_a_faulty_file_is_told_apart_from_a_failing_design(faulty, capsys):
    assert cli.main(["check", faulty]) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert printed.err.startswith("faulty.yaml:3:6: found 7; expected ")
    assert "\n  bay: 7\n       ^\n" in printed.err


@pytest.mark.parametrize("arguments", [["check", "--json"], ["check"], ["build"]])
def test_every_verb_reports_a_missing_file(here, arguments, capsys):
    assert cli.main([*arguments, "nowhere.yaml"]) == 2
    printed = capsys.readouterr()
    if "--json" in arguments:
        told = json.loads(printed.out)
        assert told["passed"] is False
        assert [fault["found"] for fault in told["faults"]] == ["no such file"]
    else:
        assert printed.out == ""
    assert "nowhere.yaml: found no such file" in printed.err


@pytest.mark.parametrize("arguments", [["fly"], ["check"], ["build", "x", "--where", "y"]])
def test_a_wrong_command_shows_how_it_goes(arguments, capsys):
    with pytest.raises(SystemExit) as ended:
        cli.main(arguments)
    assert ended.value.code == 2
    assert "usage: fitout" in capsys.readouterr().err


def test_version_and_help(capsys):
    for option in ("--version", "--help"):
        with pytest.raises(SystemExit) as ended:
            cli.main([option])
        assert ended.value.code == 0
    printed = capsys.readouterr().out
    assert f"fitout {__version__}" in printed
    for verb in ("new", "check", "build"):
        assert f"\n    {verb}" in printed


def test_a_reader_that_has_seen_enough_is_no_fault(van, here):
    # The reading end is closed before the program writes, as a pager that was left does.
    reader, writer = os.pipe()
    os.close(reader)
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-m", "fitout", "check", van]
    ended = subprocess.run(
        command, cwd=here, env=env, stdout=writer, stderr=subprocess.PIPE, check=False
    )
    os.close(writer)
    assert ended.stderr == b""
    assert ended.returncode == cli.UNHEARD


def test_stopping_it_ends_quietly(van, monkeypatch, capsys):
    def stop(*_, **__):
        raise KeyboardInterrupt

    monkeypatch.setattr(workflow, "evaluate", stop)
    assert cli.main(["check", van]) == cli.STOPPED
    assert capsys.readouterr().err == "fitout: stopped.\n"


def test_a_design_with_byte_order_mark_and_windows_line_ends(here, capsys):
    text = starter("Van").replace("\n", "\r\n")
    (here / "dos.yaml").write_bytes(b"\xef\xbb\xbf" + text.encode())
    assert cli.main(["check", "dos.yaml"]) == 0
