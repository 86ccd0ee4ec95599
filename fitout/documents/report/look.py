"""The stage with the picture, and all that turns it: opening, hiding, exploding, cutting open."""

from __future__ import annotations

import re

from fitout.documents.dossier import Dossier
from fitout.documents.pictures import overview_svg
from fitout.documents.report.markup import Markup, joined, name, tag
from fitout.documents.report.movements import Movement
from fitout.documents.report.scene import Scene
from fitout.documents.wording import decimal

STAGE_BUTTONS = ("fit", "rear", "side", "above", "larger")
AXES = ("forward", "left", "up")


def stage(dossier: Dossier) -> Markup:
    """The picture: the drawn overview until the script puts its own in its place."""
    say = dossier.wording.say
    title = say("report_picture", name=dossier.design.name)
    views = [tag("button", say(f"report_view_{key}"), data_view=key) for key in STAGE_BUTTONS]
    part = tag(
        "section",
        tag("h2", "", id="part-name"),
        tag("dl", ""),
        tag(
            "p",
            tag("button", say("report_only_module"), data_do="only"),
            tag("button", say("report_hide_part"), data_do="hide"),
            tag("button", say("report_close"), data_do="close"),
        ),
        id="part",
        data_module=say("module"),
        hidden=True,
        aria_live="polite",
        aria_labelledby="part-name",
    )
    return tag(
        "div",
        tag("figure", inlined(overview_svg(dossier.fitout)), id="drawn"),
        tag("canvas", "", id="picture", tabindex="0", role="application", hidden=True,
            aria_label=title, aria_describedby="keys"),
        tag("output", "", id="pin", hidden=True),
        tag("div", *views, class_="views live", role="group", aria_label=say("report_views")),
        part,
        id="stage",
    )  # fmt: skip


def inlined(picture: bytes) -> Markup:
    """A picture of ours to stand within the page; what was escaped in it stays so."""
    return Markup(re.sub(r"\n", "", picture.decode("utf-8")))


def look_section(dossier: Dossier, scene: Scene) -> Markup:
    """Everything that needs the script; hidden without it."""
    say = dossier.wording.say
    return tag(
        "section",
        tag("h2", say("report_look")),
        tag("p", say("report_keys"), id="keys", class_="n"),
        _openings(dossier, scene),
        _modules(dossier, scene),
        _apart(dossier),
        id="look",
        class_="live",
    )


def _openings(dossier: Dossier, scene: Scene) -> Markup:
    say = dossier.wording.say
    each = scene.movements.each
    if not each:
        return Markup("")
    rows = [_slider(dossier, i, movement) for i, movement in enumerate(each)]
    shut = tag("button", say("report_all_shut"), data_do="shut")
    return tag("fieldset", tag("legend", say("report_open")), *rows, tag("p", shut), id="openings")


def _slider(dossier: Dossier, number: int, movement: Movement) -> Markup:
    say = dossier.wording.say
    words = say("report_vehicle") if not movement.module else movement.module
    label = joined([name(movement.label), " ", tag("small", name(words))])
    return tag(
        "p",
        tag("label", label, for_=f"m{number}"),
        tag("input", type="range", id=f"m{number}", min=0.0, max=decimal(movement.travel, 3),
            value=0.0, step="any", data_movement=number),
        tag("output", "0", for_=f"m{number}"),
        class_="slider",
    )  # fmt: skip


def _modules(dossier: Dossier, scene: Scene) -> Markup:
    say = dossier.wording.say
    rows = []
    for i, (module, colour) in enumerate(zip(scene.modules, scene.colours, strict=True)):
        swatch = tag(
            "svg", tag("rect", width=14.0, height=14.0, fill=colour), width=14.0, height=14.0,
            aria_hidden="true",
        )  # fmt: skip
        rows.append(
            tag(
                "p",
                tag("input", type="checkbox", id=f"s{i}", checked=True, data_module=i),
                tag("label", swatch, " ", name(module), for_=f"s{i}"),
                tag("button", say("report_only"), data_only=i,
                    aria_label=say("report_only_of", module=module)),
                class_="module",
            )
        )  # fmt: skip
    rows.append(
        tag(
            "p",
            tag("input", type="checkbox", id="vehicle", checked=True),
            tag("label", say("report_show_vehicle"), for_="vehicle"),
            tag("button", say("report_all"), data_do="all"),
            class_="module",
        )
    )
    return tag("fieldset", tag("legend", say("report_modules")), *rows, id="modules")


def _apart(dossier: Dossier) -> Markup:
    say = dossier.wording.say
    options = [tag("option", say("report_no_section"), value="")]
    options += [tag("option", say(f"report_section_{axis}"), value=axis) for axis in AXES]
    return tag(
        "fieldset",
        tag("legend", say("report_apart")),
        tag(
            "p",
            tag("label", say("report_explode"), for_="explode"),
            tag("input", type="range", id="explode", min=0.0, max=1.0, step="any", value=0.0),
            tag("output", "0 %", for_="explode"),
            class_="slider",
        ),
        tag(
            "p",
            tag("label", say("report_section"), for_="axis"),
            tag("select", *options, id="axis"),
            class_="slider",
        ),
        tag(
            "p",
            tag("label", say("report_section_at"), for_="at"),
            tag("input", type="range", id="at", min=0.0, max=1.0, step="any", value=0.5,
                disabled=True),
            tag("output", "", for_="at"),
            class_="slider",
        ),
        tag(
            "p",
            tag("input", type="checkbox", id="flip", disabled=True),
            tag("label", say("report_flip"), for_="flip"),
            class_="module",
        ),
    )  # fmt: skip
