"""Slides against their rating, panels against deflection and bending strength."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE, at_most, remark
from fitout.mechanics.plates import Patch, plate_of_board, plate_response
from fitout.mechanics.slides import slide_utilisation
from fitout.model.finding import Finding, Severity
from fitout.model.module import PlateDuty
from fitout.model.panel import Grain, Panel

G = 9.80665
KNEE_N = 1000.0
KNEE = 100.0
"""A person kneeling on a panel: 1.0 kN on 100 × 100 mm (common practice)."""

SAG_SHARE = 200.0
"""A panel under a spread load may sag its span over this (general floors: common practice)."""

KNEE_SAG_SHARE = 100.0
"""Under a knee it may sag its span over this (common practice)."""

STRENGTH_SHARE = 0.5
"""Share of the handbook bending strength used before loads on the road and long loading are
looked at (a prudent proposal; creep and impact come with their own checks)."""

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


def _plate(subject: Subject, panel: Panel, duty: PlateDuty) -> Iterator[Finding]:
    board = panel.board
    able = plate_of_board(board, duty.spans, duty.edges) is not None
    if not able or board.strength_along_mpa is None or board.strength_across_mpa is None:
        sentence = (
            f"{panel.id} was not checked for bending: the catalogue has no stiffness or strength "
            f"for {board.key}; add them with their source under `catalogue: sheets:`."
        )
        yield remark("panel bending", panel.id, Severity.UNCHECKED, sentence)
        return
    # Where the grain may run either way the weaker way counts.
    ways = {Grain.ALONG_U: (True,), Grain.ALONG_V: (False,), Grain.EITHER: (True, False)}
    results = []
    for along in ways[panel.grain]:
        plate = plate_of_board(board, duty.spans, duty.edges, grain_along_u=along)
        assert plate is not None
        dead = panel.thickness * board.density_kg_m3 * 1e-9 * G
        pressure = dead + duty.load_kg * G / (duty.spans[0] * duty.spans[1])
        patch = None
        if duty.patch:
            sizes = [min(KNEE, span) for span in duty.spans]
            patch = Patch(load_n=KNEE_N, size_u=sizes[0], size_v=sizes[1])
        asked = (plate, pressure, patch)
        response = subject.memory.recall(("plate", *asked), partial(plate_response, *asked))
        strong, weak = board.strength_along_mpa, board.strength_across_mpa
        strength_u, strength_v = (strong, weak) if along else (weak, strong)
        use = max(
            response.stress_u_mpa / strength_u,
            response.stress_v_mpa / strength_v,
        )
        results.append((use, response.deflection))
    use = max(r[0] for r in results)
    sag = max(r[1] for r in results)
    yield from _plate_findings(panel, duty, use, sag)


def _plate_findings(panel: Panel, duty: PlateDuty, use: float, sag: float) -> Iterator[Finding]:
    load = f"{duty.load_kg:g} kg spread" if not duty.patch else "a knee (1 kN on 100 × 100)"
    if duty.patch and duty.load_kg:
        load += f" and {duty.load_kg:g} kg spread"
    span = (
        min(duty.spans) if duty.edges == "all" else duty.spans[0 if duty.edges == "u ends" else 1]
    )
    share = KNEE_SAG_SHARE if duty.patch else SAG_SHARE
    limit = duty.most_sag or span / share
    sentence = (
        f"{panel.id} ({panel.board.key}, {duty.purpose}) sags {sag:.1f} mm under {load} over "
        f"{span:.0f} mm; {limit:.1f} mm are allowed."
    )
    yield at_most("panel sag", panel.id, sag, limit, "mm", sentence, PLATE_SOURCE)
    sentence = (
        f"{panel.id} is bent to {100.0 * use:.0f} % of the bending strength of "
        f"{panel.board.key} under {load}; {100.0 * STRENGTH_SHARE:.0f} % are allowed."
    )
    source = f"{PLATE_SOURCE}; strength: {panel.board.source or COMMON_PRACTICE}"
    yield at_most(
        "panel bending", panel.id, 100.0 * use, 100.0 * STRENGTH_SHARE, "%", sentence, source
    )
