"""The written cut files read again: do they still make the fit-out that was checked?

Parts and sheets are read by a reader of their own (`cut_reading`), held against the cut plan,
put together again at their places in the bay, and held against the design:

    parts/P07.dxf   = the part as it is to be cut        every line within 0.01 mm
    sheets/S02.dxf  = those parts, each so many times    where the plan lays them
    all parts       = the panels of the design           shape, holes, pockets, mass, gaps

What differs on purpose from the design counts as the same: a groove drawn narrower after its
test piece, since it comes out as designed; inside corners relieved for a router's bit, where
material is only taken away; depths, which a layer tells in tenths of a millimetre.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping
from pathlib import Path

import numpy as np
import shapely

from fitout.checks.gaps import REACH, at_rest
from fitout.checks.subject import Subject, subject_of
from fitout.clearance.contact import Contact
from fitout.cutting.coupon import adapted, groove_errors
from fitout.cutting.frame import Turn, reframed
from fitout.cutting.plan import CutPlan, Sheet
from fitout.documents.alike import (
    OFF,
    apart,
    called,
    counted,
    distances,
    far,
    missing_and_extra,
    told,
    works,
)
from fitout.documents.cut_reading import Drawn, read_cuts
from fitout.documents.dossier import Dossier
from fitout.documents.export import ExportError
from fitout.model.outline import Loop, Outline, Vertex, polygon, rectangle
from fitout.model.panel import Face, Hole, Panel
from fitout.model.placement import Array

MASS_SHARE = 1e-3
"""By this share the mass of what was read may differ."""

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
        off = list(_against_design(panels, dossier))
        off = off or [*_masses(panels, dossier), *_gaps(panels, dossier)]
    if off:
        more = f"\n  and {len(off) - MOST_TOLD} more" if len(off) > MOST_TOLD else ""
        listed = "".join(f"\n  {text}" for text in off[:MOST_TOLD])
        raise ReadBackError(
            "The cut files just written, read again, are not what was checked, so the former "
            f"export was left as it was. This is a fault of fitout's own:{listed}{more}"
        )


def _read(folder: Path, name: str) -> tuple[list[str], tuple[Drawn, ...], tuple[Loop, ...]]:
    """What is wrong with the file as such, what it cuts, and its borders."""
    try:
        found = read_cuts((folder / name).read_bytes())
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else str(error)
        return [f"{name}: {reason}"], (), ()
    return [], found.drawn, found.borders


def _parts(folder: Path, plan: CutPlan) -> tuple[list[str], dict[str, Panel]]:
    """What is off in the parts' files, and each part as its file has it, by number."""
    off: list[str] = []
    parts: dict[str, Panel] = {}
    for line in plan.cut_list.lines:
        name = f"parts/{line.number}.dxf"
        faults, drawn, _ = _read(folder, name)
        off += faults
        if faults:
            continue
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
        dataclasses.replace(p, loop=piece)
        for p, loop in zip(panel.pockets, loops[inner:], strict=True)
        for piece in _within_part(loop, outer)
    )
    outline = Outline(outer, tuple(loops[:inner]))
    return dataclasses.replace(panel, outline=outline, holes=holes, pockets=pockets)


def _within_part(sink: Loop, outer: Loop) -> list[Loop]:
    """The sink as far as it lies within the part: it may be drawn beyond its edge."""
    whole = shapely.Polygon(sink.chords(grows=False))
    part = shapely.Polygon(outer.chords(grows=True))
    if part.buffer(OFF).covers(whole):
        return [sink]
    pieces = shapely.get_parts(whole.intersection(part))
    return [polygon(list(p.exterior.coords)) for p in pieces if p.area > 0.0]


def _sheet(folder: Path, sheet: Sheet, plan: CutPlan) -> Iterator[str]:
    """What is off in one sheet's file."""
    name = f"sheets/{sheet.number}.dxf"
    faults, drawn, borders = _read(folder, name)
    yield from (f"{text}" for text in faults)
    if faults:
        return
    border = rectangle(sheet.board.length, sheet.board.width)
    if len(borders) != 1 or far(border, borders[0]) > OFF:
        yield f"{name}: its border is not {sheet.board.length:g} x {sheet.board.width:g} mm"
    spec = plan.spec.of(sheet.board.key)
    left = list(drawn)
    for placed in sheet.placed:
        line = plan.cut_list.line(placed.number)
        lying = reframed(line.panel, Turn(placed.quarter_turns), (placed.x, placed.y))
        wanted = works(lying, spec.skin if spec.by == "router" else 0.0)
        missing, extra = missing_and_extra(wanted, left)
        if len(missing) == len(wanted):
            yield f"{name}: {line.number} ({line.name}) is missing"
            continue
        near = [d for d in extra if _within(d, lying)] if missing else []
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


def _against_design(panels: Mapping[str, Panel], dossier: Dossier) -> Iterator[str]:
    """What of the panels as read is not the design's, each in its place."""
    errors = groove_errors(dossier.design.boards, dossier.subject.setting.boards)
    for design in adapted(dossier.fitout.panels(), errors):
        read = panels.get(design.id)
        if read is None:
            yield f"{design.id}: no part was cut for it"
            continue
        wanted = told_in(design, read)
        if wanted is None:
            yield f"{design.id}: its part does not lie in the panel's plane"
            continue
        spec = dossier.cuts.spec.of(read.board.key)
        bit = spec.kerf if spec.by == "router" and spec.corners != "none" else 0.0
        missing, extra = missing_and_extra(works(wanted), works(read))
        for thing in list(missing):
            relieved = next((f for f in extra if _relieved(thing, f, bit)), None)
            if relieved is not None:
                missing.remove(thing)
                extra.remove(relieved)
        yield from (f"{design.id}, as put together: {text}" for text in told(missing, extra))


def told_in(panel: Panel, other: Panel) -> Panel | None:
    """The panel told in the frame in which `other` is told; None if the two planes differ."""
    mine, theirs = panel.placement.matrix, other.placement.matrix
    turn = theirs[:, :3].T @ mine[:, :3]
    shift = theirs[:, :3].T @ (mine[:, 3] - theirs[:, 3])
    over = bool(turn[2, 2] < 0.0)
    reach = max(map(abs, panel.outline.bounds))
    lean = float(np.abs(turn[2, :2]).max()) * reach
    height = abs(shift[2] - (panel.thickness if over else 0.0))
    if lean + height > OFF or abs(panel.thickness - other.thickness) > OFF:
        return None

    def at(x: float, y: float) -> tuple[float, float]:
        u, v = (turn[:2, :2] @ (x, y) + shift[:2]).tolist()
        return u, v

    def loop(old: Loop) -> Loop:
        sign = -1.0 if over else 1.0
        return Loop(tuple(Vertex(*at(v.x, v.y), sign * v.bulge) for v in old.vertices))

    def face(old: Face) -> Face:
        return (Face.B if old is Face.A else Face.A) if over else old

    def hole(old: Hole) -> Hole:
        x, y = at(old.x, old.y)
        return dataclasses.replace(old, x=x, y=y, face=face(old.face))

    return dataclasses.replace(
        panel,
        outline=Outline(loop(panel.outline.outer), tuple(map(loop, panel.outline.inner))),
        holes=tuple(map(hole, panel.holes)),
        pockets=tuple(
            dataclasses.replace(p, loop=loop(p.loop), face=face(p.face)) for p in panel.pockets
        ),
        placement=other.placement,
    )


def _relieved(wanted: Drawn, found: Drawn, bit: float) -> bool:
    """Whether what was found is what was wanted with its inside corners relieved.

    All that differs lies within a bit's diameter of a corner, and takes material away.
    """
    if wanted.work != found.work or isinstance(wanted.thing, Hole) or isinstance(found.thing, Hole):
        return False
    grown = found.thing.area - wanted.thing.area
    if bit == 0.0 or (grown > 0.0) is (wanted.work.kind == "PERIMETER"):
        return False
    corners = np.array([(v.x, v.y) for v in wanted.thing.vertices])
    for one, other in ((wanted.thing, found.thing), (found.thing, wanted.thing)):
        points = counted(one, wanted.within)
        if not _near(points[distances(points, other) > OFF], corners, bit + OFF):
            return False
    return True


def _near(points: Array, corners: Array, reach: float) -> bool:
    apart = points[:, None] - corners[None]
    return bool((np.hypot(apart[..., 0], apart[..., 1]).min(axis=1, initial=0.0) <= reach).all())


def _masses(panels: Mapping[str, Panel], dossier: Dossier) -> Iterator[str]:
    """Masses that differ: of a part as it is to be cut, of all panels together as designed."""
    for line in dossier.cuts.cut_list.lines:
        read = panels[line.panels[0].id].mass_kg
        if abs(read - line.mass_each_kg) > MASS_SHARE * line.mass_each_kg:
            yield f"{line.number} weighs {read:.3f} kg as read, not {line.mass_each_kg:.3f} kg"
    wanted = sum(panel.mass_kg for panel in dossier.fitout.panels())
    found = sum(panels[panel.id].mass_kg for panel in dossier.fitout.panels())
    if abs(found - wanted) > MASS_SHARE * wanted:
        yield f"all panels weigh {found:.3f} kg as read, {wanted:.3f} kg as designed"


def _gaps(panels: Mapping[str, Panel], dossier: Dossier) -> Iterator[str]:
    """Gaps between bodies that are not what they were, with the panels as read."""
    subject = dossier.subject
    again = _put_together(panels, dossier)
    opened = {
        panel.id
        for panel in subject.fitout.panels()
        if again.parts[panel.id].mass_kg < panel.mass_kg * (1.0 - 1e-9)
    }
    first, second = at_rest(subject), at_rest(again)
    for a, b in dict.fromkeys((*first, *second)):
        reach = _reach(subject, a, b, (first.get((a, b)) or second[a, b])[0])
        was, now = (_free(found.get((a, b)), reach) for found in (first, second))
        if abs(now - was) > OFF and not (now > was and opened & {a, b}):
            yield f"{a} keeps {now:.2f} mm from {b} as read, {was:.2f} mm as designed"


def _put_together(panels: Mapping[str, Panel], dossier: Dossier) -> Subject:
    """The same fit-out of the panels as read; grooves for a test piece's board come out so."""
    subject = dossier.subject
    tested = set(groove_errors(dossier.design.boards, subject.setting.boards))

    def cut(design: Panel) -> Panel:
        read = panels[design.id]
        wanted = told_in(design, read)
        if wanted is None or not tested:
            return read
        kept = [pocket for pocket in read.pockets if pocket.holds not in tested]
        fitted = [pocket for pocket in wanted.pockets if pocket.holds in tested]
        return dataclasses.replace(read, pockets=(*kept, *fitted))

    modules = tuple(
        dataclasses.replace(module, panels=tuple(map(cut, module.panels)))
        for module in subject.fitout.modules
    )
    fitout = dataclasses.replace(subject.fitout, modules=modules)
    return subject_of(fitout, subject.setting, subject.cutting, subject.conflicts)


def _reach(subject: Subject, a: str, b: str, limit: float) -> float:
    """How far the two are looked at: no farther than they must keep if they belong together."""
    other = subject.parts.get(b)
    together = other is not None and other.module == subject.parts[a].module
    return limit if together or (a, b) in subject.joined else REACH


def _free(found: tuple[float, Contact] | None, reach: float) -> float:
    """The gap up to the reach, less than zero where the two share room."""
    return reach if found is None else min(found[1].gap, reach) - found[1].depth
