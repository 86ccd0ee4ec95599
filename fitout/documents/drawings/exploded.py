"""Each module taken apart in a picture: balloons with part numbers, and the list of parts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from fitout.clearance.convex import Array
from fitout.documents.dossier import Dossier
from fitout.documents.drawings.apart import moved, shifts
from fitout.documents.drawings.sketch import (
    KEPT,
    SPACE,
    SPACE_HEIGHT,
    SPACE_WIDTH,
    TITLE_HEIGHT,
    TITLE_WIDTH,
    Box,
    Sketch,
)
from fitout.documents.drawings.viewport import Port, Window, window_of
from fitout.documents.paper.dimension import balloon
from fitout.documents.paper.layout import Layout
from fitout.documents.paper.marks import MEDIUM
from fitout.documents.paper.marks import moved as marks_moved
from fitout.documents.paper.table import Block, Column, Table, blocks
from fitout.documents.tables import needed, unit_of
from fitout.documents.view import THREE_QUARTER
from fitout.documents.views.forms import Form, part_form
from fitout.documents.views.hidden_lines import visible_lines
from fitout.documents.views.sight import seen_places
from fitout.documents.wording import Wording
from fitout.model.item import Item
from fitout.model.module import Module
from fitout.model.panel import Bar, Panel

BALLOONS = 14.0
"""Room round the picture for balloons, mm."""

BESIDE = 6.0
"""Room from the lists to the frame, which clears its centring mark, mm."""

GAP = 4.0
"""Room between the picture and the list, mm."""

Row = tuple[str, str, str, str, str]


def exploded_sheets(dossier: Dossier) -> tuple[Sketch, ...]:
    """One sheet for each module, more where its list is long."""
    return tuple(sheet for module in dossier.fitout.modules for sheet in _sheets(dossier, module))


def _sheets(dossier: Dossier, module: Module) -> Iterator[Sketch]:
    forms = {part.id: part_form(part) for part in module.parts()}
    if not forms:
        return
    numbers = balloon_numbers(dossier, module)
    lists = _lists(dossier, module, numbers)
    first, rest = _placed_lists(lists)
    wide = max((block.width for block, _ in first), default=0.0)
    room: Box = (0.0, 0.0, SPACE_WIDTH - BESIDE - wide - GAP, SPACE_HEIGHT)
    layout = Layout(SPACE, KEPT)
    for block, at in first:
        layout.draw(marks_moved(block.marks, at))
    port = _picture(layout, module, forms, room)
    _balloons(layout, port, module, forms, numbers)
    yield _sketch(dossier, module, layout, "")
    for number, block in enumerate(rest, start=2):
        layout = Layout(SPACE, KEPT)
        layout.draw(marks_moved(block.marks, (0.0, SPACE_HEIGHT - 1.0)))
        yield _sketch(dossier, module, layout, f"-{number}")


def _sketch(dossier: Dossier, module: Module, layout: Layout, more: str) -> Sketch:
    position = dossier.fitout.modules.index(module) + 1
    return Sketch(
        title=dossier.wording.say("exploded_of", module=module.name),
        kind=dossier.wording.say("exploded_view"),
        name=f"X{position:02d}{more}",
        marks=tuple(layout.marks),
        module=module.name,
    )


def balloon_numbers(dossier: Dossier, module: Module) -> dict[str, str]:
    """A number for each part by its id: the cut list's, and Z01 … for what is bought in."""
    found = {id_: n for id_, n in dossier.numbers.items() if id_.partition("/")[0] == module.name}
    kinds: dict[tuple[str, object], str] = {}
    for item in module.items:
        key = (item.article or item.name, item.pieces)
        kinds.setdefault(key, f"Z{len(kinds) + 1:02d}")
        found[item.id] = kinds[key]
    return found


def _lists(dossier: Dossier, module: Module, numbers: dict[str, str]) -> tuple[Table, ...]:
    """The parts of a module, and its hardware."""
    say, unit = dossier.wording.say, dossier.wording.unit
    told = (("part", 20.0), ("name", 46.0), ("quantity", 20.0), ("size", 56.0), ("material", 34.0))
    columns = tuple(
        Column(
            f"{say(key)} {unit}" if key == "size" else say(key),
            "right" if key == "quantity" else "left",
            most,
        )
        for key, most in told
    )
    lines = [
        (f"{sum(line.quantity for line in own)}{_metres(dossier, article)}", article)
        for article, own in needed(module.hardware).items()
    ]
    hardware = Table(
        (Column(say("quantity"), "right"), Column(say("name"), most=90.0)),
        tuple(lines),
        say("hardware"),
    )
    parts = Table(columns, tuple(part_rows(dossier, module, numbers)))
    return (parts, hardware) if lines else (parts,)


def _metres(dossier: Dossier, article: str) -> str:
    """The unit of what is bought by the metre."""
    known = dossier.articles.get(article)
    return f" {dossier.wording.say('bill_unit_m')}" if unit_of(known) == "m" else ""


def part_rows(dossier: Dossier, module: Module, numbers: dict[str, str]) -> list[Row]:
    """Number, names, quantity, size and material of each different part.

    A panel's length lies along the grain, as in the cut list and on its own drawing.
    """
    wording = dossier.wording
    lines = {line.number: line for line in dossier.cuts.cut_list.lines}
    rows: dict[str, tuple[list[str], str, str]] = {}
    for part in module.parts():
        number = numbers.get(part.id, "")
        if isinstance(part, Panel):
            line = lines[number]
            size = _across(wording, line.length, line.width, line.thickness)
            material = part.board.key
        elif isinstance(part, Bar):
            size, material = wording.length(part.length), part.section.key
        else:
            low, high = _item_size(part)
            size = _across(wording, *(high - low).tolist())
            material = part.article or wording.say("bought_item")
        rows.setdefault(number, ([], size, material))[0].append(part.name)
    return [
        (number, ", ".join(names), str(len(names)), size, material)
        for number, (names, size, material) in sorted(rows.items(), key=lambda one: _rank(one[0]))
    ]


def _across(wording: Wording, *lengths: float) -> str:
    return " x ".join(wording.length(one) for one in lengths)


def _rank(number: str) -> tuple[str, int, str]:
    digits = "".join(c for c in number if c.isdigit())
    return (number[:1], int(digits or 0), number)


def _item_size(item: Item) -> tuple[Array, Array]:
    points = np.vstack([np.array(piece) for piece in item.pieces])
    return points.min(axis=0), points.max(axis=0)


def _placed_lists(
    tables: Sequence[Table],
) -> tuple[list[tuple[Block, tuple[float, float]]], list[Block]]:
    """The lists down the right side above the title block, and what finds no room there."""
    placed: list[tuple[Block, tuple[float, float]]] = []
    rest: list[Block] = []
    top = SPACE_HEIGHT - 1.0
    for table in tables:
        for block in blocks(table, SPACE_HEIGHT - TITLE_HEIGHT - 4.0):
            if not rest and top - block.height > TITLE_HEIGHT + 2.0:
                placed.append((block, (SPACE_WIDTH - BESIDE - block.width, top)))
                top -= block.height + 5.0
            else:
                rest.append(block)
    return placed, rest


def _picture(layout: Layout, module: Module, forms: dict[str, Form], room: Box) -> Port:
    """The parts drawn apart, as large as the room lets them be."""
    by = shifts(module, forms)
    drawn = moved(forms.values(), by)
    window = window_of(THREE_QUARTER.on_sheet(form.vertices) for form in drawn)
    above_title = (room[0], TITLE_HEIGHT, room[2], room[3])
    beside_title = (room[0], room[1], min(room[2], SPACE_WIDTH - TITLE_WIDTH), room[3])
    left, low, reduced = min(
        (_fitted(window, one) for one in (above_title, beside_title)), key=lambda fit: fit[2]
    )
    corner = (left, low)
    port = Port(THREE_QUARTER, window, reduced, corner)
    layout.draw(port.seen(visible_lines(drawn, THREE_QUARTER), MEDIUM))
    return port


def _fitted(window: Window, room: Box) -> tuple[float, float, float]:
    """Where the window's corner comes to lie in a room, and 1 : n, with room for balloons.

    A picture is no view to measure in, so its scale is any that fills the room.
    """
    size = (room[2] - room[0] - 2.0 * BALLOONS, room[3] - room[1] - 2.0 * BALLOONS)
    reduced = max(window.width / size[0], window.height / size[1], 1.0)
    return (
        room[0] + BALLOONS + (size[0] - window.width / reduced) / 2.0,
        room[1] + BALLOONS + (size[1] - window.height / reduced) / 2.0,
        reduced,
    )


def _balloons(
    layout: Layout, port: Port, module: Module, forms: dict[str, Form], numbers: dict[str, str]
) -> None:
    """A balloon for each part, its dot where the part is seen best."""
    drawn = moved(forms.values(), shifts(module, forms))
    places = seen_places(drawn, port.eye, 3.0 * port.reduced)
    window: Window = port.window
    middle = np.array([(window.left + window.right) / 2.0, (window.bottom + window.top) / 2.0])
    order = sorted(
        range(len(drawn)), key=lambda k: (len(places[k]), drawn[k].id)
    )  # those with least room first
    for k in order:
        if not len(places[k]) or drawn[k].id not in numbers:
            continue
        own = places[k]
        centre = own.mean(axis=0)
        near = np.argsort(np.linalg.norm(own - centre, axis=1), kind="stable")
        outer = np.argsort(-np.linalg.norm(own - middle, axis=1), kind="stable")
        tips = port.flat(own[[*near[:3], *outer[:6:2]]])
        _ = any(balloon(layout, tip, numbers[drawn[k].id]) for tip in tips)
