"""How sure the bay is: what was read, how well it agrees, what to measure next."""

from __future__ import annotations

from collections.abc import Iterable

from fitout.checks.slips import UNCONFIRMED
from fitout.checks.stack import Stack
from fitout.checks.stackup import left_out, tightest
from fitout.checks.subject import Subject
from fitout.documents.survey_table import SurveyReport
from fitout.survey.candidates import DEPTH_AT, candidates
from fitout.survey.report import Wanted, measure_next, rows, sizes
from fitout.workflow import Evaluation

UNSURE_GAPS = 3
"""How many of the tightest gaps decide what to measure next."""


def survey_report(evaluation: Evaluation) -> SurveyReport:
    """What was measured, how well it agrees, and what to measure next."""
    survey = evaluation.survey
    gaps = tightest(evaluation.subject, None)
    wanted = _unsure_gaps(gaps) or sizes(survey)
    further = candidates(survey.notebook, _tank_top(evaluation.subject))
    return SurveyReport(
        design=evaluation.design.name,
        rows=rows(survey),
        findings=tuple(f for f in evaluation.findings if f.code == "survey"),
        unconfirmed=tuple(f for f in evaluation.findings if f.code == UNCONFIRMED),
        gaps=gaps,
        gaps_left_out=left_out(evaluation.subject, evaluation.findings),
        advice=measure_next(survey, further, wanted),
    )


def _unsure_gaps(gaps: Iterable[Stack]) -> tuple[Wanted, ...]:
    """Of the gaps, least sure first, those that hang on the bay's numbers."""
    hanging = [gap for gap in gaps if gap.gradient.any()]
    return tuple(
        Wanted(name=gap.plain_name, gradient=gap.gradient, other_u=gap.other_u)
        for gap in hanging[:UNSURE_GAPS]
    )


def _tank_top(subject: Subject) -> float:
    """Height of a water tank's top, where the depth of the bay matters."""
    tops = [
        float(subject.bodies[item.id].hi[2])
        for module in subject.fitout.modules
        if module.kind == "water tank"
        for item in module.items
    ]
    return round(max(tops, default=DEPTH_AT))
