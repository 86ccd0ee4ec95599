"""Panels against sag, at once and for good, and against their bending strength."""

from __future__ import annotations

from collections.abc import Iterator

from fitout.checks.bending import (
    TOLD,
    Bent,
    bent_panel,
    load_of_duty,
    most_final,
    most_sag,
    span_of,
)
from fitout.checks.detail import Detail
from fitout.checks.panel_cures import panel_cure
from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE, at_most, remark
from fitout.mechanics.timber import (
    GAMMA_LOAD,
    GAMMA_M,
    K_MOD,
    METHOD,
    SERVICE_CLASS,
    final_factor,
    strength_share,
)
from fitout.model.finding import Severity
from fitout.model.module import Module, PlateDuty
from fitout.model.panel import Panel

PLATE_SOURCE = (
    "Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed. (orthotropic, Navier); "
    "limit: common practice"
)

CREEP_SOURCE = f"{METHOD} (2.3.2.2, k_def from memory; limit: Table 7.2, from memory)"


def panel_details(subject: Subject, module: Module) -> Iterator[Detail]:
    """The findings of a module's panels, each with its cure."""
    for duty in module.plates:
        panel = subject.parts[duty.panel]
        assert isinstance(panel, Panel)
        bent = bent_panel(subject.memory, panel.board, duty, panel.grain)
        if bent is None:
            yield _unknown(panel)
            continue
        cure = "" if bent.passes(duty) else panel_cure(subject, panel, duty)
        yield _sag(panel, duty, bent, cure)
        if duty.load_kg and final_factor(panel.board.kind) > 1.0:
            yield _final(panel, duty, bent, cure)
        yield _bending(panel, bent, cure)


def _unknown(panel: Panel) -> Detail:
    sentence = (
        f"{panel.id} was not checked for bending: the catalogue has no stiffness or strength "
        f"for {panel.board.key}; add them with their source under `catalogue: sheets:`."
    )
    found = remark("panel bending", panel.id, Severity.UNCHECKED, sentence)
    return Detail(found, f"bending of {panel.name}")


def _sag(panel: Panel, duty: PlateDuty, bent: Bent, cure: str) -> Detail:
    load, limit = load_of_duty(duty), most_sag(duty)
    sentence = (
        f"{panel.id} ({panel.board.key}, {duty.purpose}) sags {bent.sag:.1f} mm under {load} over "
        f"{span_of(duty):.0f} mm; {limit:.1f} mm are allowed."
    )
    return _judged("panel sag", panel, (bent.sag, limit, "mm"), sentence, PLATE_SOURCE,
                   f"sag of {panel.name} under {_short(duty)}", cure)  # fmt: skip


def _final(panel: Panel, duty: PlateDuty, bent: Bent, cure: str) -> Detail:
    limit, kind = most_final(duty), panel.board.kind
    sentence = (
        f"Under {round(duty.load_kg, 1):g} kg that stay on it for years, {panel.id} creeps to a "
        f"sag of {bent.final:.1f} mm (k_def {final_factor(kind) - 1.0:g}); {limit:.1f} mm are "
        f"allowed."
    )
    source = f"{CREEP_SOURCE}; service class {SERVICE_CLASS[kind]}"
    return _judged("panel creep", panel, (bent.final, limit, "mm"), sentence, source,
                   f"final sag of {panel.name}", cure)  # fmt: skip


def _bending(panel: Panel, bent: Bent, cure: str) -> Detail:
    use, board = 100.0 * bent.use, panel.board
    share = strength_share(board.kind, bent.duration)
    sentence = (
        f"{panel.id} is bent by {TOLD[bent.duration]} to {use:.0f} % of what {board.key} may bear: "
        f"its strength × {share:.2f} (k_mod {K_MOD[board.kind][bent.duration]:.2g}, "
        f"γ_M {GAMMA_M[board.kind]:g}, loads × {GAMMA_LOAD:g})."
    )
    source = f"{PLATE_SOURCE}; {METHOD}; strength: {board.source or COMMON_PRACTICE}"
    return _judged("panel bending", panel, (use, 100.0, "%"), sentence, source,
                   f"bending of {panel.name} under {TOLD[bent.duration]}", cure)  # fmt: skip


def _short(duty: PlateDuty) -> str:
    return "a knee" if duty.patch else "its load"


def _judged(  # over budget: a detail's own fields, one each
    code: str,
    panel: Panel,
    compared: tuple[float, float, str],
    sentence: str,
    source: str,
    what: str,
    cure: str,
) -> Detail:
    """A detail whose sentence ends in the cure where the limit is broken."""
    value, limit, unit = compared
    broken = value > limit
    sentence = f"{sentence} {cure}" if broken else sentence
    found = at_most(code, panel.id, value, limit, unit, sentence, source)
    return Detail(found, what, cure if broken else "")
