"""How sure a gap is once everything is cut: the bay as measured, boards, cuts, placing.

Cut sizes stay as designed while the bay, items, thickness and assembly move within their
tolerances. The gap's change is linear in them (its derivative along the shortest way between
the two bodies); standard uncertainties add as JCGM 100 eq. 10 and 13 have it, the bay's with
their covariance from the survey, one sheet's thickness as one variable.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass, replace
from statistics import NormalDist

import numpy as np
import numpy.typing as npt

from fitout.checks.chain import BESIDE, Source, shifts_of
from fitout.checks.subject import Subject
from fitout.checks.verdict import ROUNDING
from fitout.clearance.witness import Witness, closest
from fitout.model.as_built import over_or_under
from fitout.model.finding import Finding, Severity
from fitout.survey.adjusted import Survey
from fitout.survey.candidates import candidates, told
from fitout.survey.remeasure import Gap, need
from fitout.survey.surfaces import Surfaces, surfaces_of
from fitout.survey.uncertainty import rectangular, root_sum_square, worst_case

Array = npt.NDArray[np.float64]

SURE = 0.95
"""Probability of fitting from which a gap counts as sure."""

NOTHING = 1e-6
"""mm; what moves a gap by less is rounding."""

NORMAL = NormalDist()

UNKNOWN_VARIANCE = 100.0**2
"""mm², the variance taken for a number that no note determines."""


@dataclass(frozen=True, slots=True)
class Driver:
    """One input of a gap: its name, and the gap's uncertainty (mm) from it alone."""

    name: str
    u: float


@dataclass(frozen=True, slots=True, eq=False)
class Stack:
    """A gap as made, mm. `gradient` is its derivative by the bay's `parameters`.

    `worst` is the least gap if every input is at the wrong end of its range at once; `rss`
    the root sum of squares of those ranges, about the nominal; `u` the standard uncertainty;
    `other_u` the part of it that is not the bay's. `up` is the height at which the part comes
    nearest to the other. `as_built` names the measured parts it counts, and `wider_as_built` is
    by how much it is wider for them.

    It speaks of the place where the bodies come nearest. Where they are as near in several (an
    edge scribed to a wall, a panel round an arch) the least of these gaps is less sure than
    any one: by up to 3 points of probability in the bays this was drawn in by the thousand.
    """

    name: str
    gap: float
    gradient: Array
    worst: float
    rss: float
    u: float
    other_u: float
    drivers: tuple[Driver, ...]
    up: float
    wider_as_built: float = 0.0
    as_built: tuple[str, ...] = ()

    @property
    def drawn(self) -> float:
        """The gap as designed, mm."""
        return self.gap - self.wider_as_built

    @property
    def plain_name(self) -> str:
        """The name, the vehicle's surfaces without saying that they are the bay's."""
        return self.name.replace("bay/", "")

    @property
    def probability(self) -> float:
        """Probability that the gap is above 0, taken as normal."""
        return NORMAL.cdf(self.gap / self.u) if self.u else float(self.gap > 0.0)

    @property
    def wider(self) -> float:
        """By how many mm it would have to be wider to be sure."""
        return max(0.0, NORMAL.inv_cdf(SURE) * self.u - self.gap)

    @property
    def shares(self) -> tuple[tuple[str, float], ...]:
        """What each input has in the gap's variance, 0 to 1, each taken alone, largest first."""
        whole = math.fsum(driver.u**2 for driver in self.drivers)
        return tuple((driver.name, driver.u**2 / whole) for driver in self.drivers)


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """What every stack-up asks of a survey, worked out once.

    `names` (in words) and `u` (standard uncertainty) are of the bay's numbers in the order of
    `parameters`; `surfaces` says how surfaces move with them.
    """

    names: tuple[str, ...]
    u: tuple[float, ...]
    covariance: Array
    surfaces: Surfaces


def ground_of(survey: Survey) -> Ground:
    """The survey as stack-ups see it."""
    # What nothing determines is as unsure as a guess can be, not infinitely so.
    covariance = np.where(np.isfinite(survey.covariance), survey.covariance, UNKNOWN_VARIANCE)
    return Ground(
        names=survey.notebook.names[: len(covariance)],
        u=tuple(math.sqrt(v) for v in np.diag(covariance).tolist()),
        covariance=covariance,
        surfaces=surfaces_of(survey.bay),
    )


def stack_of(subject: Subject, a: str, b: str) -> Stack | None:
    """The stack-up of the gap between a part and another part or a surface of the vehicle.

    None where the bodies touch or clash (there is no gap to vary) or no survey was given.
    """
    survey = subject.survey
    if survey is None:
        return None
    first, second = subject.bodies[a], subject.bodies[b]
    near = subject.memory.recall(("closest", first.key, second.key), lambda: closest(first, second))
    if near.direction is None:
        return None
    ground = subject.memory.recall(("ground", survey), lambda: ground_of(survey))
    gradient = np.zeros(len(ground.names))
    if b in subject.obstacles:
        gradient = ground.surfaces.shift_at(b, near.point_b) @ np.array(near.direction)
    shifts = _shifts(subject, a, b, near)
    built = [source for source, shift in shifts.items() if source.off and abs(shift) > NOTHING]
    wider = math.fsum(shifts[source] * source.off for source in built)
    stack = _stack(ground, f"{a} – {b}", near.gap + wider, gradient, shifts)
    words = tuple(f"{s.name} {over_or_under(s.off)}" for s in built)
    return replace(stack, up=near.point_a[2], wider_as_built=wider, as_built=words)


def wider_as_built(subject: Subject, a: str, b: str) -> float:
    """By how many mm a gap is wider than drawn for the parts that were measured as built."""
    if not subject.as_built:
        return 0.0
    first, second = subject.bodies[a], subject.bodies[b]
    near = subject.memory.recall(("closest", first.key, second.key), lambda: closest(first, second))
    shifts = {} if near.direction is None else _shifts(subject, a, b, near)
    return math.fsum(shift * source.off for source, shift in shifts.items())


def _shifts(subject: Subject, a: str, b: str, near: Witness) -> dict[Source, float]:
    """By how many mm the gap grows for each mm a source is off."""
    assert near.direction is not None
    shifts: dict[Source, float] = defaultdict(float)
    ends = [(a, near.point_a, -1.0)]
    # A module is set to its neighbour, not both to the vehicle.
    placing = BESIDE if b in subject.parts else None
    if b in subject.parts:
        ends.append((b, near.point_b, 1.0))
    for id_, point, sign in ends:
        for source, shift in shifts_of(subject, id_, point, near.direction, placing).items():
            shifts[source] += sign * shift
    return shifts


def _stack(
    ground: Ground, name: str, gap: float, gradient: Array, shifts: dict[Source, float]
) -> Stack:
    bay_u = [abs(float(g)) * u for g, u in zip(gradient, ground.u, strict=True)]
    variance = float(gradient @ ground.covariance @ gradient)
    others = [(s.name, abs(c) * s.half_width) for s, c in shifts.items() if abs(c) > 1e-9]
    other_variance = math.fsum(rectangular(width) ** 2 for _, width in others if width)
    # A normal number has no ends: ± √3 u is the rectangular range of the same uncertainty.
    ranges = [math.sqrt(3.0) * u for u in bay_u] + [width for _, width in others]
    alone = {name: u for name, u in zip(ground.names, bay_u, strict=True) if u > 0.0}
    for called, width in others:
        if width:
            # Of one name, yet independent: a part's length and width, a module's place.
            alone[called] = math.hypot(alone.get(called, 0.0), rectangular(width))
    drivers = [Driver(called, u) for called, u in alone.items() if u > NOTHING]
    return Stack(
        name=name,
        gap=gap,
        gradient=gradient,
        worst=gap - worst_case(ranges),
        rss=root_sum_square(ranges),
        u=math.sqrt(variance + other_variance),
        other_u=math.sqrt(other_variance),
        drivers=tuple(sorted(drivers, key=lambda d: (-d.u, d.name))),
        up=0.0,
    )


LOOKED_AT = 60.0
"""Wider gaps are sure enough without a stack-up, mm."""


def with_certainty(subject: Subject, finding: Finding, a: str, b: str) -> Finding:
    """The finding of a gap with its uncertainty; a caution if it is wide but not surely so."""
    return judged(subject, finding, a, b)[0]


def judged(subject: Subject, finding: Finding, a: str, b: str) -> tuple[Finding, Stack | None]:
    """The finding of a gap as `with_certainty` has it, and the stack-up it is by, if any."""
    if finding.value is None or not 0.0 < finding.value < LOOKED_AT:
        return finding, None
    stack = stack_of(subject, a, b)
    if stack is None or subject.survey is None:
        return finding, None
    finding = _counting(finding, stack)
    told = replace(finding, u=round(stack.u, 3), probability=round(stack.probability, 4))
    if finding.severity is not Severity.PASS or stack.probability >= SURE:
        return told, stack
    causes = " and ".join(driver.name for driver in stack.drivers[:2])
    sentence = (
        f"{finding.sentence} Once made there is room with a probability of only "
        f"{100.0 * stack.probability:.1f} % (standard uncertainty {stack.u:.1f} mm), mostly for "
        f"{causes}: {leave_told(stack)}, or {_settling(subject.survey, stack)}."
    )
    return replace(told, severity=Severity.CAUTION, sentence=sentence), stack


def leave_told(stack: Stack) -> str:
    """By how much to widen a gap, in words: a tenth at least, for 0.0 mm more says nothing."""
    return f"leave {max(stack.wider, 0.1):.1f} mm more"


def _counting(finding: Finding, stack: Stack) -> Finding:
    """The finding with the gap as it is with the parts measured as built."""
    if not stack.as_built:
        return finding
    sentence = f"{finding.sentence} Counting parts as built ({', '.join(stack.as_built)})"
    sentence += (
        f" it is {stack.gap:.1f} mm."
        if stack.gap > 0.0
        else (f" nothing is left of it: {-stack.gap:.1f} mm too little.")
    )
    limit, severity = finding.limit, finding.severity
    margin = finding.margin if limit is None else round(stack.gap - limit, 4) + 0.0
    if stack.gap <= 0.0:
        severity = Severity.FAIL
    elif severity is Severity.PASS and margin is not None and margin < -ROUNDING:
        # The parts are cut: with less than was wanted it may still do.
        severity = Severity.CAUTION
        sentence += f" {limit:g} mm are wanted."
    return replace(
        finding,
        severity=severity,
        value=round(stack.gap, 4) + 0.0,
        margin=margin,
        sentence=sentence,
    )


def _settling(survey: Survey, stack: Stack) -> str:
    """What would make the gap sure without making it wider."""
    if stack.gap <= NORMAL.inv_cdf(SURE) * stack.other_u:
        return "set it with a spacer: measuring does not settle what cuts and placing leave open"
    found = survey.adjustment
    gradient = np.zeros(len(found.values))
    gradient[: len(stack.gradient)] = stack.gradient
    # A depth elsewhere would have to be carried to where the gap is.
    further = candidates(survey.notebook, round(stack.up))
    plan = need(
        further, found, Gap(nominal=stack.gap, gradient=gradient, other_u=stack.other_u), SURE
    )
    if not plan.reached:
        return "set it with a spacer: no few readings would settle it"
    steps = [
        told(further[k]) + (f" ({times} times)" if times > 1 else "") for k, times in plan.readings
    ]
    # Rounded down: nothing is ever sure to 100 %.
    percent = min(99, math.floor(100.0 * plan.probability))
    return f"{' and '.join(steps)} (then {percent} %)"
