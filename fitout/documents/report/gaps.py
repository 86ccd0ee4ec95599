"""How sure each gap is once everything is made: a table, and a plot beside each line."""

from __future__ import annotations

from collections.abc import Sequence

from fitout.checks.stack import Stack
from fitout.checks.stackup import left_out, tightest
from fitout.documents.dossier import Dossier
from fitout.documents.gap_table import percent
from fitout.documents.report.markup import Markup, joined, name, tag
from fitout.documents.report.scene import Scene
from fitout.documents.report.table import table

DRIVERS = 3
"""So many of a gap's causes are told."""

WIDTH, HEIGHT = 150.0, 16.0
WIDEST = 20.0
"""Gaps are plotted up to this many mm; what is wider is sure."""


def gaps_section(dossier: Dossier, scene: Scene) -> Markup:
    """Every gap, the least sure first."""
    del scene
    wording = dossier.wording
    say = wording.say
    gaps = tightest(dossier.subject, None)
    missing = left_out(dossier.subject, dossier.findings)
    if not gaps and not missing:
        return Markup("")
    heads = [
        say("report_gap"),
        f"#{say('report_nominal')}",
        f"#{say('report_worst')}",
        "#± RSS",
        f"#{say('report_u')}",
        f"#{say('report_probability')}",
        say("report_plot"),
    ]
    low = max(-WIDEST, min((gap.worst for gap in gaps), default=0.0))
    high = min(WIDEST, max((gap.gap for gap in gaps), default=1.0))
    rows = [
        [
            joined([name(gap.plain_name), tag("small", _drivers(gap))]),
            *(wording.length(value) for value in (gap.gap, gap.worst, gap.rss, gap.u)),
            percent(gap.probability),
            _plot(gap, low, max(high, low + 1.0)),
        ]
        for gap in gaps
    ]
    told = [table(say("report_gaps"), heads, rows)] if rows else []
    return tag(
        "section",
        tag("h2", say("report_gaps")),
        tag("p", say("report_gaps_said", unit=say(f"report_unit_{wording.unit}"))),
        *([tag("p", missing)] if missing else []),
        *told,
        id="gaps",
    )


def _drivers(gap: Stack) -> Markup:
    shares: Sequence[tuple[str, float]] = gap.shares[:DRIVERS]
    told = [
        joined([name(cause), f"\N{NO-BREAK SPACE}{100.0 * share:.0f}\N{NO-BREAK SPACE}%"])
        for cause, share in shares
    ]
    return joined([joined([Markup(", ") if i else "", one]) for i, one in enumerate(told)])


def _plot(gap: Stack, low: float, high: float) -> Markup:
    """A line from the worst case on, a bar over ± RSS, a dot where it is drawn, a stroke at 0."""

    def at(value: float) -> float:
        return 3.0 + (WIDTH - 6.0) * (min(max(value, low), high) - low) / (high - low)

    middle = HEIGHT / 2.0
    left, right = at(gap.gap - gap.rss), at(gap.gap + gap.rss)
    return tag(
        "svg",
        tag("path", d=f"M{at(0.0):.1f} 0V{HEIGHT:g}", class_="zero"),
        tag("path", d=f"M{at(gap.worst):.1f} {middle:g}H{at(2.0 * gap.gap - gap.worst):.1f}",
            class_="line"),
        tag("rect", x=left, y=middle - 3.0, width=max(right - left, 1.0), height=6.0, class_="bar"),
        tag("circle", cx=at(gap.gap), cy=middle, r=3.0, class_="dot"),
        viewBox=f"0 0 {WIDTH:g} {HEIGHT:g}",
        class_="plot",
        aria_hidden="true",
    )  # fmt: skip
