"""The flow as a few functions: load, evaluate, plan, write. The command line calls these.

Everything between reading (`load`) and writing (`build`) is pure. What a check does not need,
such as writers that load heavy libraries, is imported where it is: a check should answer at once.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from fitout import catalogue as catalogue_room
from fitout import design_file
from fitout.arrange import Arrangement, arrange, expanded
from fitout.catalogue.boards import boards_of
from fitout.checks import Memory, Subject, findings, in_order, subject_of, totals
from fitout.checks.as_built import as_built_of
from fitout.checks.floor_hardware import with_floor_hardware
from fitout.checks.motions import played, turning
from fitout.checks.order import steps
from fitout.checks.restraint_rows import fixing_rows
from fitout.checks.stock import nested_findings
from fitout.checks.trip_findings import TripReport
from fitout.checks.trips import reports as trip_reports
from fitout.checks.vehicle import laden_lines, states
from fitout.cutting.scribing import as_cut
from fitout.design_file.messages import located
from fitout.documents.findings import findings_object
from fitout.model.design import Design
from fitout.model.fault import DesignError, Fault
from fitout.model.finding import Finding, Severity
from fitout.model.hardware import HardwareLine
from fitout.model.module import Fitout
from fitout.model.panel import Bar, Panel
from fitout.modules.assemble import assemble
from fitout.modules.kind import Setting
from fitout.modules.registry import KINDS
from fitout.survey.adjusted import Survey, survey_of
from fitout.survey.bay import build_bay

if TYPE_CHECKING:
    from fitout.cutting.nest import Effort
    from fitout.cutting.plan import CutPlan
    from fitout.documents.dossier import Dossier

Progress = Callable[[str], None]


class RefusedError(Exception):
    """The design has failing findings, so no cut files are written or no trip is reckoned.

    `evaluation` has the findings where files were to be written.
    """

    def __init__(self, message: str, evaluation: Evaluation | None = None) -> None:
        self.evaluation = evaluation
        super().__init__(message)


@dataclass(frozen=True, slots=True, kw_only=True)
class Evaluation:
    """A design with everything worked out from it, and every finding."""

    design: Design
    survey: Survey
    fitout: Fitout
    setting: Setting
    arrangement: Arrangement
    subject: Subject
    findings: tuple[Finding, ...]
    totals: Mapping[str, object]

    @property
    def passed(self) -> bool:
        """Whether nothing fails."""
        return all(f.severity is not Severity.FAIL for f in self.findings)

    def as_object(self) -> dict[str, object]:
        """The evaluation as `check --json` prints it."""
        from fitout.documents.assembly import order_rows
        from fitout.documents.fixing_table import fixings_object
        from fitout.documents.ledger import ledger_object, vehicle_rows
        from fitout.documents.motions import motion_rows

        told = findings_object(self.design.name, self.findings, self.totals)
        return {
            **told,
            "motions": motion_rows(played(self.subject), turning(self.subject)),
            "order": order_rows(steps(self.subject)),
            "ledger": ledger_object(laden_lines(self.subject)),
            "vehicle": vehicle_rows(states(self.subject)),
            "fixings": fixings_object(fixing_rows(self.subject)),
        }


def load(path: str | Path) -> Design:
    """The design in a file. Raises DesignError with every fault of it."""
    specs = {kind.kind: kind.spec for kind in KINDS}
    names = catalogue_room.names()
    return design_file.with_offcuts(design_file.read_file(path, specs, names), names)


def evaluate(
    design: Design, memory: Memory | None = None, told: Progress | None = None
) -> Evaluation:
    """Bay, berths, modules and every finding; `told` hears what is about to be checked.

    With the memory of earlier evaluations only what has changed is built and checked again;
    the result is the same.

    Raises:
        DesignError: when catalogue rows, a module's or a trip's entries can't be used.
    """
    try:
        return _evaluated(design, Memory() if memory is None else memory, told)
    except DesignError as error:
        raise DesignError([_placed(design, fault) for fault in error.faults]) from None


def _evaluated(design: Design, kept: Memory, told: Progress | None) -> Evaluation:
    subject, arrangement = _prepared(design, kept)
    found = findings(subject, _entry_cautions(design), told)
    return Evaluation(
        design=design,
        survey=surveyed(design, kept),
        fitout=subject.fitout,
        setting=subject.setting,
        arrangement=arrangement,
        subject=subject,
        findings=found,
        totals=totals(subject, found),
    )


def prepared(design: Design, memory: Memory) -> Subject:
    """Bay, berths and modules, ready to be checked.

    Raises:
        DesignError: when catalogue rows, a module's or a trip's entries can't be used.
    """
    return _prepared(design, memory)[0]


def _prepared(design: Design, kept: Memory) -> tuple[Subject, Arrangement]:
    survey = surveyed(design, kept)
    setting, arrangement = arranged(design, kept)
    if arrangement.conflicts:
        fitout = Fitout(name=design.name, bay=setting.bay, modules=())
    else:
        fitout = assemble(design.name, setting, kept.builds)
    allowance = design.cutting.scribe_allowance
    cut = as_cut(fitout.panels(), fitout.bay, setting.rules, allowance)
    as_built = as_built_of(design.as_built, fitout, design.bay.survey.tape, cut)
    cutting = design.cutting.with_purposes({role: b.key for role, b in setting.boards.items()})
    subject = dataclasses.replace(
        subject_of(fitout, setting, cutting, arrangement.conflicts, kept, survey),
        stock=design.stock,
        sources=design.sources,
        as_built=as_built,
        vehicle=design.vehicle,
        restraint=design.restraint,
        trips={} if arrangement.conflicts else design.trips,
    )
    return with_floor_hardware(subject), arrangement


def surveyed(design: Design, memory: Memory) -> Survey:
    """The bay as its entries and notes say together.

    Raises:
        DesignError: with a fault for every note that can't be used.
    """
    return memory.recall(("survey", repr(design.bay)), lambda: survey_of(design.bay))


def arranged(design: Design, memory: Memory) -> tuple[Setting, Arrangement]:
    """The setting with a berth for each module, and how the berths were found."""
    catalogue = memory.recall(
        ("catalogue", repr(design.catalogue)), lambda: catalogue_room.load(design.catalogue)
    )
    modules = expanded(design.modules)
    bay = surveyed(design, memory).bay
    setting = Setting(
        bay=memory.recall(("bay", repr(bay)), lambda: build_bay(bay)),
        boards=boards_of(design.boards, catalogue),
        items=design.items,
        catalogue=catalogue,
        rules=design.clearances,
        specs={name: spec for name, (_, spec) in modules.items()},
    )
    arrangement = arrange(setting)
    setting = dataclasses.replace(setting, berths=arrangement.berths, deck=arrangement.deck)
    return setting, arrangement


def _placed(design: Design, fault: Fault) -> Fault:
    """A fault found after reading, with its place in the file."""
    path = fault.path
    if len(path) > 1 and path[0] == "modules" and path[1] not in design.modules:
        # One half of a module on both sides: the design gives it under its own name.
        whole = str(path[1]).removesuffix(" left").removesuffix(" right")
        fault = dataclasses.replace(fault, path=(path[0], whole, *path[2:]))
    return located(fault, design.sources)


def _entry_cautions(design: Design) -> Iterable[Finding]:
    for fault in design_file.cautions(design):
        placed = _placed(design, fault)
        where = f"line {placed.line}" if placed.line else "design"
        sentence = f"Found {placed.found}; expected {placed.expected}. {placed.hint}".strip()
        yield Finding(
            code="entry",
            severity=Severity.CAUTION,
            where=where,
            sentence=sentence,
            source="common practice",
        )


def trips(
    design: Design, name: str | None = None, told: Progress | None = None
) -> tuple[TripReport, ...]:
    """Every trip of a design gone through day by day, or the one of that name.

    Raises:
        DesignError: when the design can't be used, has no trip, or none of that name.
        RefusedError: when its modules find no room.
    """
    names = tuple(design.trips)
    if not names or (name is not None and name not in names):
        raise DesignError([_no_trip(design, name, names)])
    evaluation = evaluate(design, told=told)
    if evaluation.arrangement.conflicts:
        raise RefusedError(
            "the modules find no room yet, so nothing is known of a trip; see `fitout check`."
        )
    reports = trip_reports(evaluation.subject)
    return tuple(report for report in reports if name in (None, report.plan.name))


def _no_trip(design: Design, name: str | None, names: tuple[str, ...]) -> Fault:
    path: tuple[str, ...] = ("trips",) if names else ()
    found = "no trips" if name is None or not names else f"no trip {name!r}"
    hint = design_file.suggestion(name or "", names, "For example trips: {weekend: {days: 3}}.")
    return _placed(
        design, Fault(path=path, found=found, expected="a trip of the design", hint=hint)
    )


def plan(evaluation: Evaluation, effort: Effort | None = None) -> CutPlan:
    """The cut list and nested sheets; `effort` says how long to search, and hears of it."""
    from fitout.cutting.corners import relieved
    from fitout.cutting.coupon import fitted
    from fitout.cutting.cut_list import cut_list
    from fitout.cutting.mates import mated
    from fitout.cutting.nest import Effort, nest

    panels = fitted(evaluation.fitout.panels(), evaluation.design, evaluation.setting.boards)
    bars = [bar for module in evaluation.fitout.modules for bar in module.bars]
    bodies: list[Panel | Bar] = [*panels, *bars]
    spec = evaluation.subject.cutting
    setting = evaluation.setting
    cut = as_cut(panels, setting.bay, setting.rules, spec.scribe_allowance)
    cuts = mated(relieved(cut_list(cut, bars), bodies, spec), bodies, spec)
    effort = effort or Effort()
    return nest(cuts, spec, effort, evaluation.design.stock)


def dossier(evaluation: Evaluation, cuts: CutPlan) -> Dossier:
    """All that the documents are made from."""
    from fitout.documents.dossier import Dossier

    catalogue = evaluation.setting.catalogue
    return Dossier(
        design=evaluation.design,
        subject=evaluation.subject,
        cuts=cuts,
        findings=evaluation.findings,
        totals=evaluation.totals,
        steps=tuple(steps(evaluation.subject)),
        hardware=tuple(hardware(evaluation.fitout)),
        articles={**catalogue.goods, **catalogue.slides},
    )


def hardware(fitout: Fitout) -> list[HardwareLine]:
    """Everything to buy: hardware of all modules, and slides counted as pairs."""
    lines = [line for module in fitout.modules for line in module.hardware]
    pairs = [
        HardwareLine(article=duty.slide.key, quantity=1, module=module.name, purpose=duty.name)
        for module in fitout.modules
        for duty in module.slides
    ]
    return [*lines, *pairs]


STEPS_BESIDE = 4
"""What `build` tells of beside every document: checking, nesting, writing, reading back."""


def build(
    design: Design,
    target: Path,
    progress: Progress,
    nesting: Callable[[Evaluation], CutPlan] = plan,
    processes: int = 1,
) -> Evaluation:
    """Evaluate a design and write its export folder, whole or not at all; `nesting` nests.

    With more `processes` than one, documents are made in others beside this one; what is written
    is the same. Those import the caller's main module anew, as `multiprocessing` says.

    Raises:
        RefusedError: when a finding fails; the message says which.
        DesignError: when the design can't be used.
        ExportError: when the folder can't be written, or does not read back as designed.
    """
    from fitout.documents.contents import OF_THE_DOSSIER, OF_THE_FITOUT
    from fitout.documents.crew import crew_of
    from fitout.documents.export import check_target, write_folder
    from fitout.documents.read_back import read_back

    check_target(target)
    with crew_of(processes - 1, lambda name: progress(f"making {name}")) as crew:
        progress("checking")
        evaluation = evaluate(design)
        _refuse(evaluation)
        crew.offer(OF_THE_FITOUT, evaluation.fitout)
        progress("nesting sheets")
        cuts = nesting(evaluation)
        evaluation = _nested(evaluation, cuts)
        _refuse(evaluation)
        told = dossier(evaluation, cuts)
        crew.offer(OF_THE_DOSSIER, told)
        files = crew.complete()

    def verify(folder: Path) -> None:
        progress("reading the cut files back")
        read_back(folder, told)

    progress("writing")
    write_folder(target, files, verify)
    return evaluation


def _refuse(evaluation: Evaluation) -> None:
    if not evaluation.passed:
        failed = [f for f in evaluation.findings if f.severity is Severity.FAIL]
        listed = "\n".join(f"  {f.sentence}" for f in failed)
        count = "1 finding fails" if len(failed) == 1 else f"{len(failed)} findings fail"
        raise RefusedError(f"{count}, so nothing is written:\n{listed}", evaluation)


def _nested(evaluation: Evaluation, cuts: CutPlan) -> Evaluation:
    """With what only nesting tells."""
    told = nested_findings(cuts, evaluation.design.stock)
    found = in_order([*evaluation.findings, *told])
    return dataclasses.replace(evaluation, findings=found, totals=totals(evaluation.subject, found))
