"""Whether there is enough to cut from, what is known before nesting and after it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from fitout.checks.subject import Subject
from fitout.checks.verdict import at_least, fact, remark
from fitout.cutting.bars import bar_sources, cut_bars
from fitout.cutting.coupon import MODULE as TEST_PIECES
from fitout.cutting.coupon import how_to_measure
from fitout.cutting.cut_list import CutLine, cut_list
from fitout.cutting.plan import BoardUse, CutPlan, Sheet
from fitout.cutting.purchases import bars_sentence, sheet_kg, sheets_sentence, short_of
from fitout.cutting.saw_words import saw_sentence, settings, yard_sentence
from fitout.cutting.sequence import saw_order, saw_steps
from fitout.cutting.stocks import SAME_THICKNESS, odd_offcuts, sources, without_price
from fitout.cutting.yard import too_large_to_carry
from fitout.model.cutting import CuttingSpec, StockSpec
from fitout.model.finding import Finding, Severity
from fitout.model.stock import Board

AREA = "area of the parts over the usable area of a sheet, a lower bound"
NESTED = "nesting; the bound is proven for every layout by bounding rectangles"
COMMON_PRACTICE = "common practice"


def check_stock(subject: Subject) -> Iterator[Finding]:
    """How few sheets can do, offcuts that are no use, prices that are missing, stock too small.

    The sheets it really takes are found by `build`; before that only the bound is known.
    """
    lines: dict[Board, list[CutLine]] = {}
    panels = tuple(subject.cut_panels())
    cuts = subject.memory.recall(("cut list", panels), lambda: cut_list(panels))
    for line in cuts.lines:
        lines.setdefault(line.board, []).append(line)
    for board, parts in lines.items():
        yield from _board(subject, board, parts)
    sections = {bar.section for module in subject.fitout.modules for bar in module.bars}
    for section in sorted(sections, key=lambda section: section.key):
        bought = [s for s in bar_sources(section, subject.stock) if s.origin == "bought"]
        if len(bought) > 1 and any(source.price is None for source in bought):
            yield _no_price(section.key)


def _board(subject: Subject, board: Board, lines: list[CutLine]) -> Iterator[Finding]:
    found = sources(board, subject.stock, subject.cutting.of(board.key))
    for offcut in odd_offcuts(board, subject.stock):
        label = f" {offcut.label}" if offcut.label else ""
        sentence = (
            f"The offcut{label} of {board.key} is {offcut.thickness:g} mm thick and the parts are "
            f"drawn at {board.thickness:g} mm, so it is not used: joints are cut to within "
            f"{SAME_THICKNESS:g} mm. If that is what your sheets measure, enter it as `measured` "
            "under boards."
        )
        yield remark("offcut thickness", board.key, Severity.CAUTION, sentence)
    if without_price(found):
        yield _no_price(board.key)
    area = sum(line.panel.outline.moments[0] * line.quantity for line in lines)
    had = sum(
        s.usable[0] * s.usable[1] * (math.inf if s.quantity is None else s.quantity) for s in found
    )
    if area > had:
        short = (
            f"What there is of {board.key} holds {had / 1e6:.2f} m² and the parts take "
            f"{area / 1e6:.2f} m². Enter more under stock: sheets, or none to buy what it takes."
        )
        yield at_least("stock", board.key, had / 1e6, area / 1e6, "m²", short, AREA)
        return
    if len(found) == 1:
        length, width = found[0].usable
        least = max(1, math.ceil(area / (length * width) - 1e-9))
        told = "1 sheet" if least == 1 else f"{least} sheets"
        sentence = f"{board.key}: no fewer than {told} by area; `build` finds how many it takes."
        yield fact("sheets", board.key, least, "sheets", sentence, AREA)


def _no_price(name: str) -> Finding:
    sentence = (
        f"Not every size of {name} has a price, so sizes are compared by what they measure, not "
        "by what they cost. Enter `price` with each under stock."
    )
    return remark("price", name, Severity.CAUTION, sentence)


def nested_findings(plan: CutPlan, stock: StockSpec) -> Iterator[Finding]:
    """What is known once all is nested: how many sheets, if proven; what is not to be had."""
    bars = cut_bars(plan.cut_list, plan.spec, stock)
    for thing, count in short_of(plan, bars):
        more = "1 more is" if count == 1 else f"{count} more are"
        sentence = (
            f"What there is of {thing.key} does not hold all parts: {more} needed. Enter more "
            "under stock, or none to buy what it takes."
        )
        yield at_least("stock", thing.key, -count, 0.0, "pieces", sentence, NESTED)
    if plan.stopped:
        told = "Nesting was ended early: the sheets are the best so far, not the same next time."
        yield remark("nesting", "sheets", Severity.CAUTION, told)
    uses = {use.board.key: use for use in plan.boards}
    for sheet in plan.sheets:
        yield from _at_the_yard(sheet, plan.spec_of(sheet))
        yield from _carried(sheet, plan.spec_of(sheet), uses, stock.currency)
    for line in plan.cut_list.lines:
        if line.panel.module == TEST_PIECES:
            told = how_to_measure(line.panel)
            yield fact("test piece", line.number, line.quantity, "pieces", told, COMMON_PRACTICE)
    for use in plan.boards:
        if use.sheets:
            sentence = f"{use.board.key}: {sheets_sentence(use, stock.currency)}."
            yield fact("nesting", use.board.key, use.sheets, "sheets", sentence, NESTED)
    for key, steps in saw_order(plan).items():
        if steps:
            told = f"{key}: {saw_sentence(steps)}."
            yield fact("saw", key, settings(steps), "settings", told, COMMON_PRACTICE)
    for section in bars.uses:
        key = section.section.key
        sentence = f"{key}: {bars_sentence(section, stock.currency)}."
        yield fact("nesting", key, section.sticks, "lengths", sentence, NESTED)
    for large in bars.too_long:
        yield at_least("bar length", large.name, -large.over, 0.0, "mm", large.sentence, NESTED)


def _at_the_yard(sheet: Sheet, spec: CuttingSpec) -> Iterator[Finding]:
    """What to ask the timber yard for."""
    asked = yard_sentence(saw_steps(sheet, spec)) if spec.saw.yard is not None else ""
    if asked:
        count = sum(step.yard for step in saw_steps(sheet, spec))
        sentence = f"{sheet.number}: ask the timber yard for {asked} mm, to get it into the car."
        yield fact("yard cuts", sheet.number, count, "cuts", sentence, COMMON_PRACTICE)


def _carried(
    sheet: Sheet, spec: CuttingSpec, uses: Mapping[str, BoardUse], currency: str
) -> Iterator[Finding]:
    """Whether the yard's few cuts leave pieces that can be taken along."""
    left = too_large_to_carry(sheet, spec)
    if not left or spec.saw.yard is None:
        return
    largest, divides = max(left, key=lambda pair: pair[0].area)
    share = largest.area / (sheet.board.length * sheet.board.width)
    cuts = spec.saw.yard.cuts
    cure = (
        "Ask for more cuts under yard, or have it brought."
        if divides
        else "It is hardly more than one part: have it brought."
    )
    sentence = (
        f"After the yard's {cuts} cut{'' if cuts == 1 else 's'} in {sheet.number} a piece of "
        f"{largest.length:.0f} × {largest.width:.0f} mm, {share * sheet_kg(sheet.board):.1f} kg, "
        f"is left, more than can be taken along. {cure}"
    )
    use = uses.get(sheet.board.key)
    if use is not None and use.carried is not None:
        sentence += f" {_other_choice(use, currency)}"
    yield remark("yard", sheet.number, Severity.CAUTION, sentence)


def _other_choice(use: BoardUse, currency: str) -> str:
    """What it would cost to cut so that all pieces can be taken along."""
    assert use.carried is not None
    if use.cost is not None:
        more, unit = use.carried - use.cost, currency if use.priced else "m²"
        return f"Sheets cut so that all can be taken along would cost {more:.2f} {unit} more."
    count = round(use.carried)
    price = use.board.price
    paid = "" if price is None else f", {(count - use.sheets) * price:.2f} {currency}".rstrip()
    return (
        f"Cut so that all can be taken along, {use.board.key} takes {count} sheets instead of "
        f"{use.sheets}{f'{paid} more' if paid else ''}."
    )
