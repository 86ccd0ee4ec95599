"""The written cut files read again: do they still make the fit-out that was checked?

Parts and sheets are read by a reader of their own (`cut_reading`), held against the cut plan,
put together again at their places in the bay, and held against the design:

    parts/P07.dxf   = the part as it is to be cut        every line within 0.01 mm, that to
                                                         which it is scribed too
    sheets/S02.dxf  = those parts, each so many times    where the plan lays them
    all parts       = the panels of the design           shape, holes, pockets, mass, gaps

What differs on purpose from the design counts as the same: a groove drawn narrower after its
test piece, since it comes out as designed; inside corners relieved for a router's bit, where
material is only taken away; what edging is glued on to, or is scribed to the
vehicle; depths, which a layer tells in tenths of a millimetre.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping
from pathlib import Path

from fitout.cutting.frame import Turn, reframed
from fitout.cutting.holding import lying
from fitout.cutting.plan import CutPlan, Sheet
from fitout.documents.alike import (
    OFF,
    apart,
    called,
    far,
    lines_told,
    missing_and_extra,
    told,
    trimmed,
    works,
)
from fitout.documents.cut_reading import CutFile, Drawn, read_cuts
from fitout.documents.dossier import Dossier
from fitout.documents.export import ExportError
from fitout.documents.put_together import against_design, repeated
from fitout.model.outline import Loop, Outline, rectangle
from fitout.model.panel import Hole, Panel

MOST_TOLD = 8
"""So many differences are told, the rest counted."""


class ReadBackError(ExportError):
    """What was written is not what was checked; the message says where."""


def read_back(folder: Path, dossier: Dossier) -> None:
    """Read the cut files in a freshly written export folder and hold them against the design.

    Raises:
        ReadBackError: if anything is off by more than 0.01 mm, or a mass by 0.1 %.
    """
    off, parts = _parts(folder, dossier.cuts)
    off += [text for sheet in dossier.cuts.sheets for text in _sheet(folder, sheet, dossier.cuts)]
    off += _stray(folder, dossier.cuts)
    off += _counts(dossier.cuts)
    if not off:
        panels = _assembled(dossier.cuts, parts)
        off = list(against_design(panels, dossier)) or list(repeated(panels, dossier))
    if off:
        more = f"\n  and {len(off) - MOST_TOLD} more" if len(off) > MOST_TOLD else ""
        listed = "".join(f"\n  {text}" for text in off[:MOST_TOLD])
        raise ReadBackError(
            "The cut files just written, read again, are not what was checked, so the former "
            f"export was left as it was. This is a fault of fitout's own:{listed}{more}"
        )


def _read(folder: Path, name: str) -> tuple[list[str], CutFile]:
    """What is wrong with the file as such, and what it holds."""
    try:
        return [], read_cuts((folder / name).read_bytes())
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else str(error)
        return [f"{name}: {reason}"], CutFile((), ())


def _parts(folder: Path, plan: CutPlan) -> tuple[list[str], dict[str, Panel]]:
    """What is off in the parts' files, and each part as its file has it, by number."""
    off: list[str] = []
    parts: dict[str, Panel] = {}
    for line in plan.cut_list.lines:
        name = f"parts/{line.number}.dxf"
        faults, found = _read(folder, name)
        off += faults
        if faults:
            continue
        drawn = found.drawn
        off += [f"{name}: {text}" for text in lines_told([line.panel], found.lines)]
        missing, extra = missing_and_extra(works(line.panel), drawn)
        if _mirrored(line.panel, drawn) and (missing or extra):
            off.append(f"{name}: {line.name} is mirrored")
        else:
            off += [f"{name}: {text}" for text in told(missing, extra)]
        if not missing and not extra:
            parts[line.number] = _as_read(line.panel, drawn)
    return off, parts


def _mirrored(panel: Panel, drawn: tuple[Drawn, ...]) -> bool:
    """Whether what is drawn is the panel as a mirror shows it."""
    turned = reframed(panel, Turn(0, flipped=True))
    # Turned over, sinks change face; in a mirror they don't.
    seen = dataclasses.replace(
        turned,
        holes=tuple(
            dataclasses.replace(h, face=old.face)
            for h, old in zip(turned.holes, panel.holes, strict=True)
        ),
        pockets=tuple(
            dataclasses.replace(p, face=old.face)
            for p, old in zip(turned.pockets, panel.pockets, strict=True)
        ),
    )
    missing, extra = missing_and_extra(works(seen), drawn)
    return not missing and not extra


def _as_read(panel: Panel, drawn: tuple[Drawn, ...]) -> Panel:
    """The panel made of the lines that were read, each standing for the one it agrees with.

    A line says where; how deep exactly and what is held comes from what it agrees with,
    since a layer's name tells tenths only.
    """

    def line(wanted: Drawn) -> Loop | Hole:
        same = (d for d in drawn if d.work == wanted.work)
        return min(same, key=lambda d: apart(wanted, d, OFF)).thing

    read = [line(wanted) for wanted in works(panel)]
    inner = len(panel.outline.inner)
    outer, *rest = read
    loops = [thing for thing in rest if isinstance(thing, Loop)]
    circles = [thing for thing in rest if isinstance(thing, Hole)]
    holes = tuple(
        dataclasses.replace(h, x=c.x, y=c.y, diameter=c.diameter)
        for h, c in zip(panel.holes, circles, strict=True)
    )
    assert isinstance(outer, Loop)
    pockets = tuple(
        dataclasses.replace(p, loop=loop)
        for p, loop in zip(panel.pockets, loops[inner:], strict=True)
    )
    outline = Outline(outer, tuple(loops[:inner]))
    read_as = dataclasses.replace(panel, outline=outline, holes=holes, pockets=pockets)
    return trimmed(read_as)


def _sheet(folder: Path, sheet: Sheet, plan: CutPlan) -> Iterator[str]:
    """What is off in one sheet's file."""
    name = f"sheets/{sheet.number}.dxf"
    faults, found = _read(folder, name)
    yield from (f"{text}" for text in faults)
    if faults:
        return
    border = rectangle(sheet.board.length, sheet.board.width)
    if len(found.borders) != 1 or far(border, found.borders[0]) > OFF:
        yield f"{name}: its border is not {sheet.board.length:g} x {sheet.board.width:g} mm"
    spec = plan.spec.of(sheet.board.key)
    left = list(found.drawn)
    parts = [lying(placed, plan.cut_list) for placed in sheet.placed]
    yield from (f"{name}: {text}" for text in lines_told(parts, found.lines))
    for placed, part in zip(sheet.placed, parts, strict=True):
        line = plan.cut_list.line(placed.number)
        wanted = works(part, spec.skin if spec.by == "router" else 0.0)
        missing, extra = missing_and_extra(wanted, left)
        if len(missing) == len(wanted):
            yield f"{name}: {line.number} ({line.name}) is missing"
            continue
        near = [d for d in extra if _within(d, part)] if missing else []
        yield from (f"{name}: {line.number} ({line.name}): {text}" for text in told(missing, near))
        gone = {id(d) for d in near}
        left = [d for d in extra if id(d) not in gone]
    yield from (f"{name}: {called(d)} is too many" for d in left)


def _within(drawn: Drawn, panel: Panel) -> bool:
    """Whether the thing's middle lies within the panel's bounding rectangle."""
    loop = drawn.thing.loop if isinstance(drawn.thing, Hole) else drawn.thing
    x0, y0, x1, y1 = loop.bounds
    left, lower, right, upper = panel.outline.bounds
    return left <= (x0 + x1) / 2.0 <= right and lower <= (y0 + y1) / 2.0 <= upper


def _stray(folder: Path, plan: CutPlan) -> list[str]:
    """Cut files that no part or sheet of the plan stands for."""
    wanted = {f"parts/{line.number}.dxf" for line in plan.cut_list.lines}
    wanted |= {f"sheets/{sheet.number}.dxf" for sheet in plan.sheets}
    found = {
        path.relative_to(folder).as_posix()
        for room in ("parts", "sheets")
        for path in (folder / room).glob("*.dxf")
    }
    return [f"{name}: nothing in the plan stands for it" for name in sorted(found - wanted)]


def _counts(plan: CutPlan) -> list[str]:
    """Parts of which the sheets hold another number than is wanted."""
    laid: dict[str, int] = {}
    for sheet in plan.sheets:
        for placed in sheet.placed:
            laid[placed.number] = laid.get(placed.number, 0) + 1
    return [
        f"sheets: {laid.get(line.number, 0)} of {line.number} ({line.name}), not {line.quantity}"
        for line in plan.cut_list.lines
        if laid.get(line.number, 0) != line.quantity
    ]


def _assembled(plan: CutPlan, parts: Mapping[str, Panel]) -> dict[str, Panel]:
    """Every panel as its part's file has it, at its place in the bay, by id."""
    return {
        panel.id: dataclasses.replace(
            panel, outline=read.outline, holes=read.holes, pockets=read.pockets
        )
        for line in plan.cut_list.lines
        for panel, read in ((panel, parts[line.number]) for panel in line.panels)
    }
