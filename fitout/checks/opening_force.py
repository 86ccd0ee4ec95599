"""What it takes to draw out drawers and to lift lids, and whether lids' stays reach."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from fitout.checks.ledger import together
from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE, at_least, at_most
from fitout.mechanics.lids import (
    Pivot,
    handle_force,
    stay_length,
    stay_moment,
    weight_moment,
)
from fitout.mechanics.slides import ROLLING_SHARE, pull_n, slope_of_pull_deg
from fitout.model.finding import Finding, Severity
from fitout.model.module import Module, Motion, MotionKind, SlideDuty, Stay
from fitout.model.panel import Panel
from fitout.model.placement import Vector

EASY_N, MOST_N = 50.0, 100.0
"""Hand force that is easy, and that most people can do, N (common practice)."""

OPERABLE_N = 22.2
"""Force of operable parts by 2010 ADA Standards 309.4, N: told, not asked for."""

PARKED_DEG = 5.0
"""Slope a vehicle may be parked on, degrees (common practice)."""

FORCE_SOURCE = "statics; 50 and 100 N: common practice"
STAY_ENDS = 1e-3


def check_opening_force(subject: Subject) -> Iterator[Finding]:
    """Pull at each pair of slides, lift at each lid, reach and push of each stay."""
    for module in subject.fitout.modules:
        for duty in module.slides:
            yield _pull(subject, duty)
        for motion in module.motions:
            lid = _lid(subject, module, motion)
            if lid is not None:
                yield _lift(subject, lid)
                for stay in lid.stays:
                    yield _stay_reach(subject, lid, stay)


def _pull(subject: Subject, duty: SlideDuty) -> Finding:
    mass = sum(subject.loads[i].mass_kg for i in duty.moving) + duty.contents_kg
    share = duty.slide.rolling_share
    source = f"{FORCE_SOURCE}; rolling resistance: {COMMON_PRACTICE}"
    if share is not None:
        source = f"{FORCE_SOURCE}; rolling resistance: {duty.slide.source or 'given'}"
    share = ROLLING_SHARE if share is None else share
    level, uphill = pull_n(mass, share), pull_n(mass, share, PARKED_DEG)
    steepest = slope_of_pull_deg(mass, share, MOST_N)
    sentence = (
        f"{duty.name}, laden with {mass:.1f} kg in all, runs out with {level:.0f} N on the level "
        f"and {uphill:.0f} N up a slope of {PARKED_DEG:g}°, once its latch is open; {MOST_N:g} N "
        f"are reached at {steepest:.1f}°. Down {math.degrees(math.atan(share)):.1f}° or more it "
        "runs out by itself."
    )
    return _eased(at_most("drawer pull", duty.name, level, MOST_N, "N", sentence, source))


def _eased(finding: Finding) -> Finding:
    """A force that is bearable but not easy is a caution."""
    hard = finding.value is not None and finding.value > EASY_N
    if finding.severity is Severity.PASS and hard:
        return replace(finding, severity=Severity.CAUTION)
    return finding


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lid:
    """A lid shut, seen along its hinge: mass, centre of gravity, where a hand takes it."""

    motion: Motion
    out: Vector
    mass_kg: float
    centre: Pivot
    hand: Pivot
    stays: tuple[Stay, ...]

    def pivot(self, point: Vector) -> Pivot:
        """A point of the bay as seen from the hinge."""
        away = np.subtract(point, self.motion.point)
        return float(away @ np.array(self.out)), float(away[2])


def _lid(subject: Subject, module: Module, motion: Motion) -> _Lid | None:
    """What a level hinge turns; None for anything else, and where nothing moves."""
    parts = subject.moved(motion)
    if motion.kind is not MotionKind.HINGE or abs(motion.direction[2]) > 1e-6 or not parts:
        return None
    load = together(subject.loads[p.id] for p in parts)
    # As it opens the lid turns by the right-hand rule, its free edge upwards.
    out = np.cross((0.0, 0.0, 1.0), motion.direction)
    whole = _Lid(
        motion=motion,
        out=(float(out[0]), float(out[1]), 0.0),
        mass_kg=load.mass_kg,
        centre=(0.0, 0.0),
        hand=(0.0, 0.0),
        stays=tuple(s for s in module.stays if s.motion == motion.name),
    )
    holes = [
        p.placement.at(*_middle(loop.bounds), p.thickness)
        for p in parts
        if isinstance(p, Panel)
        for loop in p.outline.inner
    ]
    corners = [tuple(c) for p in parts for piece in subject.bodies[p.id].pieces for c in piece]
    hand = max(
        (whole.pivot((float(x), float(y), float(z))) for x, y, z in holes or corners),
        default=(0.0, 0.0),
    )
    return replace(whole, centre=whole.pivot(load.centre), hand=hand)


def _middle(bounds: tuple[float, float, float, float]) -> tuple[float, float]:
    return (bounds[0] + bounds[2]) / 2.0, (bounds[1] + bounds[3]) / 2.0


def _angles(lid: _Lid) -> list[float]:
    steps = max(1, math.ceil(abs(lid.motion.travel)))
    return [lid.motion.travel * i / steps for i in range(steps + 1)]


def _moment(subject: Subject, lid: _Lid, angle_deg: float, *, aided: bool) -> float:
    """What closes the lid, N mm: its weight less the push of its gas stays."""
    moment = weight_moment(lid.mass_kg, lid.centre, angle_deg)
    for stay in lid.stays if aided else ():
        article = subject.setting.catalogue.articles[stay.article]
        if article.kind == "gas stay" and article.rating_n is not None:
            pivots = lid.pivot(stay.on_lid), lid.pivot(stay.on_side)
            moment -= stay_moment(article.rating_n, *pivots, angle_deg)
    return moment


def _lift(subject: Subject, lid: _Lid) -> Finding:
    reach = max(1.0, math.hypot(*lid.hand))
    aided = [_moment(subject, lid, a, aided=True) for a in _angles(lid)]
    bare = max(_moment(subject, lid, a, aided=False) for a in _angles(lid))
    lifting = handle_force(max(0.0, *aided), reach)
    pressing = handle_force(max(0.0, *(-m for m in aided)), reach)
    value = max(lifting, pressing)
    name = lid.motion.id
    sentence = (
        f"{name} ({lid.mass_kg:.1f} kg) is lifted with {lifting:.0f} N, {reach:.0f} mm from its "
        f"hinge"
    )
    if pressing > lifting:
        sentence = f"{name} ({lid.mass_kg:.1f} kg) is pressed shut with {pressing:.0f} N"
    if any(s.article.startswith("gas") for s in lid.stays):
        sentence += f" (without its stays lifted with {handle_force(max(0.0, bare), reach):.0f} N)"
    sentence += f"{_light(value)}; {_stays_open(lid)}."
    return _eased(at_most("lid force", name, value, MOST_N, "N", sentence, FORCE_SOURCE))


def _light(force_n: float) -> str:
    if force_n <= OPERABLE_N:
        return f", within the {OPERABLE_N:g} N of 2010 ADA Standards 309.4"
    return f", more than the {OPERABLE_N:g} N of 2010 ADA Standards 309.4 for operable parts"


def _stays_open(lid: _Lid) -> str:
    """What becomes of the lid once it is open and let go of."""
    closing = weight_moment(lid.mass_kg, lid.centre, lid.motion.travel)
    angle = f"open {lid.motion.travel:.0f}°"
    if closing < 0.0:
        out, up = lid.centre
        beyond = lid.motion.travel + math.degrees(math.atan2(up, out)) - 90.0
        return f"{angle} it leans back and stays so until the floor tips {beyond:.0f}° against it"
    held = handle_force(closing, max(1.0, math.hypot(*lid.hand)))
    if lid.stays:
        return f"{angle} its stays must hold {held:.0f} N at the hand's place, or it falls shut"
    return f"{angle} it falls shut unless {held:.0f} N hold it at the hand's place"


def _stay_reach(subject: Subject, lid: _Lid, stay: Stay) -> Finding:
    """The stay's pivots are never further apart, nor nearer, than the stay is long."""
    article = subject.setting.catalogue.articles[stay.article]
    pivots = lid.pivot(stay.on_lid), lid.pivot(stay.on_side)
    lengths = [stay_length(*pivots, a) for a in _angles(lid)]
    longest = article.length or 0.0
    shortest = longest - (longest if article.stroke is None else article.stroke)
    spare = min(longest - max(lengths), min(lengths) - shortest)
    sentence = (
        f"The {stay.article} of {lid.motion.id} runs from {lengths[0]:.0f} mm shut to "
        f"{lengths[-1]:.0f} mm open between its pivots; it reaches from {shortest:.0f} to "
        f"{longest:.0f} mm."
    )
    if spare < -STAY_ENDS:
        sentence += " Shift a pivot or take another stay."
    source = f"hinge geometry; lengths: {article.source or COMMON_PRACTICE}"
    return at_least("lid stay", lid.motion.id, spare, 0.0, "mm", sentence, source)
