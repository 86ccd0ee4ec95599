"""What will touch and wear once the vehicle shakes: narrow gaps and bare joints.

Driving shakes parts by about `SHAKE` mm against each other (common practice), and what is made
stands a little off where it was drawn: a gap that may be no wider than that, at two standard
uncertainties, is a gap that rattles. Felt, rubber or a screw ends it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace

from fitout.checks.gaps import between_modules
from fitout.checks.stack import stack_of
from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE, at_least
from fitout.model.finding import Finding, Severity
from fitout.model.module import JointKind

SHAKE = 0.5
"""How far parts move against each other on a rough road, mm (common practice)."""

COVERAGE = 2.0
"""Standard uncertainties a gap is taken to be narrower by (JCGM 100, coverage of about 95 %)."""

HOLDS = (JointKind.SCREWED, JointKind.BOLTED, JointKind.GROOVED, JointKind.HINGED, JointKind.SLIDES)

SOURCE = f"stack-up of the gap, {SHAKE:g} mm of shaking and felt: {COMMON_PRACTICE}"


def check_rattle(subject: Subject) -> Iterator[Finding]:
    """One caution for each two modules, or module and vehicle, that will knock or rub."""
    knocking: dict[str, list[tuple[float, float, float, str]]] = defaultdict(list)
    for a, b in between_modules(subject):
        obstacle = subject.obstacles.get(b)
        if obstacle is not None and obstacle.kind in ("keep clear", "seat", "aperture"):
            continue
        stack = stack_of(subject, a, b)
        if stack is None:
            continue
        narrow = stack.gap - COVERAGE * stack.u
        if narrow < SHAKE:
            pair = f"{a} – {b.removeprefix('bay/')}"
            knocking[subject.parts[a].module].append((narrow, stack.gap, stack.u, pair))
    for module, gaps in knocking.items():
        yield _knocks(module, sorted(gaps))
    yield from _bare(subject)


def _knocks(module: str, gaps: list[tuple[float, float, float, str]]) -> Finding:
    """One caution of a module's gaps that may close, the narrowest first."""
    listed = "; ".join(f"{pair} ({gap:.1f} ± {COVERAGE * u:.1f} mm)" for _, gap, u, pair in gaps)
    sentence = (
        f"{module} may knock on a rough road, where gaps close: {listed}. Put felt or soft strip "
        "of the gap's thickness between."
    )
    found = at_least("rattle", module, gaps[0][0], SHAKE, "mm", sentence, SOURCE)
    return replace(found, severity=Severity.CAUTION)


def _bare(subject: Subject) -> Iterator[Finding]:
    """Parts of two modules that lie on each other with nothing that holds them."""
    lying: dict[tuple[str, str], list[str]] = defaultdict(list)
    held: set[tuple[str, str]] = set()
    for joint in subject.fitout.all_joints():
        a, b = subject.parts.get(joint.a), subject.parts.get(joint.b)
        if a is None or b is None or a.module == b.module:
            continue
        key = (min(a.module, b.module), max(a.module, b.module))
        if joint.kind in HOLDS:
            held.add(key)
        elif joint.kind is JointKind.RESTS:
            lying[key].append(f"{joint.a} on {joint.b}")
    for (a_name, b_name), pairs in lying.items():
        more = f" and {len(pairs) - 1} more" if len(pairs) > 1 else ""
        if (a_name, b_name) in held:
            continue
        sentence = (
            f"{a_name} and {b_name} lie on each other with nothing that holds them ({pairs[0]}"
            f"{more}): glue felt between, or they creak and wear."
        )
        yield Finding(
            code="rattle",
            severity=Severity.CAUTION,
            where=f"{a_name} – {b_name}",
            sentence=sentence,
            source=COMMON_PRACTICE,
        )
