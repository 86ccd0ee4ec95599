"""The whole guide: what to have and to heed, every step, what to look at before driving."""

from __future__ import annotations

from collections import Counter

from fitout.documents.dossier import Dossier
from fitout.documents.drawings.exploded import balloon_numbers
from fitout.documents.guide.paper import BOTTOM, LEFT, LINE, TEXT, Flow
from fitout.documents.guide.staging import Staging
from fitout.documents.guide.step_blocks import step_block, tool_words
from fitout.documents.paper.fonts import wrapped
from fitout.documents.paper.marks import Page, moved
from fitout.documents.paper.pdf import pdf
from fitout.documents.paper.table import Column, Table
from fitout.documents.tables import unit_of
from fitout.model.documents import PAPERS
from fitout.model.finding import WORST_FIRST, Severity
from fitout.model.module import MotionKind

CAUTIONS = (
    "caution_read", "caution_lift", "caution_vehicle", "caution_drill",
    "caution_protect", "caution_screws", "caution_straps", "caution_approval",
)  # fmt: skip

BETWEEN = 3.5
"""Room between two steps, mm."""

MOST_OPEN = 10
"""So many findings are told in full."""


def assembly_pdf(dossier: Dossier) -> bytes:
    """The guide as a PDF; the same bytes for the same dossier."""
    return pdf(assembly_pages(dossier), f"{dossier.design.name}: {dossier.wording.say('guide')}")


def assembly_pages(dossier: Dossier) -> tuple[Page, ...]:
    """The guide's pages, upright."""
    flow = Flow(PAPERS[dossier.spec.paper])
    _front(flow, dossier)
    _steps(flow, dossier)
    _before_driving(flow, dossier)
    title = f"{dossier.design.name} – {dossier.wording.say('guide')}"
    return flow.pages(title, dossier.wording)


def _front(flow: Flow, dossier: Dossier) -> None:
    """How to read the guide, what to heed, tools and fasteners."""
    say = dossier.wording.say
    flow.heading(dossier.design.name, 7.0)
    flow.heading(say("guide"), 5.0)
    bench = sum(1 for step in dossier.steps if step.phase == "bench")
    total = len(dossier.steps)
    unit = dossier.wording.unit
    flow.paragraph(say("guide_intro", steps=total, bench=bench, vehicle=total - bench, unit=unit))
    flow.y -= 3.0
    flow.heading(say("cautions"))
    for key in CAUTIONS:
        flow.paragraph(say(key), "dash")
    flow.y -= 3.0
    rows = tuple((tool, _spans(numbers)) for tool, numbers in _tools(dossier).items())
    columns = (Column(say("tools"), most=80.0), Column(say("tool_steps"), most=90.0))
    flow.table(Table(columns, rows))
    counted: Counter[str] = Counter()
    for step in dossier.steps:
        for article, count in step.fasteners:
            counted[article] += count
    rows_of = dossier.subject.setting.catalogue.articles
    fasteners = tuple(
        (f"{count} m" if unit_of(rows_of.get(article)) == "m" else str(count), article)
        for article, count in sorted(counted.items())
    )
    columns = (Column(say("quantity"), "right"), Column(say("name"), most=70.0))
    if fasteners:
        flow.table(Table(columns, fasteners, say("all_fasteners")))


def _tools(dossier: Dossier) -> dict[str, list[int]]:
    """Each tool with the steps it is needed in."""
    found: dict[str, list[int]] = {}
    for step in dossier.steps:
        for tool in step.tool.split(", "):
            kind = "ratchet" if tool.startswith("ratchet") else tool
            if kind != "by hand":
                words = (
                    dossier.wording.say("tool ratchet")
                    if kind == "ratchet"
                    else (tool_words(dossier, kind))
                )
                found.setdefault(words, []).append(step.number)
    return found


def _spans(numbers: list[int]) -> str:
    """Numbers with runs drawn together: `3–5, 9`."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and runs[-1][1] == number - 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    return ", ".join(str(a) if a == b else f"{a}–{b}" for a, b in runs)


def _steps(flow: Flow, dossier: Dossier) -> None:
    """Every step, the bench's and the vehicle's each begun on a new page."""
    staging = Staging(dossier)
    numbers: dict[str, str] = {}
    for module in dossier.fitout.modules:
        numbers.update(balloon_numbers(dossier, module))
    phase = ""
    for step in dossier.steps:
        if step.phase != phase:
            phase = step.phase
            flow.turn()
            flow.heading(dossier.wording.say(f"phase_{phase}"), 5.0)
        block = step_block(staging, step, numbers)
        flow.room(block.height)
        flow.draw(moved(block.marks, (LEFT, flow.y)))
        flow.y -= block.height + BETWEEN


def _before_driving(flow: Flow, dossier: Dossier) -> None:
    """What to look at before driving, and what the checks leave open."""
    say = dossier.wording.say
    flow.turn()
    flow.heading(say("before_drive"), 5.0)
    flow.paragraph(say("before_drive_intro"))
    for words in _list(dossier):
        flow.paragraph(words, "box")
    told = [f for severity in WORST_FIRST for f in dossier.findings if f.severity is severity]
    left = [finding for finding in told if finding.severity is not Severity.PASS]
    if left:
        flow.y -= 3.0
        flow.heading(say("left_open"))
        for number, finding in enumerate(left):
            lines = len(wrapped(finding.sentence, TEXT, flow.right - LEFT - 6.0))
            if number == MOST_OPEN or flow.y - lines * LINE < BOTTOM + 16.0:
                flow.paragraph(say("left_open_more", count=len(left) - number), "dash")
                break
            flow.paragraph(finding.sentence, "dash")


def _list(dossier: Dossier) -> list[str]:
    """What to check, as far as the fit-out has it."""
    say, modules = dossier.wording.say, dossier.fitout.modules
    kinds = {module.kind for module in modules}
    motions = {motion.kind for module in modules for motion in module.motions}
    bolts = sum(len(module.fixings) + len(module.tops) for module in modules)
    strapped = sorted({
        line.module for line in dossier.hardware if "strap" in line.article.split()
    })  # fmt: skip
    bay = dossier.fitout.bay
    kept = [o.name for o in bay.obstacles if o.kind == "keep clear"]
    asked = (
        (bolts > 0, say("drive_bolts", count=bolts)),
        (True, say("drive_rest")),
        (MotionKind.SLIDE in motions, say("drive_slides")),
        (MotionKind.HINGE in motions, say("drive_lids")),
        (bool(strapped), say("drive_straps", names=", ".join(strapped))),
        ("water tank" in kinds, say("drive_tank")),
        ("barrier" in kinds, say("drive_barrier")),
        (bay.front_kind == "seat_back", say("drive_seat")),
        (True, say("drive_tailgate")),
        (bool(kept), say("drive_kept", names=", ".join(kept))),
        (True, say("drive_loose")),
        (True, say("drive_weigh")),
    )
    return [words for holds, words in asked if holds]
