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
from fitout.survey.bodies import BODIES
from fitout.verbs import saying
from fitout.verbs.survey import BODY_NAMES

ROOT = Path(__file__).resolve().parents[2]
CASES = sorted(path.stem for path in (ROOT / "tests" / "golden" / "survey").glob("*.yaml"))
DESIGNS = sorted((ROOT / "designs").glob("*.yaml"))


def said(out: str) -> str:
    """What stands between the table and what to measure next."""
    return out.split("\n\n")[2]


def test_every_body_has_a_sheet():
    assert tuple(BODIES) == BODY_NAMES


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
    assert cli.main(["survey", str(path)]) == saying.PASSED
    text = capsys.readouterr().out
    assert max(len(line) for line in text.splitlines()) <= 80
    assert [n for n in "1234" if f"\n{n}. Measure" in text] == ["1", "2", "3"]
    assert cli.main(["survey", str(path), "--json"]) == saying.PASSED
    data = json.loads(capsys.readouterr().out)
    assert data["consistent"] is True
    assert len(data["measured"]) > 30
    assert len(data["measure_next"]) == 3
    assert all(row["remark"] for row in data["measured"])


def test_gaps_come_least_sure_first(capsys):
    """The wagon's: eight printed, all as data, in the same words."""
    wagon = next(path for path in DESIGNS if path.stem == "touring-wagon")
    cli.main(["survey", str(wagon), "--json"])
    data = json.loads(capsys.readouterr().out)
    cli.main(["survey", str(wagon)])
    text = capsys.readouterr().out
    gaps = data["gaps"]
    assert data["gaps_left_out"] is None
    assert len(gaps) > 20
    chances = [gap["probability"] for gap in gaps]
    assert chances == sorted(chances)
    for gap in gaps:
        assert gap["worst"] <= gap["gap"] - gap["rss"] + 1e-3
        assert 1 <= len(gap["drivers"]) <= 3
        assert 0.0 < sum(driver["share"] for driver in gap["drivers"]) <= 1.0 + 1e-3
    table = text.split("\nbetween ")[1].split("Measure next")[0]
    shown = [gap["name"] for gap in gaps if f"\n{gap['name']} " in table]
    assert shown == [gap["name"] for gap in gaps[:8]]
    assert f"{len(gaps) - 8} more gaps are surer still" in table
    tank = [gap for gap in gaps if gap["name"].startswith("tank/tank – seat back")]
    assert [gap["drivers"][0]["name"] for gap in tank] == ["size of tank/tank"]


def test_what_gaps_hang_on_unchecked_is_told_and_is_no_contradiction(tmp_path, capsys):
    wagon = next(path for path in DESIGNS if path.stem == "touring-wagon")
    lines = wagon.read_text(encoding="utf-8").splitlines(keepends=True)
    path = tmp_path / "loose.yaml"
    loose = [line for line in lines if "rear top]" not in line]
    assert len(loose) == len(lines) - 1
    path.write_text("".join(loose), encoding="utf-8")
    assert cli.main(["survey", str(path)]) == saying.PASSED
    told = " ".join(capsys.readouterr().out.split())
    assert "fit if height of the wheel arches (line 17) is confirmed: it reads 262" in told
    cli.main(["survey", str(path), "--json"])
    found = json.loads(capsys.readouterr().out)["findings"]
    assert [(f["where"], f["severity"]) for f in found if f["code"] == "unconfirmed reading"] == [
        ("line 17", "caution")
    ]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (("depth: 1150", "depth: 9000"), "not everything finds room, so nothing is built"),
        (("kind: box, ", "kind: box, depth: 9000, "), "not everything finds room"),
    ],
)
def test_without_a_fit_out_there_are_no_gaps_and_it_says_so(change, words, tmp_path, capsys):
    tub = next(path for path in DESIGNS if path.stem == "canopy-tub")
    path = tmp_path / "collides.yaml"
    text = tub.read_text(encoding="utf-8")
    path.write_text(text.replace(*change).replace(", depth: 1190", ""), encoding="utf-8")
    cli.main(["survey", str(path)])
    told = capsys.readouterr().out
    assert words in " ".join(told.split())
    assert "\nbetween " not in told
    cli.main(["survey", str(path), "--json"])
    data = json.loads(capsys.readouterr().out)
    assert data["gaps"] == []
    assert words in data["gaps_left_out"]


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
    assert cli.main(["survey", str(DESIGNS[0]), "--sheet", str(target)]) == saying.PASSED
    of_design = target.read_bytes()
    assert of_design.startswith(b"%PDF-")
    assert cli.main(["survey", "--body", "tub", "--sheet", str(target)]) == saying.PASSED
    assert target.read_bytes() != of_design
    assert "Print it on A4" in capsys.readouterr().out


def test_a_sheet_that_can_not_be_written(tmp_path, capsys):
    target = tmp_path / "missing" / "sheet.pdf"
    assert cli.main(["survey", "--body", "wagon", "--sheet", str(target)]) == saying.FAILED
    assert "nothing was written" in capsys.readouterr().err


@pytest.mark.parametrize("arguments", [[], ["--body", "hatch"], ["--sheet", "x.pdf"]])
def test_a_survey_of_nothing(arguments, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert cli.main(["survey", *arguments]) == cli.FAULTY
    assert "needs a design" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_a_second_visit_as_data(capsys):
    path = ROOT / "tests" / "golden" / "survey" / "second visit.yaml"
    cli.main(["survey", str(path), "--json"])
    data = json.loads(capsys.readouterr().out)
    arches = [row for row in data["measured"] if row["name"] == "height of the wheel arches"]
    assert [(row["read"], row["on"], row["by"]) for row in arches] == [
        (262, "2026-11-02", "Ben"),
        (412, "2026-11-25", "Ana"),
    ]
    assert [row["superseded_by"] for row in arches] == ["height of the wheel arches", None]
    assert arches[0]["remark"] == "superseded (on 2026-11-25, by Ana)"
    depths = [row["read"] for row in data["measured"] if row["superseded_by"] == "depth 0 up"]
    assert depths == [1064, 1065]
