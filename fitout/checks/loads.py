"""Slides against their rating, panels against deflection and bending strength."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from fitout.checks.remedies import board_entry, thicker_sheets
from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE, at_most, remark
from fitout.mechanics.boards import (
    KNEE_N,
    KNEE_SAG_SHARE,
    STRENGTH_SHARE,
    knee_on,
    pressure_mpa,
    strength_used,
)
from fitout.mechanics.plates import plate_of_board, plate_response
from fitout.mechanics.slides import slide_utilisation
from fitout.model.finding import Finding, Severity
from fitout.model.module import PlateDuty
from fitout.model.panel import Grain, Panel

SAG_SHARE = 200.0
"""A panel under a spread load may sag its span over this (general floors: common practice)."""

PLATE_SOURCE = (
    "Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed. (orthotropic, Navier); "
    "limit: common practice"
)


def check_slides(subject: Subject) -> Iterator[Finding]:
    """Moving parts and contents on each pair of slides against the catalogue rating."""
    for module in subject.fitout.modules:
        for duty in module.slides:
            moving = sum(subject.loads[i].mass_kg for i in duty.moving)
            load = moving + duty.contents_kg
            slide = duty.slide
            share = slide_utilisation(load, slide.rating_kg)
            sentence = (
                f"{duty.name}: {moving:.1f} kg of moving parts and {duty.contents_kg:g} kg of "
                f"contents load the slides {slide.key} to {100.0 * share:.0f} % of their "
                f"{slide.rating_kg:g} kg a pair. The rating holds at rest on a level floor; "
                f"driving over rough ground asks for a reserve."
            )
            yield at_most(
                "slide load", duty.name, load, slide.rating_kg, "kg", sentence, slide.source
            )


def check_panels(subject: Subject) -> Iterator[Finding]:
    """Deflection and bending stress of every panel that carries something."""
    for module in subject.fitout.modules:
        for duty in module.plates:
            panel = subject.parts[duty.panel]
            assert isinstance(panel, Panel)
            yield from _plate(subject, panel, duty)


@dataclass(frozen=True, slots=True)
class _Strain:
    """How far a panel sags, mm, and which share of its bending strength is used."""

    sag: float
    use: float

    def passes(self, duty: PlateDuty) -> bool:
        """Whether both are within what is allowed."""
        return self.sag <= _most_sag(duty) and self.use <= STRENGTH_SHARE


def _plate(subject: Subject, panel: Panel, duty: PlateDuty) -> Iterator[Finding]:
    strain = _strain(subject, panel, duty)
    if strain is None:
        sentence = (
            f"{panel.id} was not checked for bending: the catalogue has no stiffness or strength "
            f"for {panel.board.key}; add them with their source under `catalogue: sheets:`."
        )
        yield remark("panel bending", panel.id, Severity.UNCHECKED, sentence)
        return
    remedy = "" if strain.passes(duty) else _remedy(subject, panel, duty)
    yield from _plate_findings(panel, duty, strain, remedy)


def _strain(subject: Subject, panel: Panel, duty: PlateDuty) -> _Strain | None:
    """The worse of the ways its grain may run; None where the board's values are not known."""
    board = panel.board
    ways = {Grain.ALONG_U: (True,), Grain.ALONG_V: (False,), Grain.EITHER: (True, False)}
    pressure = pressure_mpa(board, duty.spans, duty.load_kg)
    patch = knee_on(duty.spans) if duty.patch else None
    strains = []
    for along in ways[panel.grain]:
        plate = plate_of_board(board, duty.spans, duty.edges, grain_along_u=along)
        if plate is None:
            return None
        asked = (plate, pressure, patch)
        response = subject.memory.recall(("plate", *asked), partial(plate_response, *asked))
        use = strength_used(board, response, grain_along_u=along)
        if use is None:
            return None
        strains.append((response.deflection, use))
    return _Strain(sag=max(s for s, _ in strains), use=max(u for _, u in strains))


def _remedy(subject: Subject, panel: Panel, duty: PlateDuty) -> str:
    """The thinnest sheet of the same sort that passes, or that none does."""
    for sheet in thicker_sheets(subject, panel.board):
        strain = _strain(subject, dataclasses.replace(panel, board=sheet), duty)
        if strain is not None and strain.passes(duty):
            return f" {sheet.key} would do ({board_entry(subject, panel)})."
    return (
        " No thicker sheet of its sort would do: the span must be shorter (a rib beneath it, or a "
        "narrower module)."
    )


def _span(duty: PlateDuty) -> float:
    if duty.edges == "all":
        return min(duty.spans)
    return duty.spans[0 if duty.edges == "u ends" else 1]


def _most_sag(duty: PlateDuty) -> float:
    """How far the panel may sag, mm."""
    return duty.most_sag or _span(duty) / (KNEE_SAG_SHARE if duty.patch else SAG_SHARE)


def _load(duty: PlateDuty) -> str:
    """What the panel carries, in words."""
    if not duty.patch:
        return f"{duty.load_kg:g} kg spread"
    knee = knee_on(duty.spans)
    words = "a knee (1 kN on 100 × 100)"
    if knee.load_n < KNEE_N:
        size = f"{knee.size_u:.0f} × {knee.size_v:.0f}"
        words = f"its share of a knee ({knee.load_n / 1000.0:.2f} kN on {size})"
    return f"{words} and {duty.load_kg:g} kg spread" if duty.load_kg else words


def _plate_findings(
    panel: Panel, duty: PlateDuty, strain: _Strain, remedy: str
) -> Iterator[Finding]:
    load, sag, limit = _load(duty), strain.sag, _most_sag(duty)
    sentence = (
        f"{panel.id} ({panel.board.key}, {duty.purpose}) sags {sag:.1f} mm under {load} over "
        f"{_span(duty):.0f} mm; {limit:.1f} mm are allowed."
    )
    if sag > limit:
        sentence += remedy
    yield at_most("panel sag", panel.id, sag, limit, "mm", sentence, PLATE_SOURCE)
    use, most = 100.0 * strain.use, 100.0 * STRENGTH_SHARE
    sentence = (
        f"{panel.id} is bent to {use:.0f} % of the bending strength of {panel.board.key} under "
        f"{load}; {most:.0f} % are allowed."
    )
    if use > most:
        sentence += remedy
    source = f"{PLATE_SOURCE}; strength: {panel.board.source or COMMON_PRACTICE}"
    yield at_most("panel bending", panel.id, use, most, "%", sentence, source)
