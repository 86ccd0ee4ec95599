"""The panels as they were read, put together in the bay and held against the design.

What differs on purpose counts as the same: a groove drawn narrower after its test piece, since
it comes out as designed; inside corners relieved for a router's bit, where material is only
taken away; a part cut smaller by its edging, which makes it whole again, or larger where it is
to be scribed to the vehicle: such a part is held against the one cut anew from the design.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping

import numpy as np
import shapely

from fitout.checks.gaps import REACH, at_rest
from fitout.checks.subject import Subject, subject_of
from fitout.clearance.contact import Contact
from fitout.cutting.coupon import adapted, groove_errors
from fitout.cutting.outset import SPIKE
from fitout.cutting.plan import CutPlan
from fitout.cutting.scribing import as_cut
from fitout.documents.alike import OFF, counted, distances, missing_and_extra, told, trimmed, works
from fitout.documents.cut_reading import Drawn
from fitout.documents.dossier import Dossier
from fitout.model.outline import Loop, Outline, Vertex
from fitout.model.panel import Face, Hole, Panel
from fitout.model.placement import Array

MASS_SHARE = 1e-3
"""By this share the mass of what was read may differ."""


def against_design(panels: Mapping[str, Panel], dossier: Dossier) -> Iterator[str]:
    """What of the panels as read is not the design's, each in its place."""
    errors = groove_errors(dossier.design.boards, dossier.subject.setting.boards)
    designed = list(adapted(dossier.fitout.panels(), errors))
    setting, allowance = dossier.subject.setting, dossier.subject.cutting.scribe_allowance
    cuts = as_cut(designed, setting.bay, setting.rules, allowance)
    for design, cut in zip(designed, cuts, strict=True):
        read = panels.get(design.id)
        if read is None:
            yield f"{design.id}: no part was cut for it"
            continue
        wanted, finished = told_in(cut, read), told_in(design, read)
        if wanted is None or finished is None:
            yield f"{design.id}: its part does not lie in the panel's plane"
            continue
        bit = _relieving(dossier.cuts, read)
        if (read.strips or read.scribe) and not _made_whole(read, finished, bit):
            off = "edging does not make it whole" if read.strips else "edges can't be scribed to it"
            yield f"{design.id}, as put together: its {off}"
        missing, extra = missing_and_extra(works(wanted), works(read))
        for thing in list(missing):
            relieved = next((f for f in extra if _relieved(thing, f, bit)), None)
            if relieved is not None:
                missing.remove(thing)
                extra.remove(relieved)
        yield from (f"{design.id}, as put together: {text}" for text in told(missing, extra))


def _relieving(plan: CutPlan, panel: Panel) -> float:
    """The diameter of the bit that relieves the panel's inside corners, 0 where none does."""
    spec = plan.spec.of(panel.board.key)
    return spec.kerf if spec.by == "router" and spec.corners != "none" else 0.0


def _made_whole(cut: Panel, finished: Panel, bit: float) -> bool:
    """Whether a part lacks but its strips and its reliefs, and has no more than is left to scribe.

    A curve that meets an edge with a strip may run on beside the strip's end.
    """
    small, whole = (
        shapely.Polygon(panel.outline.outer.chords(grows=False)) for panel in (cut, finished)
    )
    bands = [
        shapely.LineString([strip.start, strip.end]).buffer(
            strip.thickness + OFF, cap_style="square"
        )
        for strip in cut.strips
    ]
    corners = [shapely.Point(v.x, v.y).buffer(bit + OFF) for v in finished.outline.outer.vertices]
    lacking = whole.difference(small).difference(shapely.union_all([*bands, *corners]))
    left = 0.0 if cut.scribe is None else SPIKE * cut.scribe.allowance
    more = small.difference(whole.buffer(left + OFF) if left else whole)
    slack = OFF * whole.length
    return bool(more.area < slack and lacking.area < slack)


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
    return bool((np.hypot(apart[..., 0], apart[..., 1]).min(axis=1, initial=np.inf) <= reach).all())


def repeated(panels: Mapping[str, Panel], dossier: Dossier) -> Iterator[str]:
    """Masses and clearances that are not the design's, reckoned again with the panels as read."""
    for line in dossier.cuts.cut_list.lines:
        read, wanted = panels[line.panel.id].mass_kg, trimmed(line.panel).mass_kg
        if abs(read - wanted) > MASS_SHARE * wanted:
            yield f"{line.number} weighs {read:.4f} kg as read, {wanted:.4f} kg as it is to be cut"
    subject, again = dossier.subject, _put_together(panels, dossier)
    wanted = sum(panel.mass_kg for panel in subject.fitout.panels())
    found = sum(panel.mass_kg for panel in again.fitout.panels())
    if abs(found - wanted) > MASS_SHARE * wanted:
        yield f"all panels weigh {found:.3f} kg as read, {wanted:.3f} kg as designed"
    yield from _gaps(subject, again)


def _gaps(subject: Subject, again: Subject) -> Iterator[str]:
    """Gaps between bodies that are not what they were; corners relieved may open one."""
    opened = {
        panel.id
        for panel, read in zip(subject.fitout.panels(), again.fitout.panels(), strict=True)
        if read.mass_kg < panel.mass_kg * (1.0 - 1e-9)
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
        if wanted is not None and (read.strips or read.scribe):
            return dataclasses.replace(wanted, holes=read.holes)
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
