"""Every finding, for a reader and for a program."""

import json
import re

import pytest
from running import run

from fitout import cli

SEVERITIES = {"pass", "caution", "fail", "unchecked"}
COUNTS = {"panels", "pass", "caution", "fail", "unchecked"}
MASSES = {"panels_kg", "bars_kg", "items_kg", "hardware_kg", "empty_kg", "contents_kg", "laden_kg"}


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


def test_short_leaves_out_what_passes_and_nothing_else(failing, capsys):
    assert cli.main(["check", failing]) == 1
    blocks = re.split(r"\n(?=\S)", capsys.readouterr().out)
    assert cli.main(["check", failing, "--short"]) == 1
    short = re.split(r"\n(?=\S)", capsys.readouterr().out)
    kept = [block for block in blocks if not block.startswith("pass ")]
    assert [block.strip() for block in short] == [block.strip() for block in kept]
    assert len(short) < len(blocks) / 2


def test_short_is_not_for_a_program_that_reads_all(van, capsys):
    assert cli.main(["check", van, "--short", "--json"]) == 2
    assert capsys.readouterr().err == "fitout: --json prints every finding; leave --short out.\n"


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


def test_json_through_a_narrow_pipe_keeps_every_letter(van, here):
    printed = run("check", van, "--json", cwd=here, PYTHONIOENCODING="cp1252")
    whole = json.loads(printed.stdout.decode("ascii"))
    assert any("×" in f["sentence"] for f in whole["findings"])
