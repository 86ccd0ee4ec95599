"""The whole page: head, policy, sections in their order, data and script."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Callable
from importlib.resources import files

from fitout.documents.dossier import Dossier
from fitout.documents.report.axles import axles_section
from fitout.documents.report.findings_list import findings_section
from fitout.documents.report.gaps import gaps_section
from fitout.documents.report.look import look_section, stage
from fitout.documents.report.markup import Markup, joined, name, tag
from fitout.documents.report.masses import masses_section
from fitout.documents.report.parts_table import parts_section
from fitout.documents.report.scene import Scene, scene_of
from fitout.documents.report.sheets import sheets_section
from fitout.documents.report.steps_list import steps_section
from fitout.documents.report.trips import trips_section
from fitout.documents.report.verdict import verdict

SECTIONS: tuple[tuple[str, Callable[[Dossier, Scene], Markup]], ...] = (
    ("look", look_section),
    ("findings", findings_section),
    ("gaps", gaps_section),
    ("masses", masses_section),
    ("axles", axles_section),
    ("trips", trips_section),
    ("parts", parts_section),
    ("sheets", sheets_section),
    ("steps", steps_section),
)
"""Every section in its order; one that has nothing to tell gives empty markup."""

SCRIPTS = (
    "vectors.js",
    "scene.js",
    "opening.js",
    "picture.js",
    "camera.js",
    "picking.js",
    "report.js",
)
"""The files of the script, in the order in which each uses what stands before it."""


def report_html(dossier: Dossier) -> bytes:
    """The report as one file: UTF-8, nothing from outside, the same bytes for the same records."""
    say = dossier.wording.say
    scene = scene_of(dossier)
    told = [(key, make(dossier, scene)) for key, make in SECTIONS]
    told = [(key, section) for key, section in told if section]
    style, script = _style(), _script()
    head = joined(
        [
            tag("meta", charset="utf-8"),
            tag("meta", http_equiv="Content-Security-Policy", content=_policy(style, script)),
            tag("meta", name="viewport", content="width=device-width,initial-scale=1"),
            tag("meta", name="color-scheme", content="light dark"),
            tag("title", f"{dossier.design.name} – {say('report')}"),
            tag("style", Markup(style)),
        ]
    )
    links = [tag("a", say(f"report_{key}"), href=f"#{key}") for key, _ in told]
    body = joined(
        [
            tag("a", say("report_skip"), class_="skip", href="#findings"),
            tag(
                "header",
                tag("h1", name(dossier.design.name)),
                verdict(dossier),
                tag("nav", *links, aria_label=say("report_contents")),
            ),
            stage(dossier),
            tag("main", *(section for _, section in told), id="told"),
            tag("footer", tag("p", say("report_no_approval"))),
            tag("script", _data(dossier, scene), type="application/json", id="scene"),
            tag("script", Markup(script)),
        ]
    )
    page = f"<!doctype html>\n<html lang={dossier.spec.language}><head>{head}</head>\n<body>{body}"
    return f"{page}</body></html>\n".encode("utf-8", "replace")


def _policy(style: str, script: str) -> str:
    """Nothing is loaded from anywhere; only this very script and style are let run."""
    return (
        f"default-src 'none'; style-src '{_digest(style)}'; script-src '{_digest(script)}'; "
        "base-uri 'none'; form-action 'none'"
    )


def _digest(text: str) -> str:
    raw = hashlib.sha256(text.encode()).digest()
    return f"sha256-{base64.b64encode(raw).decode('ascii')}"


def _data(dossier: Dossier, scene: Scene) -> Markup:
    """The scene as JSON in which nothing can end the element it stands in."""
    say = dossier.wording.say
    keys = ("place", "ways", "open", "shut", "aside", "no_picture")
    whole = {
        **scene.as_object(),
        "unit": dossier.spec.lengths,
        "words": {key: say(f"report_js_{key}") for key in keys},
    }
    text = json.dumps(whole, ensure_ascii=True, separators=(",", ":"))
    return Markup(text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026"))


def _script() -> str:
    """The script, each name its own, without its comments and indents."""
    body = "\n".join(_shortened(_read(f"viewer/{file}"), "//") for file in SCRIPTS)
    return f'(()=>{{"use strict";\n{body}\n}})()'


def _style() -> str:
    return _shortened(_read("page.css"), "/*")


def _read(file: str) -> str:
    return files("fitout.documents.report").joinpath(file).read_text(encoding="utf-8")


def _shortened(text: str, comment: str) -> str:
    """Without lines that are comments only, blank lines and indents: a quarter of the size."""
    lines = (line.strip() for line in text.splitlines())
    return "\n".join(line for line in lines if line and not line.startswith(comment))
