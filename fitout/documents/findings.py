"""Findings as JSON, the form that other programs read."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping

from fitout.model.fault import DesignError
from fitout.model.finding import Finding, Severity

DIGITS = 6
"""Decimals kept: enough for any finding, few enough to be the same on every machine."""


def findings_object(
    design: str, findings: Iterable[Finding], totals: Mapping[str, object]
) -> dict[str, object]:
    """What `check --json` prints: `design`, `passed`, `findings`, `totals`.

    `passed` means that no finding failed; what could not be checked is no failure, but
    `totals` should count it.
    """
    rows = [_row(finding) for finding in findings]
    return {
        "design": design,
        "passed": all(row["severity"] != Severity.FAIL.value for row in rows),
        "findings": rows,
        "totals": {key: _plain(value) for key, value in totals.items()},
    }


def findings_json(design: str, findings: Iterable[Finding], totals: Mapping[str, object]) -> bytes:
    """The same as UTF-8 text, indented; ValueError if a number is infinite or undefined."""
    whole = findings_object(design, findings, totals)
    text = json.dumps(whole, indent=1, ensure_ascii=False, allow_nan=False)
    return f"{text}\n".encode()


def faults_object(file: str, error: DesignError) -> dict[str, object]:
    """What `check --json` prints of a design at fault: no findings, and every fault."""
    faults = [
        {
            "line": fault.line,
            "column": fault.column,
            "path": list(fault.path),
            "found": fault.found,
            "expected": fault.expected,
            "hint": fault.hint,
        }
        for fault in error.faults
    ]
    return {**findings_object(file, (), {}), "passed": False, "faults": faults}


def _row(finding: Finding) -> dict[str, object]:
    return {
        "code": finding.code,
        "severity": finding.severity.value,
        "where": finding.where,
        "value": _plain(finding.value),
        "limit": _plain(finding.limit),
        "unit": finding.unit,
        "margin": _plain(finding.margin),
        "source": finding.source,
        "sentence": finding.sentence,
        **{
            key: _plain(value)
            for key, value in (("u", finding.u), ("probability", finding.probability))
            if value is not None
        },
    }


def _plain(value: object) -> object:
    """The value with every number in it rounded; containers stay what they are."""
    if isinstance(value, float):
        return round(value, DIGITS) + 0.0
    if isinstance(value, Mapping):
        return {key: _plain(entry) for key, entry in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(entry) for entry in value]
    return value
