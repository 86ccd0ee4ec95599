"""What comes of it all, above everything else: signs and words, so that no colour is needed."""

from __future__ import annotations

from collections import Counter

from fitout.checks.trips import reports
from fitout.documents.dossier import Dossier
from fitout.documents.report.markup import Markup, tag
from fitout.model.finding import WORST_FIRST, Severity

SIGNS = {Severity.FAIL: "✗", Severity.CAUTION: "!", Severity.UNCHECKED: "?", Severity.PASS: "✓"}


def verdict(dossier: Dossier) -> Markup:
    """How many findings of each severity, worst first, the total mass, trips that fail."""
    say = dossier.wording.say
    count = Counter(finding.severity for finding in dossier.findings)
    told = [
        tag("li", sign(severity), f" {count[severity]} {say(f'severity_{severity.value}')}",
            class_=severity.value)
        for severity in WORST_FIRST
    ]  # fmt: skip
    failed = bool(count[Severity.FAIL])
    words = say("report_fails" if failed else "report_passes")
    totals = dossier.totals
    masses = say(
        "report_weighs", empty=_kg(totals.get("empty_kg")), laden=_kg(totals.get("laden_kg"))
    )
    trips = [
        report.plan.name for report in reports(dossier.subject)
        if any(one.severity is Severity.FAIL for one in report.findings)
    ]  # fmt: skip
    failing = say("report_trips_fail", names=", ".join(trips)) if trips else ""
    return tag(
        "div",
        tag("p", tag("strong", words), f" {masses} {failing}".rstrip()),
        tag("ul", *told),
        class_="verdict",
    )


def sign(severity: Severity) -> Markup:
    """The severity's sign, which a screen reader leaves out: its word stands beside it."""
    return tag("b", SIGNS[severity], class_="sign", aria_hidden="true")


def _kg(value: object) -> str:
    return f"{value:.1f}" if isinstance(value, float | int) else "–"
