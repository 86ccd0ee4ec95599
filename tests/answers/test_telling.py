import json

from fitout.answers.asked import AskedFinding
from fitout.answers.compare import compared
from fitout.answers.numbers import figures
from fitout.answers.telling import (
    answer_object,
    difference_lines,
    difference_object,
    part_lines,
    why_lines,
)
from fitout.answers.why import Answer, Influence


def answer(design) -> Answer:
    first, second = figures(design)[:2]
    return Answer(
        {"margin": 3.0},
        (
            Influence(first, 1.0, {"margin": -1.0}, {"margin": 0.5}),
            Influence(second, 1.0, None, {"margin": 0.0}),
        ),
        200,
    )


def test_a_finding_is_told_within_80_columns(design, evaluation) -> None:
    finding = next(f for f in evaluation.findings if f.code == "tank gap")
    lines = list(why_lines(AskedFinding(finding, None, 0, ()), answer(design), "car.yaml"))
    assert max(map(len, lines)) <= 80
    whole = "\n".join(lines)
    assert "How it is reckoned: the shortest distance" in whole
    assert "-1.00     +0.50" in whole


def test_no_number_to_follow_is_said(design, evaluation) -> None:
    finding = evaluation.findings[0]
    lines = why_lines(AskedFinding(finding, None, 0, ()), None, "car.yaml")
    assert "no number that could be followed" in " ".join(lines)


def test_a_part_is_told_with_its_sizes(design) -> None:
    lines = list(part_lines("drawers/base", answer(design), "car.yaml"))
    assert "Margin 3 mm." in lines


def test_data_is_plain(design, evaluation) -> None:
    told = json.loads(json.dumps(answer_object("tank gap", answer(design))))
    assert told["influences"][0]["one_more"] == {"margin": -1.0}
    assert told["influences"][1]["one_more"] is None
    nothing = compared(evaluation, evaluation)
    assert json.loads(json.dumps(difference_object(nothing)))["parts"] == []
    assert next(difference_lines(nothing)).startswith("Nothing changed")
