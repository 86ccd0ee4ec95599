"""The saw's sequences as tables: each cut with what is set, what it gives and what falls off.

The sheets of a material are sawn together, so that a setting serves each of them before the next
one is set; the numbers are those of the cutting plans and of `saw.csv`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from fitout.cutting.sequence import Piece, SawStep
from fitout.documents.dossier import Dossier
from fitout.documents.drawings.packing import GAP, ROOM, TALL, packed
from fitout.documents.drawings.panel_sheets import ranges
from fitout.documents.drawings.sketch import TITLE_BLOCK, Sketch
from fitout.documents.paper.table import Block, Column, Table, blocks
from fitout.documents.wording import Wording

HEIGHTS = (250.0, 196.0, 120.0)
"""A sequence is parted to be no higher than one of these, mm; the first stands beside the title
block, the second above it."""

COPY = " copy "
"""Between a part's number and which of its copies a cut gives."""


def sequence_sheets(order: Mapping[str, Sequence[SawStep]], dossier: Dossier) -> Iterator[Sketch]:
    """The sequences of all materials that are sawn, as many on a sheet as find room."""
    wording, say = dossier.wording, dossier.wording.say
    sawn = [(key, steps) for key, steps in order.items() if steps]
    copied = {line.number for line in dossier.cuts.cut_list.lines if line.quantity > 1}
    tables = [_table(key, steps, copied, wording) for key, steps in sawn]
    groups = [list(_ways(table)) for table in tables]
    for i, page in enumerate(packed(groups, still_open=1) if groups else []):
        there = [sawn[k] for k in dict.fromkeys(page.groups)]
        title = say("saw_titled", board=", ".join(key for key, _ in there))
        numbers = dict.fromkeys(step.sheet for _, steps in there for step in steps)
        yield Sketch(
            title=title,
            kind=say("saw_sequence"),
            name=f"saw-{i + 1}",
            marks=tuple(page.marks),
            number=ranges(list(numbers)),
        )


def _ways(table: Table) -> Iterator[list[Block]]:
    """The table whole beside the title block if it is narrow enough, else above it."""
    for high in HEIGHTS:
        parts = blocks(table, high)
        if high <= TALL or parts[0].width <= TITLE_BLOCK[0] - ROOM[0] - GAP:
            yield parts


def _table(key: str, steps: Sequence[SawStep], copied: set[str], wording: Wording) -> Table:
    say = wording.say
    columns = (
        Column(say("saw_step"), "right"),
        Column(say("saw_piece")),
        Column(say("saw_cut")),
        Column(say("saw_set")),
        Column(say("saw_gives"), most=76.0),
        Column(say("saw_rest"), most=76.0),
    )
    rows = tuple(_step(step, copied, wording) for step in steps)
    numbers = list(dict.fromkeys(step.sheet for step in steps))
    title = say("saw_titled", board=key)
    if len(numbers) > 1:
        title = say("saw_together", title=title, numbers=ranges(numbers))
    return Table(columns, rows, title)


def _step(step: SawStep, copied: set[str], wording: Wording) -> tuple[str, ...]:
    say = wording.say
    tool = "yard" if step.yard else "fence" if step.fence else "track"
    return (
        f"{step.number}",
        _piece(step.piece, copied, wording),
        say("saw_across" if step.across else "saw_along"),
        say(f"saw_{tool}", measure=wording.length(step.measure)),
        _goes(step.gives, copied, wording),
        _goes(step.rest, copied, wording) if step.rest else "",
    )


def _piece(piece: Piece, copied: set[str], wording: Wording) -> str:
    # The sequence names copies in English; of a part that is there once it says nothing.
    number, _, copy = piece.name.partition(COPY)
    name = f"{number} {wording.say('saw_copy')} {copy}" if copy and number in copied else number
    return f"{name}  {wording.length(piece.length)} x {wording.length(piece.width)}"


def _goes(piece: Piece, copied: set[str], wording: Wording) -> str:
    """What a cut gives, and what becomes of it: a piece is cut on, waste needs no name."""
    told = _piece(piece, copied, wording)
    if piece.fate == "piece":
        return told
    if piece.fate == "waste":
        told = told.partition("  ")[2]
    return f"{wording.say(f'saw_to_{piece.fate}')} {told}"
