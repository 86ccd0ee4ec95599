"""What the axles bear against the maker's limits: as weighed, with the fit-out empty, laden."""

from __future__ import annotations

from fitout.checks.vehicle import states
from fitout.documents.dossier import Dossier
from fitout.documents.report.charts import Amount, against_limit
from fitout.documents.report.markup import Markup, tag
from fitout.documents.report.scene import Scene
from fitout.documents.report.table import table

KEYS = ("front", "rear", "gross", "roof", "door", "behind_bumper")


def axles_section(dossier: Dossier, scene: Scene) -> Markup:
    """A chart for each limit that was entered, and the same as a table."""
    del scene
    told = states(dossier.subject)
    if told is None:
        return Markup("")
    say = dossier.wording.say
    names = [say(f"report_state_{key}") for key in ("weighed", "empty", "laden")]
    charts, rows = [], []
    for key in KEYS:
        limits = [state.limit(key) for _, state in told.each()]
        last = limits[-1]
        if last.limit_kg is None or not any(limit.value_kg for limit in limits):
            continue
        word = say(f"report_axle_{key}")
        allowed = say("report_allowed", limit=f"{last.limit_kg:.0f}")
        amounts = [Amount(n, limit.value_kg) for n, limit in zip(names, limits, strict=True)]
        charts.append(against_limit(f"{word} (kg)", amounts, last.limit_kg, allowed))
        rows.append(
            [
                word,
                *(f"{limit.value_kg:.0f}" for limit in limits),
                f"{last.limit_kg:.0f}",
                f"{last.margin_kg:.0f}",
                f"{last.u_kg:.0f}",
            ]
        )
    if not rows:
        return Markup("")
    heads = ["kg", *(f"#{n}" for n in names), f"#{say('report_limit')}", f"#{say('report_margin')}",
             f"#{say('report_u')}"]  # fmt: skip
    return tag(
        "section",
        tag("h2", say("report_axles")),
        tag("p", say("report_axles_said")),
        tag("div", *charts, class_="charts"),
        table(say("report_axles"), heads, rows),
        id="axles",
    )
