"""The mass ledger: a line for each module and person, and everything that makes it up."""

from __future__ import annotations

from collections.abc import Sequence

from fitout.checks.ledger import LedgerLine, summed
from fitout.checks.vehicle import laden_lines
from fitout.documents.dossier import Dossier
from fitout.documents.ledger import built
from fitout.documents.report.markup import Markup, name, tag
from fitout.documents.report.scene import Scene
from fitout.documents.report.table import table
from fitout.documents.wording import Wording


def masses_section(dossier: Dossier, scene: Scene) -> Markup:
    """Sums by group, the fit-out as built and laden, and all of it; below, every line."""
    del scene
    lines = laden_lines(dossier.subject)
    if not lines:
        return Markup("")
    wording = dossier.wording
    say = wording.say
    groups = dict.fromkeys(line.group for line in lines)
    sums = [_sum(name(g), [x for x in lines if x.group == g], wording) for g in groups]
    sums.append(_sum(tag("strong", say("report_as_built")), built(lines), wording))
    modules = {module.name for module in dossier.fitout.modules}
    laden = [line for line in lines if line.group in modules]
    sums.append(_sum(tag("strong", say("report_fitout_laden")), laden, wording))
    sums.append(_sum(tag("strong", say("report_laden")), lines, wording))
    places = [f"#{say(f'report_{way}')}" for way in ("forward", "left", "up")]
    heads = [say("report_of"), "#kg", "#± kg", *places]
    every = [
        [name(line.name), name(line.group), line.kind, f"{line.mass_kg:.2f}", f"{line.u_kg:.2f}",
         line.known.value, line.basis]
        for line in lines
    ]  # fmt: skip
    more = [say("report_what"), say("report_of"), say("report_kind"), "#kg", "#± kg",
            say("report_known"), say("report_basis")]  # fmt: skip
    return tag(
        "section",
        tag("h2", say("report_masses")),
        tag("p", say("report_masses_said", unit=say(f"report_unit_{wording.unit}"))),
        table(say("report_masses"), heads, sums),
        tag(
            "details",
            tag("summary", say("report_every_line", count=len(lines))),
            table(say("report_every_line", count=len(lines)), more, every),
            open=True,
            data_long=True,
        ),
        id="masses",
    )


def _sum(of: Markup, lines: Sequence[LedgerLine], wording: Wording) -> list[str]:
    whole = summed(lines)
    centre = [wording.length(value, 0) for value in whole.centre]
    return [of, f"{whole.mass_kg:.1f}", f"{whole.u_kg:.1f}", *centre]
