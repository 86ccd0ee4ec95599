"""Labels on their sheets, in the order in which parts come off the saw or router."""

from __future__ import annotations

from collections.abc import Iterator

from fitout.cutting.bars import cut_bars
from fitout.documents.dossier import Dossier
from fitout.documents.facing import Facing, far_end, looks, pointed
from fitout.documents.labels.label import Part, label
from fitout.documents.paper.fonts import shortened
from fitout.documents.paper.marks import Mark, Page, Text, moved
from fitout.documents.paper.pdf import pdf
from fitout.model.documents import LabelSheet, label_sheet
from fitout.model.panel import Bar

HEADROOM = 9.0
"""From here on there is room above the labels to say how they are stuck on, mm."""


def labels_pdf(dossier: Dossier) -> bytes:
    """Sheets of labels for every part that is cut; one empty sheet if there is none."""
    return pdf(label_pages(dossier), f"{dossier.design.name} · {dossier.wording.say('labels')}")


def label_pages(dossier: Dossier) -> list[Page]:
    """The sheets, from the first free label on."""
    sheet = label_sheet(dossier.spec.labels, dossier.spec.paper)
    words = dossier.wording
    marks: dict[int, list[Mark]] = {0: []}
    for place, part in enumerate(parts(dossier), start=sheet.first - 1):
        number, at = divmod(place, sheet.count)
        drawn = label(part, (sheet.width, sheet.height), words)
        marks.setdefault(number, []).extend(moved(drawn, sheet.corner(at)))
    return [
        Page(*sheet.paper, (*_head(dossier, sheet, (number, len(marks))), *found))
        for number, found in marks.items()
    ]


def _head(dossier: Dossier, sheet: LabelSheet, page: tuple[int, int]) -> Iterator[Mark]:
    """Above the labels, where that is waste: whose they are and how they are stuck on."""
    if sheet.top < HEADROOM:
        return
    words = dossier.wording
    y = sheet.paper[1] - sheet.top + 2.0
    count = words.say("page_of", page=page[0] + 1, pages=page[1])
    right = sheet.paper[0] - max(sheet.left, 10.0)
    left = max(sheet.left, 10.0)
    yield Text((right, y), count, 1.8, "right")
    how = f"{dossier.design.name}. {words.say('labels_how')}"
    yield Text((left, y), shortened(how, 1.8, right - left - 22.0), 1.8)


def parts(dossier: Dossier) -> Iterator[Part]:
    """What each label says: the parts of each sheet, then the bars."""
    cuts = dossier.cuts
    known = dossier.subject.parts
    lines = {line.number: line for line in cuts.cut_list.lines}
    for sheet in cuts.sheets:
        for placed in sorted(sheet.placed, key=lambda one: (one.number, one.copy)):
            line = lines[placed.number]
            panel = line.panels[placed.copy - 1]
            # A test piece lies nowhere in the vehicle.
            there = panel.id in known
            yield Part(
                number=line.number,
                copy=(placed.copy, line.quantity),
                sheet=sheet.number,
                name=panel.name,
                module=panel.module,
                material=line.board.key,
                size=(line.length, line.width, line.thickness),
                face=looks(panel) if there else "",
                outline=panel.outline.outer,
                grain=line.grain_locked,
                facing=pointed(panel.placement) if there else None,
            )
    bars = {line.number: line for line in cuts.cut_list.bars}
    for stick in cut_bars(cuts.cut_list, cuts.spec, dossier.design.stock).sticks:
        for cut in stick.cuts:
            one = bars[cut.number]
            bar = one.bars[cut.copy - 1]
            yield Part(
                number=one.number,
                copy=(cut.copy, one.quantity),
                sheet=stick.number,
                name=bar.name,
                module=bar.module,
                material=one.section.key,
                size=(one.length, one.section.width, one.section.height),
                face="",
                outline=None,
                grain=False,
                facing=_end(bar),
            )


def _end(bar: Bar) -> Facing | None:
    """Which end of a bar is up, forward or left; nothing where both ends are alike."""
    there = sorted((round(at, 3), size) for at, size in bar.holes)
    back = sorted((round(bar.length - at, 3), size) for at, size in bar.holes)
    if there == back:
        return None
    side = far_end(bar)
    return Facing(side, 0.0)
