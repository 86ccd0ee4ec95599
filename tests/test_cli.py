"""The command line as a builder meets it: verbs, exit codes, what is printed where."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from fitout import __version__, cli, workflow
from fitout.design_file import starter

ROOT = Path(__file__).resolve().parent.parent
SEVERITIES = {"pass", "caution", "fail", "unchecked"}
COUNTS = {"panels", "pass", "caution", "fail", "unchecked"}
MASSES = {"panels_kg", "bars_kg", "items_kg", "hardware_kg", "empty_kg", "contents_kg", "laden_kg"}


@pytest.fixture
def here(tmp_path, monkeypatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def van(here) -> str:
    """The starter design, which passes."""
    (here / "van.yaml").write_text(starter("Van"), encoding="utf-8")
    return "van.yaml"


@pytest.fixture
def failing(here) -> str:
    """The starter design with a drawer that is to carry far too much."""
    text = starter("Van").replace("carries: 18 kg", "carries: 400 kg")
    (here / "heavy.yaml").write_text(text, encoding="utf-8")
    return "heavy.yaml"


@pytest.fixture
def faulty(here) -> str:
    (here / "faulty.yaml").write_text("fitout: 1\nname: x\nbay: 7\nmodules: {}\n", encoding="utf-8")
    return "faulty.yaml"


def run(*arguments: str, cwd: Path, **environment: str) -> subprocess.CompletedProcess[bytes]:
    """The program in a process of its own."""
    env = {**os.environ, "PYTHONPATH": str(ROOT), **environment}
    command = [sys.executable, "-m", "fitout", *arguments]
    return subprocess.run(command, cwd=cwd, env=env, capture_output=True, check=False)


def test_check_of_a_design_that_passes(van, capsys):
    assert cli.main(["check", van]) == 0
    printed = capsys.readouterr()
    assert printed.err == ""
    assert printed.out.startswith("Van\n")
    assert "\nNothing fails; passing: " in printed.out
    assert "This is no approval" in printed.out


def test_check_says_first_what_fails(failing, capsys):
    assert cli.main(["check", failing]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert lines[2].startswith("FAIL      ")
    assert any(line.startswith("FAIL      slide load: drawers/drawer 2 ") for line in lines)
    marks = [line.split()[0] for line in lines[2:-3] if line and not line.startswith(" ")]
    order = ["FAIL", "caution", "unchecked", "pass"]
    assert marks == sorted(marks, key=order.index)
    assert lines[-2].startswith(f"Failing: {marks.count('FAIL')}; passing: {marks.count('pass')};")


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


def test_json_is_the_documented_object(failing, capsys):
    assert cli.main(["check", failing, "--json"]) == 1
    whole = json.loads(capsys.readouterr().out)
    assert list(whole) == [
        "design", "passed", "findings", "totals",
        "motions", "order", "ledger", "vehicle", "fixings",
    ]  # fmt: skip
    assert whole["design"] == "Van"
    assert whole["passed"] is False
    assert len(whole["findings"]) > 20
    for finding in whole["findings"]:
        # A mass says how sure it is; a gap also how likely it is there once everything is made.
        assert set(finding) - {"u", "probability"} == {
            "code", "severity", "where", "value", "limit", "unit", "margin", "source", "sentence",
        }  # fmt: skip
        assert "u" in finding or "probability" not in finding
        assert 0.0 <= finding.get("probability", 0.5) <= 1.0
        assert finding["severity"] in SEVERITIES
        for key in ("code", "where", "source", "sentence"):
            assert isinstance(finding[key], str)
            assert finding[key]
        assert isinstance(finding["unit"], str)
        for key in ("value", "limit", "margin"):
            assert finding[key] is None or isinstance(finding[key], int | float)
    totals = whole["totals"]
    assert {*COUNTS, *MASSES, "centre_of_gravity_mm"} <= set(totals)
    for severity in SEVERITIES:
        found = [f for f in whole["findings"] if f["severity"] == severity]
        assert totals[severity] == len(found)
    assert len(totals["centre_of_gravity_mm"]) == 3


def test_json_margin_is_negative_exactly_where_a_limit_is_broken(failing, capsys):
    cli.main(["check", failing, "--json"])
    judged = [f for f in json.loads(capsys.readouterr().out)["findings"] if f["margin"] is not None]
    assert judged
    for finding in judged:
        broken = finding["margin"] < -1e-3
        # Some limits are our own proposals: what breaks them is a caution, never a pass.
        assert finding["severity"] in (("fail", "caution") if broken else ("pass", "caution"))
        assert abs(finding["value"] - finding["limit"]) == pytest.approx(abs(finding["margin"]))


def test_json_of_a_passing_design(van, capsys):
    assert cli.main(["check", van, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["passed"] is True


def test_new_writes_a_design_that_checks_and_builds_as_it_is(here, capsys):
    assert cli.main(["new", "Weekend van"]) == 0
    assert "fitout check Weekend-van.yaml" in capsys.readouterr().out
    assert cli.main(["check", "Weekend-van.yaml"]) == 0
    assert cli.main(["build", "Weekend-van.yaml"]) == 0
    printed = capsys.readouterr()
    assert "Wrote exports" in printed.out
    told = [line for line in printed.err.splitlines() if "so far" not in line]
    assert [line[:2] for line in told] == ["… "] * 4
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


def test_build_writes_where_it_is_told(van, here, capsys):
    assert cli.main(["build", van, "--out", "out/there"]) == 0
    assert (here / "out" / "there" / "cutlist.csv").is_file()
    assert not (here / "exports").exists()
    assert f"Wrote {Path('out/there')}: " in capsys.readouterr().out


def test_build_refuses_a_failing_design_in_plain_words(failing, here, capsys):
    assert cli.main(["build", failing]) == 1
    printed = capsys.readouterr()
    assert printed.out == ""
    assert "nothing is written" in printed.err
    assert "drawers/drawer 2" in printed.err
    assert max(map(len, printed.err.splitlines())) <= 80
    assert not (here / "exports").exists()


@pytest.mark.parametrize("arguments", [[], ["fly"], ["check"], ["build", "x", "--where", "y"]])
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


def test_json_through_a_narrow_pipe_keeps_every_letter(van, here):
    printed = run("check", van, "--json", cwd=here, PYTHONIOENCODING="cp1252")
    whole = json.loads(printed.stdout.decode("ascii"))
    assert any("×" in f["sentence"] for f in whole["findings"])


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


def test_at_a_terminal_what_takes_long_says_what_is_checked(van, capsys, monkeypatch):
    monkeypatch.setattr(cli, "PATIENCE_S", -1.0)
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True, raising=False)
    assert cli.main(["check", van]) == cli.PASSED
    told = capsys.readouterr().err
    assert "fitout: checking going in …" in told
    assert told.endswith("\r")
    assert told.split("\r")[-2].strip() == ""


def test_a_pipe_hears_of_no_progress(van, capsys, monkeypatch):
    monkeypatch.setattr(cli, "PATIENCE_S", -1.0)
    cli.main(["check", van])
    assert capsys.readouterr().err == ""
