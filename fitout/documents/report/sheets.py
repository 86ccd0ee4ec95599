"""The nested sheets, each as its drawing."""

from __future__ import annotations

import dataclasses

from fitout.documents.dossier import Dossier
from fitout.documents.report.look import inlined
from fitout.documents.report.markup import Markup, tag
from fitout.documents.report.scene import Scene
from fitout.documents.sheet_pictures import sheets_svg


def sheets_section(dossier: Dossier, scene: Scene) -> Markup:
    """One drawing a sheet, in the order in which they are cut; then what fits no sheet."""
    del scene
    cuts = dossier.cuts
    if not cuts.sheets and not cuts.unplaced:
        return Markup("")
    say = dossier.wording.say
    drawn = [
        tag(
            "figure",
            inlined(sheets_svg(dataclasses.replace(cuts, sheets=(sheet,), boards=()))),
            id=f"sheet-{sheet.number}",
            class_="scroll",
            tabindex="0",
            role="group",
            aria_label=f"{say('sheet')} {sheet.number}",
        )
        for sheet in cuts.sheets
    ]
    left = [tag("li", one.sentence) for one in cuts.unplaced]
    return tag(
        "section",
        tag("h2", say("report_sheets")),
        tag("p", say("report_sheets_said")),
        *([tag("ul", *left)] if left else []),
        *drawn,
        id="sheets",
    )
