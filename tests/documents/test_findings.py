"""Findings as JSON: the documented keys, `passed`, plain numbers."""

import json
import math

import pytest

from fitout.documents.findings import findings_json, findings_object
from fitout.model.finding import Finding, Severity


def finding(severity=Severity.PASS, **fields):
    settings = {
        "code": "gap",
        "severity": severity,
        "where": "drawers/side",
        "sentence": "The side clears the arch by 3.0 mm.",
        "source": "common practice",
    }
    return Finding(**(settings | fields))


def test_every_key_is_there():
    told = json.loads(
        findings_json(
            "Tourer", [finding(value=3.0, limit=2.0, unit="mm", margin=1.0)], {"panels": 3}
        )
    )
    assert told == {
        "design": "Tourer",
        "passed": True,
        "findings": [
            {
                "code": "gap",
                "severity": "pass",
                "where": "drawers/side",
                "value": 3.0,
                "limit": 2.0,
                "unit": "mm",
                "margin": 1.0,
                "source": "common practice",
                "sentence": "The side clears the arch by 3.0 mm.",
            }
        ],
        "totals": {"panels": 3},
    }


@pytest.mark.parametrize(
    ("severities", "passed"),
    [
        ([], True),
        ([Severity.PASS, Severity.CAUTION, Severity.UNCHECKED], True),
        ([Severity.PASS, Severity.FAIL], False),
    ],
)
def test_passed_means_no_fail(severities, passed):
    told = findings_object("x", [finding(s) for s in severities], {})
    assert told["passed"] is passed


def test_numbers_are_rounded_alike_at_any_depth():
    told = findings_object(
        "x",
        [finding(value=0.1 + 0.2, margin=-1e-12)],
        {"mass_kg": 1 / 3, "axles": [{"load_n": 2 / 3}], "trips": ("a", 1.00000000001)},
    )
    assert told["findings"][0]["value"] == 0.3
    assert math.copysign(1.0, told["findings"][0]["margin"]) == 1.0
    assert told["totals"] == {
        "mass_kg": 0.333333,
        "axles": [{"load_n": 0.666667}],
        "trips": ["a", 1.0],
    }


@pytest.mark.parametrize("value", [math.inf, math.nan])
def test_no_number_is_no_json(value):
    with pytest.raises(ValueError, match="JSON"):
        findings_json("x", [finding(value=value)], {})


def test_text_is_utf8_and_ends_with_a_line():
    data = findings_json("Tür", [], {})
    assert data.endswith(b"}\n")
    assert "Tür".encode() in data
