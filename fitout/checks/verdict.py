"""Helpers that make findings out of a value and a limit, the same way everywhere."""

from __future__ import annotations

from fitout.model.finding import Finding, Severity

COMMON_PRACTICE = "common practice"
ROUNDING = 1e-3
"""A limit is met when missed by no more than this, in the finding's unit: rounding."""


def at_least(  # over budget: a finding's own fields, one each
    code: str, where: str, value: float, limit: float, unit: str, sentence: str, source: str
) -> Finding:
    """A finding that passes when `value` is at least `limit`."""
    return _judged(code, where, value, limit, unit, value - limit, sentence, source)


def at_most(  # over budget: a finding's own fields, one each
    code: str, where: str, value: float, limit: float, unit: str, sentence: str, source: str
) -> Finding:
    """A finding that passes when `value` is at most `limit`."""
    return _judged(code, where, value, limit, unit, limit - value, sentence, source)


def _judged(  # over budget: a finding's own fields, one each
    code: str,
    where: str,
    value: float,
    limit: float,
    unit: str,
    margin: float,
    sentence: str,
    source: str,
) -> Finding:
    severity = Severity.PASS if margin >= -ROUNDING else Severity.FAIL
    return Finding(
        code=code,
        severity=severity,
        where=where,
        value=_tidy(value),
        limit=_tidy(limit),
        unit=unit,
        margin=_tidy(margin),
        source=source,
        sentence=sentence,
    )


def fact(code: str, where: str, value: float, unit: str, sentence: str, source: str) -> Finding:
    """A computed fact with no limit; always a pass."""
    return Finding(
        code=code,
        severity=Severity.PASS,
        where=where,
        value=_tidy(value),
        unit=unit,
        source=source,
        sentence=sentence,
    )


def remark(
    code: str, where: str, severity: Severity, sentence: str, source: str = COMMON_PRACTICE
) -> Finding:
    """A finding without a number: a caution, a fault, something not checked."""
    return Finding(code=code, severity=severity, where=where, sentence=sentence, source=source)


def _tidy(value: float) -> float:
    """Rounded for people and for files that must not change with the last bit."""
    return round(value, 4) + 0.0
