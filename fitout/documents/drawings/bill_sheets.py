"""The bill of materials and the cut list as tables on drawing sheets."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fitout.documents.bill import BillRow, BillSum, bill_rows, bill_sums
from fitout.documents.dossier import Dossier
from fitout.documents.drawings.packing import packed
from fitout.documents.drawings.sketch import Sketch
from fitout.documents.paper.table import Column, Table, blocks, without_empty
from fitout.documents.wording import Wording

WIDEST = 130.0
"""Text columns are wrapped beyond this, mm."""

HEIGHTS = (196.0, 150.0, 120.0)
"""Tables are parted to be no higher than one of these, whichever takes the fewest sheets; the
first clears the title block, mm."""


def bill_sheets(dossier: Dossier) -> tuple[Sketch, ...]:
    """The cut list, then the bill in its groups, each with its sum."""
    say = dossier.wording.say
    return (
        *_sheets("cut-list", say("cut_list"), [_panels(dossier), *_bars(dossier)], dossier),
        *_sheets("bill", say("bill"), list(_bill(dossier)), dossier),
    )


def _sheets(name: str, title: str, tables: Sequence[Table], dossier: Dossier) -> Iterator[Sketch]:
    wording = dossier.wording
    filled = [without_empty(table) for table in tables if table.rows]
    ways = [[[[part]] for table in filled for part in blocks(table, high)] for high in HEIGHTS]
    pages = min((packed(parts, still_open=1) for parts in ways), key=len)
    for i, page in enumerate(pages):
        yield Sketch(
            title=title if i == 0 else wording.say("continued", title=title),
            kind=wording.say("parts_list"),
            name=name + (f"-{i + 1}" if i else ""),
            marks=tuple(page.marks),
        )


def _panels(dossier: Dossier) -> Table:
    wording, say = dossier.wording, dossier.wording.say
    rows = [
        (
            cut.number,
            cut.name,
            ", ".join(cut.modules),
            f"{cut.quantity}",
            cut.board.key,
            *(wording.length(v) for v in (cut.length, cut.width, cut.thickness)),
            say("grain_along") if cut.grain_locked else "",
            wording.work(cut.edging),
            _two(cut.mass_kg),
        )
        for cut in dossier.cuts.cut_list.lines
    ]
    columns = (
        Column(say("part")),
        Column(say("name"), most=70.0),
        Column(say("module"), most=34.0),
        Column(say("quantity"), "right"),
        Column(say("material"), most=34.0),
        Column(say("column_length"), "right"),
        Column(say("column_width"), "right"),
        Column(say("column_thick"), "right"),
        Column(say("grain").capitalize(), most=20.0),
        Column(say("column_edges"), most=36.0),
        Column(say("column_mass_all"), "right"),
    )
    return Table(columns, tuple(rows), say("cut_list_panels", unit=wording.unit))


def _bars(dossier: Dossier) -> Iterator[Table]:
    wording, say = dossier.wording, dossier.wording.say
    rows = []
    for bar in dossier.cuts.cut_list.bars:
        modules = ", ".join(dict.fromkeys(one.module for one in bar.bars))
        rows.append(
            (
                bar.number,
                bar.name,
                modules,
                f"{bar.quantity}",
                bar.section.key,
                wording.length(bar.length),
                _two(bar.mass_kg),
            )
        )
    columns = (
        Column(say("part")),
        Column(say("name"), most=70.0),
        Column(say("module"), most=34.0),
        Column(say("quantity"), "right"),
        Column(say("material"), most=40.0),
        Column(say("column_length"), "right"),
        Column(say("column_mass_all"), "right"),
    )
    if rows:
        yield Table(columns, tuple(rows), say("cut_list_bars", unit=wording.unit))


def _bill(dossier: Dossier) -> Iterator[Table]:
    """A table for each group, then the sums of all."""
    wording, say = dossier.wording, dossier.wording.say
    rows = bill_rows(dossier)
    sums = bill_sums(rows)
    currency = dossier.design.stock.currency
    unit = f" {currency}" if currency else ""
    columns = (
        Column(say("name"), most=60.0),
        Column(say("quantity"), "right"),
        Column("", most=14.0),
        Column(say("bill_source"), most=26.0),
        Column(f"{say('size')} {wording.unit}", most=46.0),
        Column(f"{say('mass')} kg", "right", 16.0),
        Column(f"{say('bill_built_in')} kg", "right", 20.0),
        Column(f"{say('bill_price_each')}{unit}", "right", 22.0),
        Column(f"{say('bill_price')}{unit}", "right", 22.0),
        Column(say("column_for"), most=WIDEST),
    )
    for total in sums:
        if total.group is None:
            everything = _total(total, say("bill_all"), wording)
            yield Table(columns, (everything,), say("bill_all"))
            continue
        told = [_row(row, wording) for row in rows if row.group == total.group]
        told.append(_total(total, say("bill_sum"), wording))
        yield Table(columns, tuple(told), say(f"bill_{total.group}"))


def _row(row: BillRow, wording: Wording) -> tuple[str, ...]:
    say = wording.say
    return (
        row.name,
        f"{row.quantity}",
        say(f"bill_unit_{row.unit}"),
        say(f"bill_{row.origin}"),
        " x ".join(wording.length(length) for length in row.size),
        _two(row.mass_kg),
        _two(row.built_in_kg),
        _two(row.price),
        _two(row.cost),
        row.purpose,
    )


def _total(total: BillSum, name: str, wording: Wording) -> tuple[str, ...]:
    missing = len(total.without_price)
    note = ""
    if missing == total.different and missing:
        note = wording.say("bill_no_price")
    elif missing:
        note = wording.say("bill_without_price", count=missing, all=total.different)
    masses = (_two(total.mass_kg), _two(total.built_in_kg))
    return (name, "", "", "", "", *masses, "", _two(total.cost), note)


def _two(amount: float | None) -> str:
    return "" if amount is None else f"{amount:.2f}"
