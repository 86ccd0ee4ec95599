"""What decides where a surface is that a part follows, against a bay worked out by hand."""

import dataclasses

import pytest

from fitout import workflow
from fitout.answers.asked import AskedFinding
from fitout.answers.following import followed, surface_values
from fitout.answers.telling import following_object, why_lines
from fitout.answers.why import finding_values, influences
from fitout.checks import Memory
from fitout.checks.gaps import check_gaps

DESIGN = """fitout: 1
name: Box van
bay:
  sections: [{at: 0, widths: {0: 1200}, roof: 900}, {at: 1000, widths: {0: 1200}, roof: 900}]
  front_wall: 1000
modules:
  bin: {kind: side bin, sides: left, width: 200, height: 300, depth: 600}
"""
WALL = "bay/left wall"


@pytest.fixture(scope="module")
def design(tmp_path_factory):
    path = tmp_path_factory.mktemp("van") / "van.yaml"
    path.write_text(DESIGN, encoding="utf-8")
    return workflow.load(path)


@pytest.fixture(scope="module")
def subject(design):
    return workflow.prepared(design, Memory())


@pytest.fixture(scope="module")
def finding(subject):
    (found,) = (f for f in check_gaps(subject) if f.where.endswith(WALL))
    return found


def ask(design, measure):
    return influences(design, workflow.prepared, measure, lambda *_: None, Memory())


def test_a_gap_that_follows_the_wall_hangs_on_nothing_measured(design, subject, finding) -> None:
    answer = ask(design, finding_values(check_gaps, finding.code, finding.where))
    assert followed(subject, finding, answer) == WALL
    assert followed(subject, finding, None) is None
    parts = dataclasses.replace(finding, where="bin/floor 1 – bin/inner wall")
    assert followed(subject, parts, answer) is None


def test_the_widths_decide_where_the_wall_is(design, subject, finding) -> None:
    """Half of each width lies on the left; lining takes off its own thickness."""
    part = finding.where.partition(" – ")[0]
    answer = ask(design, surface_values(subject, part, WALL))
    moved = {one.figure.name: one.up["place"] for one in answer.influences}
    assert moved["bay.trim.walls"] == pytest.approx(-1.0, abs=1e-3)
    both = moved["bay.sections[0].widths.0"] + moved["bay.sections[1].widths.0"]
    assert both == pytest.approx(0.5, abs=1e-3)
    assert set(moved) <= {
        "bay.trim.walls", "bay.sections[0].widths.0", "bay.sections[1].widths.0",
        "bay.sections[0].at", "bay.sections[1].at",
    }  # fmt: skip


def test_it_is_told_with_those_numbers(design, subject, finding) -> None:
    part = finding.where.partition(" – ")[0]
    answer = ask(design, surface_values(subject, part, WALL))
    asked = AskedFinding(finding, check_gaps, 0, ())
    lines = list(why_lines(asked, None, "van.yaml", (WALL, answer)))
    whole = " ".join(lines)
    assert f"{part} follows the left wall as measured" in whole
    assert "bay.sections[0].widths.0" in whole
    assert "None of" not in whole
    assert max(map(len, lines)) <= 80
    assert following_object(WALL, answer)["surface"] == WALL


def test_a_surface_that_is_gone_is_not_measured(subject, finding) -> None:
    measure = surface_values(subject, finding.where.partition(" – ")[0], WALL)
    assert measure(subject)["place"] == pytest.approx(50.0 + finding.value, abs=0.01)
    rest = {id_: o for id_, o in subject.obstacles.items() if id_ != WALL}
    assert measure(dataclasses.replace(subject, obstacles=rest)) == {}
