"""A value, a limit, a margin: the same way round in every finding."""

import pytest

from fitout.checks.verdict import at_least, at_most, fact, remark
from fitout.model.finding import Finding, Severity


def least(value: float, limit: float) -> Finding:
    return at_least("gap", "a – b", value, limit, "mm", "A sentence.", "a source")


def most(value: float, limit: float) -> Finding:
    return at_most("load", "a", value, limit, "kg", "A sentence.", "a source")


@pytest.mark.parametrize(
    ("finding", "severity", "margin"),
    [
        (least(5.0, 3.0), Severity.PASS, 2.0),
        (least(3.0, 3.0), Severity.PASS, 0.0),
        (least(2.9995, 3.0), Severity.PASS, -0.0005),
        (least(2.99, 3.0), Severity.FAIL, -0.01),
        (most(3.0, 5.0), Severity.PASS, 2.0),
        (most(5.0, 5.0), Severity.PASS, 0.0),
        (most(5.25, 5.0), Severity.FAIL, -0.25),
    ],
)
def test_margin_and_verdict(finding: Finding, severity: Severity, margin: float) -> None:
    assert finding.severity is severity
    assert finding.margin == pytest.approx(margin)


def test_numbers_are_rounded_and_never_minus_zero() -> None:
    finding = least(1.0 / 3.0, -0.00001)
    assert (finding.value, str(finding.limit)) == (0.3333, "0.0")


def test_a_fact_has_no_limit_and_passes() -> None:
    finding = fact("mass", "box", 12.34567, "kg", "It weighs.", "computed")
    assert (finding.severity, finding.value, finding.limit) == (Severity.PASS, 12.3457, None)


def test_a_remark_has_no_number() -> None:
    finding = remark("note", "box", Severity.UNCHECKED, "Not looked at.")
    assert (finding.value, finding.limit, finding.margin) == (None, None, None)
    assert finding.source == "common practice"
