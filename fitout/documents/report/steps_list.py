"""The steps of assembly and installation; each can be shown, later parts left away."""

from __future__ import annotations

from fitout.documents.dossier import Dossier
from fitout.documents.report.markup import Markup, name, tag, words_of
from fitout.documents.report.places import numbered
from fitout.documents.report.scene import Scene
from fitout.documents.wording import Wording
from fitout.model.assembly import Step

PHASES = ("bench", "vehicle")


def steps_section(dossier: Dossier, scene: Scene) -> Markup:
    """A numbered list, on the bench first and then in the vehicle."""
    if not dossier.steps:
        return Markup("")
    say = dossier.wording.say
    parts = []
    for phase in PHASES:
        rows = [_step(s, dossier.wording, scene) for s in dossier.steps if s.phase == phase]
        if rows:
            heading = tag("h3", say(f"report_phase_{phase}"))
            parts.append(tag("details", tag("summary", heading), tag("ol", *rows, class_="steps"),
                             open=True, data_long=True))  # fmt: skip
    return tag("section", tag("h2", say("report_steps")), *parts, id="steps")


def _step(step: Step, wording: Wording, scene: Scene) -> Markup:
    say = wording.say
    bodies = numbered(step.parts, scene.numbers)
    people = say("report_people", count=step.people) if step.people > 1 else ""
    tools = " · ".join(one for one in (step.tool, people) if one)
    return tag(
        "li",
        tag("p", tag("button", name(step.what)) if bodies else name(step.what)),
        tag("p", step.how),
        tag("p", tools, class_="n"),
        value=float(step.number),
        data_parts=words_of(bodies) or None,
    )
