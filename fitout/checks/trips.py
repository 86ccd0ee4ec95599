"""Every trip of the design, in one finding each: that nothing fails, or the day it does.

A trip that fails is a caution here, not a fail: nothing that is cut would be wrong, and the
cure is to pack otherwise. `fitout trip` fails it.
"""

from __future__ import annotations

from collections.abc import Iterator

from fitout.checks.subject import Subject
from fitout.checks.trip_cures import whole_cure
from fitout.checks.trip_findings import TripReport, report_of
from fitout.checks.trip_plan import plans_of
from fitout.checks.verdict import COMMON_PRACTICE
from fitout.model.finding import WORST_FIRST, Finding, Severity


def reports(subject: Subject) -> tuple[TripReport, ...]:
    """Every trip gone through.

    Raises:
        DesignError: when something is packed where there is no place.
    """
    return tuple(report_of(plan) for plan in plans_of(subject.trips, subject))


def check_trips(subject: Subject) -> Iterator[Finding]:
    """One finding a trip; its days are told by `fitout trip`."""
    for report in reports(subject):
        yield _summary(report)


def _summary(report: TripReport) -> Finding:
    worst = min((f.severity for f in report.findings), key=WORST_FIRST.index)
    days = f"{report.plan.days} day{'s' * (report.plan.days > 1)}"
    failing = [f for f in report.findings if f.severity is Severity.FAIL]
    if failing:
        return _failed(report, failing, days)
    told = [f for f in report.findings if f.severity is worst and worst is not Severity.PASS]
    sentence = f"Trip {report.plan.name}, {days}: nothing fails."
    if told:
        sentence += f" {told[0].sentence}"
    return Finding(
        code="trip",
        severity=worst,
        where=report.plan.name,
        sentence=sentence,
        source=told[0].source if told else "every day gone through",
    )


def _failed(report: TripReport, failing: list[Finding], days: str) -> Finding:
    first = min(report.problems, key=lambda problem: problem.day)
    cure = whole_cure(report.plan)
    what = "; ".join(_in_short(finding) for finding in failing)
    advice = "no cure was found by changing one thing after another"
    if cure is not None:
        advice = f"to pass, {cure.words}"
    sentence = (
        f"Trip {report.plan.name}, {days}, fails from day {first.day} on: {what}; {advice}. What "
        "is cut stays right, so this is a caution here; `fitout trip` fails it."
    )
    return Finding(
        code="trip",
        severity=Severity.CAUTION,
        where=report.plan.name,
        sentence=sentence,
        source=f"every day gone through with the cure; {COMMON_PRACTICE} for entries left out",
    )


def _in_short(finding: Finding) -> str:
    """A failing finding in a few words."""
    of = finding.where.partition(": ")[2]
    margin = abs(finding.margin or 0.0)
    lack = "too much" if finding.code in ("trip mass", "trip packing") else "wanting"
    return f"{of} {margin:.3g} {finding.unit} {lack}"
