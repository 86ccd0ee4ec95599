"""Whether every module stays where it is: on the road, and in a crash of our own proposal.

What would give way first is told for each module with its contents: a bolt, its washer in the
ply, the floor's sheet, a rated point, the bolts to a module below, the screws between its base
and its sides. On the road above 100 % fails; in the crash it is a caution, since that case is a
proposal and no rule (see `restraint_cases`). What lacks data is `unchecked` and says what to
enter.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from fitout.checks.restraint_cases import CRASH_SOURCE, NO_APPROVAL, Case, crash, everyday
from fitout.checks.restraint_cure import schedule, stronger_joint
from fitout.checks.restraint_grip import SCREWS, Grip
from fitout.checks.restraint_held import Group, Used, bolted, on_module, screwed, worst
from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE, at_most, remark
from fitout.model.finding import Finding, Severity
from fitout.model.module import Module

HOLDS = (
    "bolt forces by statics (rigid body, compression edge, no friction); bolts ISO 898-1 and "
    "EN 1993-1-8, ply and screws EN 1995-1-1 and Wood Handbook, sheet EN 1993-1-3, in part from "
    "memory"
)


@dataclass(frozen=True, slots=True)
class Bodies:
    """The groups that hold a module: its bolts, and the screws between base and sides."""

    module: Module
    bolts: Group
    screws: Group | None

    def governing(self, subject: Subject, cases: Sequence[Case]) -> tuple[Used, Group] | None:
        """What is used most, and of which group; None where something is not held at all."""
        found: list[tuple[Used, Group]] = []
        for group in (self.bolts, self.screws):
            if group is None:
                continue
            used = worst(subject, group, cases)
            if used is None:
                return None
            found.append((used, group))
        return max(found, key=lambda pair: pair[0].share)


def bodies_of(subject: Subject, module: Module) -> Bodies | None:
    """What holds a module; None where no known point does."""
    bolts = bolted(subject, module) or on_module(subject, module)
    if bolts is None:
        return None
    # A strapped tank stands on its base; what holds it there is no screw.
    screws = None if module.kind == "water tank" else screwed(subject, module)
    return Bodies(module, bolts, screws)


def check_restraint(subject: Subject) -> Iterator[Finding]:
    """Each module in each everyday case and in the crash; loose goods; what lacks data."""
    lacking: dict[str, list[str]] = {}
    unheld = []
    for module in subject.fitout.modules:
        if module.kind in ("barrier", "deck"):
            continue
        bodies = bodies_of(subject, module)
        if bodies is None:
            unheld.append(module.name)
            continue
        yield _everyday(subject, bodies)
        if subject.restraint.crash:
            yield _crash(subject, bodies)
        for grip in bodies.bolts.grips:
            if isinstance(grip, Grip) and grip.lacks:
                lacking.setdefault(grip.lacks, []).append(module.name)
    yield from _lacking(subject, lacking)
    if unheld:
        yield _unheld(subject, unheld)
    yield from _loose_goods(subject)


def _everyday(subject: Subject, bodies: Bodies) -> Finding:
    cases = everyday(subject)
    return _held(subject, bodies, cases, "restraint", f"{cases[0].source}; {HOLDS}")


def _crash(subject: Subject, bodies: Bodies) -> Finding:
    found = _held(subject, bodies, crash(subject), "crash", f"{CRASH_SOURCE}; {HOLDS}")
    return replace(found, severity=Severity.CAUTION) if found.severity is Severity.FAIL else found


def _held(
    subject: Subject, bodies: Bodies, cases: Sequence[Case], code: str, source: str
) -> Finding:
    """What governs a module over cases, with what would hold where it does not."""
    where, group = bodies.module.name, bodies.bolts
    governing = bodies.governing(subject, cases)
    if governing is None:
        sentence = (
            f"{where} ({group.load.mass_kg:.0f} kg laden) tips or turns about its "
            f"{len(group.points)} bolt(s): {cases[0].words} is not held. "
            f"{schedule(subject, group, cases)} {NO_APPROVAL}"
        )
        return remark(code, where, Severity.FAIL, sentence, source)
    used, group = governing
    percent = 100.0 * used.share
    sentence = f"{_told(bodies, used, code)}."
    if used.share > 1.0:
        cure = stronger_joint if used.part == SCREWS else schedule
        sentence += f" {cure(subject, group, cases)}"
        sentence += _also(subject, bodies, group, cases)
    return at_most(code, where, percent, 100.0, "%", f"{sentence} {NO_APPROVAL}", source)


def _told(bodies: Bodies, used: Used, code: str) -> str:
    """What is used how far, in which case, by which forces."""
    where = bodies.module.name
    laden = f"{bodies.bolts.load.mass_kg:.0f} kg with all in and on it"
    forces = f"{used.tension_n:.0f} N pull and {used.shear_n:.0f} N sideways"
    at = f"{used.fastener}: " if used.part == SCREWS else f"at {used.fastener}: "
    if code == "crash":
        start = f"In our own prudent crash case {where} ({laden}), {used.case.words},"
    else:
        start = f"{where} ({laden}), {used.case.words},"
    return f"{start} uses {100.0 * used.share:.0f} % of its {used.part} ({at}{forces})"


def _also(subject: Subject, bodies: Bodies, told: Group, cases: Sequence[Case]) -> str:
    """The other group, where it does not hold either."""
    for group in (bodies.bolts, bodies.screws):
        if group is None or group is told:
            continue
        used = worst(subject, group, cases)
        if used is not None and used.share > 1.0:
            cure = stronger_joint if used.part == SCREWS else schedule
            percent = 100.0 * used.share
            return f" Its {used.part}: {percent:.0f} %. {cure(subject, group, cases)}"
    return ""


def _lacking(subject: Subject, lacking: dict[str, list[str]]) -> Iterator[Finding]:
    """What must be entered to know whether the vehicle's floor holds too."""
    asked = {
        "sheet": "the thickness of its sheet is not known: enter `restraint: floor: {sheet: …}`, "
        "or each point's `rating`",
        "nut": "what its captive or rivet nuts hold is not known: enter what was `tested`, or each "
        "point's `rating`",
    }
    for lack, names in lacking.items():
        listed = ", ".join(dict.fromkeys(names))
        sentence = (
            f"Whether the vehicle's floor holds the bolts of {listed} was not checked: "
            f"{asked[lack]}. {NO_APPROVAL}"
        )
        where = subject.fitout.name
        yield remark("restraint floor", where, Severity.UNCHECKED, sentence, COMMON_PRACTICE)


def _unheld(subject: Subject, names: Sequence[str]) -> Finding:
    verb = "is" if len(names) == 1 else "are"
    sentence = (
        f"{', '.join(names)} {verb} bolted to no known point, so that what holds in hard braking "
        f"or a crash was not checked: see that nothing can come out. {NO_APPROVAL}"
    )
    return remark("restraint", subject.fitout.name, Severity.UNCHECKED, sentence)


def _loose_goods(subject: Subject) -> Iterator[Finding]:
    """Goods above barrier or deck are a caution, always; without a barrier more so."""
    modules = subject.fitout.modules
    barriers = [m for m in modules if m.kind == "barrier"]
    for module in barriers:
        sentence = (
            f"Goods on {module.name}'s shelf, and anything loose above the deck, fly in a "
            f"crash: only soft, light things, tied or netted. {NO_APPROVAL}"
        )
        yield remark("loose goods", module.name, Severity.CAUTION, sentence)
    if barriers or subject.fitout.bay.front_kind != "seat_back":
        return
    sentence = (
        "No barrier stands behind the seats: anything loose on top flies at heads in a crash. Tie "
        f"or net it, or add `kind: barrier`. {NO_APPROVAL}"
    )
    yield remark("loose goods", subject.fitout.name, Severity.CAUTION, sentence)
