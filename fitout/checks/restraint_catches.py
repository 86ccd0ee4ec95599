"""Latches and locks: drawers on a hill, in the everyday cases, and what lets go in a crash.

A drawer that opens downhill pulls at its catch with its weight times the sine of the slope; its
slides' friction is not counted on, since driving shakes it away. A lid is pulled open by half
its weight, its hinge bears the rest.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fitout.checks.restraint_cases import (
    CRASH_SOURCE,
    NO_APPROVAL,
    Case,
    crash,
    everyday,
)
from fitout.checks.subject import Subject
from fitout.checks.verdict import at_least, at_most, remark
from fitout.mechanics.boards import STANDARD_GRAVITY
from fitout.mechanics.slides import pull_n
from fitout.model.finding import Finding, Severity
from fitout.model.module import Module, Motion, MotionKind, SlideDuty

SLOPES_DEG = (10.0, 20.0)
"""Slopes that a drawer must stay shut on: a steep street, a track (common practice)."""

SHUT = "statics of a load on an incline; what catches hold: catalogue"
LISTED = 4
"""How many catches a sentence names."""


@dataclass(frozen=True, slots=True)
class Catch:
    """What moves, which way it opens, its mass, and what holds it: by a latch, a lock, or both.

    `holds_n` None where none of that is known, `lock` the slides whose lock is not.
    """

    motion: Motion
    mass_kg: float
    holds_n: float | None
    by: str
    lock: str = ""

    @property
    def where(self) -> str:
        """The motion's id."""
        return self.motion.id

    def asks_n(self, case: Case) -> float:
        """The force that opens it in a case, 0 where it presses it shut."""
        along = sum(a * b for a, b in zip(self.way, case.way, strict=True))
        return self.mass_kg * STANDARD_GRAVITY * case.g * max(0.0, along)

    @property
    def way(self) -> tuple[float, float, float]:
        """The direction it opens in, from shut; a lid's upwards."""
        return self.motion.direction if self.motion.kind is MotionKind.SLIDE else (0.0, 0.0, 1.0)


def catches(subject: Subject) -> tuple[Catch, ...]:
    """Every drawer, slide-out and latched lid of the fit-out that something holds shut."""
    return tuple(
        catch
        for module in subject.fitout.modules
        if module.berth is not None
        for motion in module.motions
        for catch in _catch(subject, module, motion)
    )


def _catch(subject: Subject, module: Module, motion: Motion) -> Iterator[Catch]:
    duty = next((d for d in module.slides if d.name == motion.id), None)
    latches = [latch.type for latch in module.latches if latch.motion == motion.name]
    locks = duty is not None and duty.slide.locks
    if motion.kind is MotionKind.REMOVE or not (latches or locks):
        return
    if motion.kind is MotionKind.SLIDE and duty is not None:
        mass = sum(subject.loads[i].mass_kg for i in duty.moving) + duty.contents_kg
    else:
        moving = [p for p in module.parts() if p.moves == motion.name]
        mass = sum(subject.loads[p.id].mass_kg for p in moving) / 2.0
    yield _held_by(motion, mass, [t.rating_n for t in latches], duty if locks else None)


def _held_by(
    motion: Motion, mass: float, ratings: Sequence[float | None], duty: SlideDuty | None
) -> Catch:
    """The stronger of the latches together and the lock; a latch must take what a lock may not."""
    latches = sum(r for r in ratings if r is not None)
    lock = None if duty is None else duty.slide.lock_n
    known = [(latches, "latch")] if latches else []
    if lock is not None:
        known.append((lock, "slides' lock"))
    holds, by = max(known, default=(None, ""))
    unknown = "" if duty is None or lock is not None else duty.slide.key
    return Catch(motion, mass, holds, by, unknown)


def check_catches(subject: Subject) -> Iterator[Finding]:
    """Each drawer on a hill; locks on the road; what lets go in a crash, in one caution."""
    found = catches(subject)
    for catch in found:
        if catch.motion.kind is MotionKind.SLIDE and catch.holds_n is not None:
            yield _hill(catch, catch.holds_n)
            if catch.by == "slides' lock":
                yield _on_the_road(subject, catch, catch.holds_n)
    unknown = [c for c in found if c.holds_n is None and c.lock]
    if unknown:
        yield _unknown(subject, unknown)
    if subject.restraint.crash:
        yield from _crash(subject, found)


def _hill(catch: Catch, holds_n: float) -> Finding:
    gentle, steep = (-pull_n(catch.mass_kg, 0.0, -slope) for slope in SLOPES_DEG)
    sentence = (
        f"Facing uphill, {catch.where} ({catch.mass_kg:.1f} kg) pulls at its {catch.by} with "
        f"{gentle:.0f} N on {SLOPES_DEG[0]:g}° and {steep:.0f} N on {SLOPES_DEG[1]:g}°; it holds "
        f"{holds_n:.0f} N."
    )
    if holds_n < steep:
        enough = math.degrees(math.asin(min(1.0, holds_n / (catch.mass_kg * STANDARD_GRAVITY))))
        sentence += f" It lets go from {enough:.0f}° on: take a stronger latch, or a second one."
    return at_least("hill", catch.where, holds_n, steep, "N", sentence, SHUT)


def _on_the_road(subject: Subject, catch: Catch, holds_n: float) -> Finding:
    """Locks in the everyday cases; latches have a check of their own."""
    case = max(everyday(subject), key=catch.asks_n)
    asked = catch.asks_n(case)
    sentence = (
        f"The lock of {catch.where}'s slides holds {holds_n:.0f} N; {case.words} pulls with "
        f"{asked:.0f} N. {NO_APPROVAL}"
    )
    return at_least("lock holds", catch.where, holds_n, asked, "N", sentence, case.source)


def _unknown(subject: Subject, unknown: Sequence[Catch]) -> Finding:
    """What the locks must hold, told for whoever asks their maker."""
    cases = everyday(subject)
    steep = SLOPES_DEG[-1]
    told = []
    for catch in unknown:
        asked = max(catch.asks_n(case) for case in cases)
        hill = -pull_n(catch.mass_kg, 0.0, -steep)
        told.append(f"{catch.where} {max(asked, hill):.0f} N ({catch.lock})")
    thrown = max(max((c.asks_n(case) for case in crash(subject)), default=0.0) for c in unknown)
    crashed = f" and up to {thrown / 1000.0:.1f} kN in a crash" if thrown else ""
    sentence = (
        f"What the locks of slides hold is not known. They must bear, on a {steep:g}° hill or "
        f"starting off: {', '.join(told)}{crashed}. Ask their maker and enter `lock_n` under "
        f"`catalogue: slides:`. {NO_APPROVAL}"
    )
    return remark("lock holds", subject.fitout.name, Severity.UNCHECKED, sentence, SHUT)


def _crash(subject: Subject, found: Sequence[Catch]) -> Iterator[Finding]:
    """One finding of all catches: which let go, and what then stops what they held."""
    cases = crash(subject)
    shares = []
    for catch in found:
        if catch.holds_n is not None:
            asked = max(catch.asks_n(case) for case in cases)
            shares.append((asked / catch.holds_n, asked, catch))
    if not shares:
        return
    shares.sort(key=lambda s: (-s[0], s[2].where))
    loose = [s for s in shares if s[0] > 1.0]
    worst = shares[0]
    if not loose:
        sentence = (
            f"In our own prudent crash case every catch holds; {worst[2].where} uses "
            f"{100.0 * worst[0]:.0f} % of its {worst[2].by}. {NO_APPROVAL}"
        )
    else:
        named = ", ".join(
            f"{c.where} ({asked / 1000.0:.1f} of {(c.holds_n or 0.0) / 1000.0:.1f} kN)"
            for _, asked, c in loose[:LISTED]
        )
        more = f" and {len(loose) - LISTED} more" if len(loose) > LISTED else ""
        sentence = (
            f"In our own prudent crash case these catches let go: {named}{more}. "
            f"{_then(subject, [c for _, _, c in loose])} {NO_APPROVAL}"
        )
    name = subject.fitout.name
    made = at_most("catches in a crash", name, 100.0 * worst[0], 100.0, "%", sentence, CRASH_SOURCE)
    yield dataclasses.replace(made, severity=Severity.CAUTION) if loose else made


def _then(subject: Subject, loose: Sequence[Catch]) -> str:
    """What stops a drawer whose catch let go."""
    rearward = [c for c in loose if c.way[0] < -0.5]
    if rearward and subject.fitout.bay.tailgate:
        return "What opens rearward then runs against the shut tailgate alone: strap heavy drawers."
    return "Strap what is heavy, or tie it down inside."
