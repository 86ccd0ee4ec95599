"""What would make a panel bear its load: ribs beneath it, a thicker sheet, its grain turned.

Every advice is worked out by checking the panel again with it; the one that takes least wood
is told first. Ribs are strips of the carcass board on edge, glued and screwed to the panel's
underside, that run from support to support; only where there is room for them.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fitout.checks.bending import Bent, bent_panel
from fitout.checks.probe import free_depth
from fitout.checks.remedies import board_entry, thicker_sheets
from fitout.checks.subject import Subject
from fitout.mechanics.beams import (
    BeamResult,
    bending_stress_mpa,
    centre_load,
    second_moment,
    uniform_load,
)
from fitout.mechanics.boards import KNEE_N, pressure_mpa
from fitout.mechanics.timber import K_MOD, Duration, final_factor, strength_share
from fitout.model.module import PlateDuty
from fitout.model.panel import Grain, Panel
from fitout.model.placement import Vector
from fitout.model.stock import Board

RIB_HEIGHTS = (20.0, 30.0, 40.0, 60.0, 80.0)
MOST_RIBS = 3
LEVEL = 0.99
CLEAR_BELOW = 2.0
"""Least room between a rib and what is beneath it, mm (common practice)."""


@dataclass(frozen=True, slots=True)
class Ribs:
    """Ribs along v (or u), how high they are, where between the edges they lie, at edges too?"""

    along_v: bool
    height: float
    places: tuple[float, ...]
    at_edges: bool


def panel_cure(subject: Subject, panel: Panel, duty: PlateDuty) -> str:
    """What would do, in a sentence; or that nothing of the kind does."""
    ribs = min(_ribs(subject, panel, duty), key=lambda found: found[0], default=None)
    sheet = next(_thicker(subject, panel, duty), None)
    turned = _turned(subject, panel, duty)
    told = [turned] if turned else []
    told += [text for _, text in sorted(found for found in (ribs, sheet) if found)]
    if not told:
        return (
            "No thicker sheet of its sort would do, nor is there room for ribs beneath it: the "
            "span must be shorter (a narrower module, or a support of its own)."
        )
    words = "; or ".join(told)
    # A sheet's name is told as the design has to write it.
    first = words[0] if sheet and words.startswith(sheet[1]) else words[0].upper()
    return f"{first}{words[1:]}."


def _thicker(subject: Subject, panel: Panel, duty: PlateDuty) -> Iterator[tuple[float, str]]:
    """Thicker sheets that pass, with the wood they add, mm³."""
    for sheet in thicker_sheets(subject, panel.board):
        bent = bent_panel(subject.memory, sheet, duty, panel.grain)
        if bent is not None and bent.passes(duty):
            more = panel.outline.area * (sheet.thickness - panel.thickness)
            yield more, f"{sheet.key} would do ({board_entry(subject, panel)})"


def _turned(subject: Subject, panel: Panel, duty: PlateDuty) -> str:
    """That the same sheet bears it with its face grain the other way, if so."""
    if not panel.board.grain:
        return ""
    for grain, size in zip((Grain.ALONG_U, Grain.ALONG_V), panel.outline.size, strict=True):
        bent = bent_panel(subject.memory, panel.board, duty, grain)
        if grain is not panel.grain and bent is not None and bent.passes(duty):
            return (
                f"with its face grain along its {size:.0f} mm it would do "
                f"(it then sags {bent.sag:.1f} mm)"
            )
    return ""


def _ribs(subject: Subject, panel: Panel, duty: PlateDuty) -> Iterator[tuple[float, str]]:
    """Ribs that do, of each way and number the lowest, with their wood, mm³, and their words."""
    if abs(panel.placement.w[2]) < LEVEL:
        return
    board = subject.setting.boards["carcass"]
    ways = {"all": (True, False), "u ends": (False,), "v ends": (True,)}[duty.edges]
    at_edges = duty.edges != "all"
    for along_v in ways:
        across, length = duty.spans if along_v else duty.spans[::-1]
        for count in range(0 if at_edges else 1, MOST_RIBS + 1):
            for height in RIB_HEIGHTS:
                places = tuple(across * k / (count + 1) for k in range(1, count + 1))
                ribs = Ribs(along_v, height, places, at_edges)
                bent = _on_ribs(subject, (panel, board), duty, ribs)
                if bent is None or not _passes(bent, duty, height):
                    continue
                if _has_room(subject, panel, duty, ribs):
                    whole = (count + 2 * at_edges) * height * length * board.thickness
                    yield whole, _told(panel, (duty, board), ribs, bent)
                break


def _passes(bent: Bent, duty: PlateDuty, height: float) -> bool:
    """Whether panel and ribs pass, and keep clear of what half the room is kept for."""
    if not bent.passes(duty):
        return False
    return duty.most_sag is None or bent.final + height <= 2.0 * duty.most_sag


def _on_ribs(
    subject: Subject, boards: tuple[Panel, Board], duty: PlateDuty, ribs: Ribs
) -> Bent | None:
    """The panel over the widest field between ribs, lying on the rib that bears most."""
    panel, board = boards
    across, length = duty.spans if ribs.along_v else duty.spans[::-1]
    fields = len(ribs.places) + 1
    spans = (across / fields, length) if ribs.along_v else (length, across / fields)
    part = dataclasses.replace(duty, spans=spans, edges="all", load_kg=duty.load_kg / fields)
    field = bent_panel(subject.memory, panel.board, part, panel.grain)
    pressure = pressure_mpa(panel.board, duty.spans, duty.load_kg)
    rib = _rib(board, duty, ribs.height, (length, pressure * across / fields * length))
    return None if field is None or rib is None else field.plus(rib)


def _rib(board: Board, duty: PlateDuty, height: float, load: tuple[float, float]) -> Bent | None:
    """One rib under a knee at its middle and its share of what is spread; `load` is span and N.

    On edge the plies of both directions share: the mean of both counts (common practice).
    """
    (span, spread_n), kind = load, board.kind
    values = (board.e_along_mpa, board.e_across_mpa,
              board.strength_along_mpa, board.strength_across_mpa)  # fmt: skip
    e_along, e_across, strong, weak = (v or 0.0 for v in values)
    if not min(e_along, e_across, strong, weak) or kind not in K_MOD:
        return None
    inertia = second_moment(board.thickness, height)
    stiffness = inertia * (e_along + e_across) / 2.0
    lasting = uniform_load(span, spread_n, stiffness)
    knee = centre_load(span, KNEE_N, stiffness) if duty.patch else BeamResult(0.0, 0.0)
    stress = bending_stress_mpa(lasting.moment_nmm + knee.moment_nmm, height, inertia)
    duration: Duration = "short" if duty.patch else "long"
    return Bent(
        sag=lasting.deflection + knee.deflection,
        final=lasting.deflection * final_factor(kind),
        use=stress / (strength_share(kind, duration) * (strong + weak) / 2.0),
        duration=duration,
    )


def _has_room(subject: Subject, panel: Panel, duty: PlateDuty, ribs: Ribs) -> bool:
    """Whether nothing is where the ribs would go, as all stands shut."""
    others = [body for id_, body in subject.bodies.items() if id_ != panel.id]
    deep = ribs.height + CLEAR_BELOW
    board = subject.setting.boards["carcass"]
    for middle in _middles(duty, ribs, board.thickness):
        face = _underside(panel, duty, ribs, (middle, board.thickness))
        if free_depth(face, (0.0, 0.0, -1.0), deep, others)[0] < deep:
            return False
    return True


def _middles(duty: PlateDuty, ribs: Ribs, thickness: float) -> tuple[float, ...]:
    """Where the ribs' middles lie, from one end of the free span."""
    across = duty.spans[0 if ribs.along_v else 1]
    edges = (thickness / 2.0, across - thickness / 2.0) if ribs.at_edges else ()
    return (*edges, *ribs.places)


def _underside(
    panel: Panel, duty: PlateDuty, ribs: Ribs, rib: tuple[float, float]
) -> Sequence[Vector]:
    """The corners of a rib's upper face, a little inside it so that supports don't count."""
    (middle, thickness), p = rib, panel.placement
    below = 0.0 if p.w[2] > 0.0 else panel.thickness
    x0, y0, x1, y1 = panel.outline.bounds
    u0, v0 = (x0 + x1 - duty.spans[0]) / 2.0, (y0 + y1 - duty.spans[1]) / 2.0
    half, inset = thickness / 2.0 - 0.5, 1.0
    if ribs.along_v:
        u, v = (u0 + middle - half, u0 + middle + half), (v0 + inset, v0 + duty.spans[1] - inset)
    else:
        u, v = (u0 + inset, u0 + duty.spans[0] - inset), (v0 + middle - half, v0 + middle + half)
    corners = ((u[0], v[0]), (u[1], v[0]), (u[1], v[1]), (u[0], v[1]))
    drop = CLEAR_BELOW / 4.0
    return [(x, y, z - drop) for x, y, z in (p.at(a, b, below) for a, b in corners)]


def _told(panel: Panel, what: tuple[PlateDuty, Board], ribs: Ribs, bent: Bent) -> str:
    duty, board = what
    edge = _edge(panel, ribs.along_v)
    side = 0 if ribs.along_v else 1
    beside = (panel.outline.size[side] - duty.spans[side]) / 2.0
    numbers = [f"{beside + place:.0f}" for place in ribs.places]
    listed = " and ".join([", ".join(numbers[:-1]), numbers[-1]] if numbers[1:] else numbers)
    where = f"at {listed} mm from its {edge} edge" if listed else ""
    if ribs.at_edges:
        where = f"along both free edges{' and ' if where else ''}{where}"
    many = len(ribs.places) + 2 * ribs.at_edges > 1
    noun = f"{'ribs' if many else 'a rib'} of {board.key}, {ribs.height:.0f} high"
    return f"{noun}, {where} would do (it then sags {bent.sag:.1f} mm)"


def _edge(panel: Panel, across_u: bool) -> str:
    """The name of the edge that the ribs are measured from; the spans lie in the middle."""
    x, y, _ = panel.placement.u if across_u else panel.placement.v
    if abs(x) > abs(y):
        return "rear" if x > 0.0 else "front"
    return "right" if y > 0.0 else "left"
