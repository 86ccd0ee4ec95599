"""A survey as a table that fits a terminal, and as data."""

import dataclasses
import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from fitout.checks.stack import Driver, Stack
from fitout.documents.survey_table import (
    SurveyReport,
    survey_object,
    survey_text,
)
from fitout.model.finding import Finding, Severity
from fitout.survey.report import Gain, Next, Row

GOLDEN = Path(__file__).parent.parent / "golden" / "survey"


def row(name: str, read: float | None, adjusted: float, u: float, remark: str, **more: Any) -> Row:
    usual: dict[str, Any] = {
        "path": ("bay", "front_wall"),
        "degrees": False,
        "residual": None if read is None else adjusted - read,
        "checked": 0.25,
    }
    return Row(name=name, read=read, adjusted=adjusted, u=u, remark=remark, **{**usual, **more})


@pytest.fixture
def report() -> SurveyReport:
    sentence = "Long one reads 1841, but all else says 1811.2 ± 2.4: it looks wrong by 30."
    agree = "The bay's 7 numbers and notes agree: they scatter 0.85 times as much as expected."
    return SurveyReport(
        design="Weekday car",
        rows=(
            row("width at section 2, 240 up", 1426.0, 1425.96, 0.6, "ok"),
            row(
                "centre line to the left wall at section 2, 240 up", 700.0, 699.0, 1.2, "unchecked"
            ),
            row("depth to the front wall", None, 950.0, math.inf, "a guess; no note tells"),
            row("lean of the seat back", 17.0, 17.2, 0.14, "may hide 3", degrees=True),
            row("long one", 1841.25, 1811.2, 1.2, "looks wrong: likely 1811"),
        ),
        findings=(
            Finding(
                code="survey",
                severity=Severity.CAUTION,
                where="line 7",
                sentence=sentence,
                source="x",
            ),
            Finding(code="survey", severity=Severity.PASS, where="bay", sentence=agree, source="x"),
        ),
        advice=(
            Next(
                what="measure: depth 245 up",
                gains=(Gain(name="tank – seat back", before=2.9, after=1.75),),
                unseen=9.0,
            ),
            Next(what="measure again: long one", gains=(), unseen=14.4),
            Next(
                what="measure: x",
                gains=(Gain(name="a – b", before=math.inf, after=1.0),),
                unseen=1.0,
            ),
            Next(what="measure: y", gains=(), unseen=math.inf),
        ),
        unconfirmed=(
            Finding(
                code="unconfirmed reading",
                severity=Severity.CAUTION,
                where="line 9",
                sentence="tank – seat back (5.0 mm) fits if lean of the seat back is confirmed.",
                source="x",
            ),
        ),
        gaps=(
            Stack(
                name="tank – bay/seat back",
                gap=5.0,
                gradient=np.zeros(1),
                worst=-3.2,
                rss=3.3,
                u=1.62,
                other_u=1.0,
                drivers=(Driver("size of tank", 1.3), Driver("lean of the seat back", 0.97)),
                up=300.0,
            ),
        ),
    )


def test_text_is_as_expected(report: SurveyReport, same_as: Callable[[Path, str], None]) -> None:
    same_as(GOLDEN / "table.expected", survey_text(report).rstrip("\n"))


def test_no_line_is_wider_than_a_terminal(report: SurveyReport) -> None:
    assert max(len(line) for line in survey_text(report).splitlines()) <= 80


def test_numbers_stand_below_each_other(report: SurveyReport) -> None:
    lines = survey_text(report).splitlines()
    (heading,) = [line for line in lines if line.startswith("measured")]
    end = heading.index("adjusted") + len("adjusted")
    numbers = [line[end - 8 : end] for line in lines if line.startswith(("width", "depth", "long"))]
    assert [n.strip() for n in numbers] == ["1426.0", "950.0", "1811.2"]


def test_no_minus_stands_before_a_nought(report: SurveyReport) -> None:
    assert "-0.0" not in survey_text(report)


def test_data_says_the_same(report: SurveyReport) -> None:
    data = json.loads(json.dumps(survey_object(report), allow_nan=False))
    assert data["design"] == "Weekday car"
    assert data["consistent"] is False
    assert [r["name"] for r in data["measured"]] == [r.name for r in report.rows]
    assert data["measured"][2]["u"] is None
    assert data["measured"][3]["unit"] == "deg"
    assert data["measured"][4]["residual"] == pytest.approx(-30.05)
    assert [f["where"] for f in data["findings"]] == ["line 7", "bay", "line 9"]
    first = data["measure_next"][0]
    assert first["gaps"] == [{"name": "tank – seat back", "u_before": 2.9, "u_after": 1.75}]
    assert [gap["name"] for gap in data["gaps"]] == ["tank – seat back"]
    assert data["gaps_left_out"] is None
    assert data["measure_next"][3]["largest_unseen_error"] is None


def test_a_reading_to_confirm_does_not_make_the_notes_contradict(report: SurveyReport) -> None:
    agreeing = dataclasses.replace(report, findings=report.findings[1:])
    assert agreeing.consistent
    assert survey_object(agreeing)["consistent"] is True
    assert "fits if lean of the seat back is confirmed" in survey_text(agreeing)


def test_a_bay_read_once_says_so() -> None:
    bare = SurveyReport(design="Bare", rows=(), findings=(), advice=())
    assert bare.consistent
    text = survey_text(bare)
    assert "Every number was read once" in text
    assert "Nothing further" in text
