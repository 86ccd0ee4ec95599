"""Every finding, what hurts most first, with a button that shows where it is."""

from __future__ import annotations

import math
from collections.abc import Iterator

from fitout.checks.findings import rank
from fitout.documents.dossier import Dossier
from fitout.documents.gap_table import percent
from fitout.documents.report.markup import Markup, joined, name, tag, words_of
from fitout.documents.report.places import Places, numbered
from fitout.documents.report.scene import Scene
from fitout.documents.report.verdict import sign
from fitout.documents.wording import Wording, decimal
from fitout.model.finding import WORST_FIRST, Finding, Severity


def findings_section(dossier: Dossier, scene: Scene) -> Markup:
    """A list for each severity, worst first; in each, what has the least to spare first.

    But cautions that may hurt people come before all others, and failings keep the order of their
    causes.
    """
    say = dossier.wording.say
    places = Places(dossier.subject)
    groups = []
    for severity in WORST_FIRST:
        found = [f for f in dossier.findings if f.severity is severity]
        if severity is not Severity.FAIL:
            found.sort(key=lambda one: (rank(one), spare(one)))
        if not found:
            continue
        heading = f"{say(f'severity_{severity.value}')} ({len(found)})"
        rows = [_finding(one, dossier.wording, places, scene) for one in found]
        groups.append(
            tag(
                "details",
                tag("summary", tag("h3", sign(severity), " ", heading)),
                tag("ul", *rows, class_="findings"),
                open=True,
                class_=severity.value,
                data_long=len(found) > 40,
            )
        )
    search = tag(
        "p",
        tag("label", say("report_search"), for_="search"),
        tag("input", type="search", id="search", autocomplete="off"),
        tag("output", "", id="matches", for_="search"),
        class_="live",
    )
    return tag("section", tag("h2", say("report_findings")), search, *groups, id="findings")


def spare(finding: Finding) -> float:
    """The margin as a share of a limit that is passed, else of the limit or larger value.

    Boundless where there is no margin.
    """
    if finding.margin is None:
        return math.inf
    limit, value = abs(finding.limit or 0.0), abs(finding.value or 0.0)
    measure = limit if finding.margin < 0.0 and limit else max(limit, value)
    return finding.margin / measure if measure else 0.0


def _finding(finding: Finding, wording: Wording, places: Places, scene: Scene) -> Markup:
    bodies = numbered(places.ids(finding.where), scene.numbers)
    point = places.point(finding.where) if bodies else None
    where = name(finding.where)
    return tag(
        "li",
        tag(
            "p",
            tag("button", where) if bodies else tag("span", where),
            tag("i", finding.code),
        ),
        tag("p", finding.sentence),
        tag("p", *_figures(finding, wording), tag("cite", finding.source), class_="n"),
        data_parts=words_of(bodies) or None,
        data_point=None if point is None else " ".join(decimal(v) for v in point),
        data_told=_value(finding, finding.value) if point is not None else None,
    )


def _figures(finding: Finding, wording: Wording) -> Iterator[Markup]:
    """Value, limit and margin with what they are; what is not known is left out."""
    for key in ("value", "limit", "margin"):
        amount = getattr(finding, key)
        if amount is not None:
            yield _figure(wording.say(f"report_{key}"), _value(finding, amount))
    if finding.u is not None:
        yield _figure(wording.say("report_u"), f"± {_value(finding, finding.u)}")
    if finding.probability is not None:
        yield _figure(wording.say("report_probability"), percent(finding.probability))


def _figure(word: str, amount: str) -> Markup:
    return joined([f"{word} ", tag("b", amount), " "])


def _value(finding: Finding, amount: float | None) -> str:
    return (
        ""
        if amount is None
        else f"{decimal(amount, 1 if abs(amount) >= 10 else 2)} {finding.unit}".strip()
    )
