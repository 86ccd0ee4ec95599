"""`fitout survey` from the command line: what it says, its exit codes, what it loads.

A case is `tests/golden/survey/NAME.yaml`, its comment saying why; `NAME.expected` holds the
exit code and what is said between the table and what to measure next.
"""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from fitout import cli

ROOT = Path(__file__).resolve().parent.parent
CASES = sorted(path.stem for path in (ROOT / "tests" / "golden" / "survey").glob("*.yaml"))
DESIGNS = sorted((ROOT / "designs").glob("*.yaml"))


def said(out: str) -> str:
    """What stands between the table and what to measure next."""
    return out.split("\n\n")[2]


@pytest.mark.parametrize("name", CASES)
def test_what_is_said_is_as_expected(name, same_as, capsys):
    path = ROOT / "tests" / "golden" / "survey" / f"{name}.yaml"
    code = cli.main(["survey", str(path)])
    out = capsys.readouterr().out
    same_as(path.with_suffix(".expected"), f"exit {code}\n{said(out)}")
    assert "\nMeasure next\n1. " in out
    assert max(len(line) for line in out.splitlines()) <= 80


@pytest.mark.parametrize("path", DESIGNS, ids=lambda path: path.stem)
def test_the_designs_are_consistent_and_say_three_things_to_measure(path, capsys):
    assert cli.main(["survey", str(path)]) == cli.PASSED
    text = capsys.readouterr().out
    assert max(len(line) for line in text.splitlines()) <= 80
    assert [n for n in "1234" if f"\n{n}. Measure" in text] == ["1", "2", "3"]
    assert cli.main(["survey", str(path), "--json"]) == cli.PASSED
    data = json.loads(capsys.readouterr().out)
    assert data["consistent"] is True
    assert len(data["measured"]) > 30
    assert len(data["measure_next"]) == 3
    assert all(row["remark"] for row in data["measured"])


def test_a_file_at_fault(tmp_path, capsys):
    path = tmp_path / "car.yaml"
    text = (ROOT / "tests" / "golden" / "survey" / "two units.yaml").read_text(encoding="utf-8")
    path.write_text(text.replace("across: [500, 400]", "across: [5000, 400]"), encoding="utf-8")
    assert cli.main(["survey", str(path)]) == cli.FAULTY
    assert "car.yaml:13:18: found 5000 forward" in capsys.readouterr().err


def test_nothing_heavy_is_loaded():
    script = (
        "import sys; from fitout import cli; cli.main(['survey', sys.argv[1]]); "
        "print([m for m in ('cadquery', 'ezdxf', 'reportlab', 'scipy') if m in sys.modules])"
    )
    ended = subprocess.run(
        [sys.executable, "-c", script, str(DESIGNS[0])],
        cwd=ROOT,
        env={**os.environ, "PYTHONIOENCODING": "utf-8"},
        capture_output=True,
        check=True,
        encoding="utf-8",
    )
    assert ended.stdout.splitlines()[-1] == "[]"


def test_a_sheet_for_a_design_or_a_kind_of_body(tmp_path, capsys):
    target = tmp_path / "sheet.pdf"
    assert cli.main(["survey", str(DESIGNS[0]), "--sheet", str(target)]) == cli.PASSED
    of_design = target.read_bytes()
    assert of_design.startswith(b"%PDF-")
    assert cli.main(["survey", "--body", "tub", "--sheet", str(target)]) == cli.PASSED
    assert target.read_bytes() != of_design
    assert "Print it on A4" in capsys.readouterr().out


def test_a_sheet_that_can_not_be_written(tmp_path, capsys):
    target = tmp_path / "missing" / "sheet.pdf"
    assert cli.main(["survey", "--body", "wagon", "--sheet", str(target)]) == cli.FAILED
    assert "nothing was written" in capsys.readouterr().err


@pytest.mark.parametrize("arguments", [[], ["--body", "hatch"], ["--sheet", "x.pdf"]])
def test_a_survey_of_nothing(arguments, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert cli.main(["survey", *arguments]) == cli.FAULTY
    assert "needs a design" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []
