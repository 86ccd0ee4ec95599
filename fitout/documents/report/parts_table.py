"""Every part with its number, size, material, mass and sheet; the picture reads it from here."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from fitout.documents.dossier import Dossier
from fitout.documents.report.markup import Markup, joined, name, tag
from fitout.documents.report.scene import Scene
from fitout.documents.report.table import scrolled
from fitout.model.item import Item
from fitout.model.module import Part
from fitout.model.panel import Panel


def parts_section(dossier: Dossier, scene: Scene) -> Markup:
    """A table with a body of rows for each module; row `r7` is the part of the picture's row 7."""
    del scene
    say = dossier.wording.say
    numbers, sheets = dossier.numbers, _sheets(dossier)
    heads = [say("report_number"), say("part"), say("size"), say("material"), say("mass"),
             say("sheet")]  # fmt: skip
    head = tag("tr", *(tag("th", heading, scope="col") for heading in heads))
    bodies, row = [], 0
    for module in dossier.fitout.modules:
        title = tag("th", name(module.name), colspan="6", scope="rowgroup")
        rows = [tag("tr", title)]
        for part in module.parts():
            number = numbers.get(part.id, "")
            rows.append(_row(dossier, part, row, (number, sheets.get(number, ()))))
            row += 1
        bodies.append(tag("tbody", *rows))
    if not row:
        return Markup("")
    return tag(
        "section",
        tag("h2", say("report_parts")),
        tag("p", say("report_parts_said"), class_="live"),
        scrolled(say("report_parts"), tag("thead", head), *bodies, right=(5,)),
        id="parts",
    )


def _row(dossier: Dossier, part: Part, row: int, of: tuple[str, Iterable[str]]) -> Markup:
    number, sheets = of
    links = [tag("a", sheet, href=f"#sheet-{sheet}") for sheet in sheets]
    told = [joined([Markup(", ") if i else "", link]) for i, link in enumerate(links)]
    return tag(
        "tr",
        tag("td", number),
        tag("th", tag("button", name(part.name)), scope="row"),
        tag("td", _size(dossier, part)),
        tag("td", _material(dossier, part)),
        tag("td", f"{part.mass_kg:.2f} kg"),
        tag("td", joined(told)),
        id=f"r{row}",
    )


def _size(dossier: Dossier, part: Part) -> str:
    wording = dossier.wording
    if isinstance(part, Panel):
        length, width = part.outline.size
        return wording.size(length, width, part.thickness)
    if isinstance(part, Item):
        corners = [corner for piece in part.pieces for corner in piece]
        extent = [max(c[k] for c in corners) - min(c[k] for c in corners) for k in range(3)]
        return wording.size(*extent)
    return wording.size(part.length, part.section.width, part.section.height)


def _material(dossier: Dossier, part: Part) -> str:
    if isinstance(part, Panel):
        return part.board.key
    if isinstance(part, Item):
        return dossier.wording.say("report_bought")
    return part.section.key


def _sheets(dossier: Dossier) -> Mapping[str, tuple[str, ...]]:
    """The sheets each part number is cut from."""
    found: dict[str, list[str]] = {}
    for sheet in dossier.cuts.sheets:
        for placed in sheet.placed:
            on = found.setdefault(placed.number, [])
            if sheet.number not in on:
                on.append(sheet.number)
    return {number: tuple(on) for number, on in found.items()}
