"""A survey as text within 80 columns, and as one JSON object."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from fitout.checks.stack import Stack
from fitout.documents.findings import findings_object
from fitout.documents.gap_table import gap_lines, gap_object
from fitout.model.finding import Finding, Severity
from fitout.survey.report import Next, Row

WIDTH = 80
COVER = 2.0
"""Coverage factor of the uncertainties printed, for about 95 % (JCGM 100, 6.2.1)."""

COLUMNS = (("measured", 33), ("read", 7), ("adjusted", 8), ("±", 4), ("off", 5), ("", 18))
"""Headings and widths; the first and the last hold words and wrap."""

DIGITS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class SurveyReport:
    """What `fitout survey` tells: everything measured, what is amiss, what to measure next.

    `findings` are about the notes, `unconfirmed` about readings that gaps hang on and nothing
    checks. `gaps` come least sure first; `gaps_left_out` says what of them is not told, empty
    if that is nothing.
    """

    design: str
    rows: tuple[Row, ...]
    findings: tuple[Finding, ...]
    advice: tuple[Next, ...]
    unconfirmed: tuple[Finding, ...] = ()
    gaps: tuple[Stack, ...] = ()
    gaps_left_out: str = ""

    @property
    def consistent(self) -> bool:
        """Whether no note looks wrong and everything is determined."""
        return all(f.severity is Severity.PASS for f in self.findings)


def survey_text(report: SurveyReport) -> str:
    """The survey in words and a table, ending in a line break."""
    heading = f"Survey of {report.design}"
    about = (
        "Lengths in mm. Adjusted: what everything measured says together. ±: how far off that "
        "may be in 95 of 100 cases (k = 2). Off: adjusted minus read. Unchecked: a slip of the "
        "tape would go unseen; may hide 15: one smaller than that would."
    )
    parts = [
        *textwrap.wrap(heading, WIDTH),
        *textwrap.wrap(about, WIDTH),
        "",
        *_table(report.rows),
        "",
        *_told(report.findings),
        *_sentences(report.unconfirmed),
        "",
        *gap_lines(report.gaps, report.gaps_left_out),
        "",
        *_next(report.advice),
    ]
    return "\n".join(parts) + "\n"


def survey_object(report: SurveyReport) -> dict[str, object]:
    """The same as data; what is not determined has no uncertainty (null)."""
    told = (*report.findings, *report.unconfirmed)
    found = findings_object(report.design, told, {})
    return {
        "design": report.design,
        "consistent": report.consistent,
        "measured": [_row_object(row) for row in report.rows],
        "findings": found["findings"],
        "gaps": [gap_object(gap) for gap in report.gaps],
        "gaps_left_out": report.gaps_left_out or None,
        "measure_next": [
            {
                "what": one.what,
                "gaps": [
                    {"name": g.name, "u_before": _finite(g.before), "u_after": _finite(g.after)}
                    for g in one.gains
                ],
                "largest_unseen_error": _finite(one.unseen),
            }
            for one in report.advice
        ],
    }


def _row_object(row: Row) -> dict[str, object]:
    return {
        "name": row.name,
        "path": list(row.path),
        "unit": "deg" if row.degrees else "mm",
        "read": row.read,
        "adjusted": round(row.adjusted, DIGITS),
        "u": _finite(row.u),
        "residual": None if row.residual is None else round(row.residual, DIGITS) + 0.0,
        "redundancy": round(row.checked, DIGITS),
        "remark": row.remark,
        "on": None if row.on is None else row.on.isoformat(),
        "by": row.by,
        "superseded_by": row.superseded_by or None,
    }


def _finite(value: float) -> float | None:
    return round(value, DIGITS) if math.isfinite(value) else None


def _table(rows: Iterable[Row]) -> Iterator[str]:
    yield from _lines([heading for heading, _ in COLUMNS])
    yield "-" * WIDTH
    for row in rows:
        mark = "°" if row.degrees else ""
        sure = "?" if math.isinf(row.u) else f"{COVER * row.u:.1f}{mark}"
        off = "" if row.residual is None else f"{_tidy(row.residual):+.1f}"
        read = "" if row.read is None else f"{row.read:g}{mark}"
        yield from _lines([row.name, read, f"{row.adjusted:.1f}{mark}", sure, off, row.remark])


def _tidy(value: float) -> float:
    """No minus before a nought."""
    return round(value, 1) + 0.0


def _lines(cells: Sequence[str]) -> Iterator[str]:
    """One row of the table, on as many lines as its words need."""
    widths = [width for _, width in COLUMNS]
    name = textwrap.wrap(cells[0], widths[0], subsequent_indent="  ") or [""]
    remark = textwrap.wrap(cells[-1], widths[-1]) or [""]
    for i in range(max(len(name), len(remark))):
        numbers = cells[1:-1] if i == 0 else [""] * (len(cells) - 2)
        parts = [(name[i] if i < len(name) else "").ljust(widths[0])]
        parts += [n.rjust(width) for n, width in zip(numbers, widths[1:-1], strict=True)]
        parts.append(remark[i] if i < len(remark) else "")
        yield " ".join(parts).rstrip()


def _told(findings: Sequence[Finding]) -> Iterator[str]:
    if not findings:
        yield from textwrap.wrap(
            "Every number was read once: an error in any of them would go unseen. Notes under "
            "`bay: survey:` check them.",
            WIDTH,
        )
    yield from _sentences(findings)


def _sentences(findings: Iterable[Finding]) -> Iterator[str]:
    for finding in findings:
        yield from textwrap.wrap(finding.sentence, WIDTH, subsequent_indent="  ")


def _next(advice: Sequence[Next]) -> Iterator[str]:
    yield "Measure next"
    if not advice:
        yield from textwrap.wrap("Nothing further would make the tightest gaps surer.", WIDTH)
    for number, one in enumerate(advice, start=1):
        text = f"{number}. {one.what[:1].upper()}{one.what[1:]}. {_why(one)}"
        yield from textwrap.wrap(text, WIDTH, subsequent_indent="   ")


def _why(one: Next) -> str:
    gains = []
    for gain in one.gains:
        after = f"± {COVER * gain.after:.1f}"
        if math.isinf(gain.before):
            gains.append(f"{gain.name}, so far not determined, is then sure to {after}")
            continue
        less = COVER * (gain.before - gain.after)
        gains.append(
            f"{gain.name} is then surer by {less:.1f} ({after} instead of "
            f"± {COVER * gain.before:.1f})"
        )
    if gains:
        return f"{'; '.join(gains)}."[:1].upper() + f"{'; '.join(gains)}."[1:]
    if math.isfinite(one.unseen):
        return f"An error above {one.unseen:.0f} in what the tightest gaps hang on would then show."
    return "It checks numbers that the tightest gaps hang on."
