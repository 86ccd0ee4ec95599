"""Whether a module stands by its own weight when its drawers are out, or its bolts must hold it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fitout.checks.mass import empty_of
from fitout.checks.slide_loads import load_kg, motion_of
from fitout.checks.subject import Subject
from fitout.checks.verdict import fact, remark
from fitout.mechanics.boards import STANDARD_GRAVITY
from fitout.model.finding import Finding, Severity
from fitout.model.module import Module, Motion, SlideDuty

FOOT = 5.0
"""What ends no higher above the module's lowest point stands on the floor, mm."""

NOTHING_BARS = "nothing in it bars the others"
"""Of drawers that are to be open one at a time: it is a rule for people, no lock."""

STATICS = (
    "statics: moments about the edge the module stands on, on level ground, its other drawers shut"
)


@dataclass(frozen=True, slots=True)
class _Tip:
    """Moments about the edge, N·mm: what a drawer turns it over with, what holds it down."""

    over: float
    back: float


def check_tipping(subject: Subject) -> Iterator[Finding]:
    """Each module with drawers that stands on something: one drawer out, and all that may be."""
    for module in subject.fitout.modules:
        pairs = [(d, m) for d in module.slides if (m := motion_of(module, d))]
        along = {m.direction for _, m in pairs}
        if module.berth is not None and len(along) == 1:
            yield _tips(subject, module, pairs)


def _tips(subject: Subject, module: Module, pairs: Sequence[tuple[SlideDuty, Motion]]) -> Finding:
    edge, axis, away = _edge(subject, module, pairs[0][1])
    singles = [_balance(subject, module, pairs, [n], (edge, axis, away)) for n in range(len(pairs))]
    number = max(range(len(pairs)), key=lambda n: singles[n].over - singles[n].back)
    one_only = _one_at_a_time([motion for _, motion in pairs])
    at_once = [number] if one_only else range(len(pairs))
    every = _balance(subject, module, pairs, at_once, (edge, axis, away))
    alone, together = (t.over - t.back for t in (singles[number], every))
    lacks = max(alone, together)
    if lacks <= 0.0:
        out = "any one drawer" if one_only else "everything"
        rule = f" That no two are out is up to you: {NOTHING_BARS}." if one_only else ""
        sentence = (
            f"{module.name} stands by its own weight with {out} right out: {_nm(every.over):.0f} "
            f"N·m turn it about its edge, {_nm(every.back):.0f} N·m hold it.{rule}"
        )
        return fact("tipping", module.name, 0.0, "N·m", sentence, STATICS)
    out = _name(pairs[number][0]) if alone >= together else "everything"
    turns = f"with {out} right out, {_nm(lacks):.0f} N·m"
    if held := _held_by(module, edge, axis):
        sentence = (
            f"By itself {module.name} would tip over its edge: {turns} are left for {held[0]}"
        )
        if held[1]:
            most = lacks * max(held[1]) / sum(a * a for a in held[1])
            sentence += f", {most:.0f} N at the one that bears most"
        return fact("tipping", module.name, _nm(lacks), "N·m", f"{sentence}.", STATICS)
    rule = f", or open one at a time (`one_at_a_time: yes`; {NOTHING_BARS})"
    sentence = (
        f"{module.name} is bolted to nothing and tips onto whoever stands there: {turns} are left "
        f"that nothing holds. Bolt it down{'' if alone > 0.0 else rule}."
    )
    severity = Severity.FAIL if alone > 0.0 else Severity.CAUTION
    return remark("tipping", module.name, severity, sentence, STATICS)


def _one_at_a_time(motions: Sequence[Motion]) -> bool:
    """Whether each of several may only be out while all others are shut."""
    ids = {motion.id for motion in motions}
    return len(ids) > 1 and all(ids <= {motion.id, *motion.shut} for motion in motions)


def _name(duty: SlideDuty) -> str:
    return duty.name.rpartition("/")[2]


def _held_by(module: Module, edge: float, axis: int) -> tuple[str, list[float]] | None:
    """What holds it down, in words, and how far from the edge each known bolt is."""
    arms = [abs(f.point[axis] - edge) for f in module.fixings if f.anchor is not None]
    if arms:
        return f"its {len(arms)} bolt(s) to the vehicle", [a for a in arms if a > 0.0]
    down = any(line.purpose.startswith("down to") for line in module.hardware)
    return ("the bolts to the module below", []) if down else None


def _nm(moment_nmm: float) -> float:
    return moment_nmm / 1000.0


def _edge(subject: Subject, module: Module, motion: Motion) -> tuple[float, int, float]:
    """Where the fixed parts that reach lowest end, towards where the drawers come out."""
    axis = 0 if abs(motion.direction[0]) >= abs(motion.direction[1]) else 1
    away = 1.0 if motion.direction[axis] > 0.0 else -1.0
    fixed = [p.id for p in module.parts() if p.moves is None]
    low = min(float(subject.bodies[i].lo[2]) for i in fixed)
    feet = [subject.bodies[i] for i in fixed if subject.bodies[i].lo[2] <= low + FOOT]
    ends = [float(b.hi[axis] if away > 0.0 else b.lo[axis]) for b in feet]
    return (max(ends) if away > 0.0 else min(ends)), axis, away


def _balance(
    subject: Subject,
    module: Module,
    pairs: Sequence[tuple[SlideDuty, Motion]],
    out: Sequence[int],
    about: tuple[float, int, float],
) -> _Tip:
    """What turns the module over and what holds it, with the drawers `out`, of any the others shut.

    Drawers that are shut count empty: they may be.
    """
    edge, axis, away = about
    moving = {i for n in out for i in pairs[n][0].moving}
    built = empty_of(subject, module)
    mass = built.mass_kg - sum(subject.loads[i].mass_kg for i in moving)
    middle = built.mass_kg * built.centre[axis]
    middle -= sum(subject.loads[i].mass_kg * subject.loads[i].centre[axis] for i in moving)
    terms = [(mass, middle / mass if mass else edge)]
    for n in out:
        duty, motion = pairs[n]
        own = sum(subject.loads[i].mass_kg for i in duty.moving)
        at = sum(subject.loads[i].mass_kg * subject.loads[i].centre[axis] for i in duty.moving)
        terms.append((load_kg(subject, duty), at / own + away * motion.travel))
    turns = [m * STANDARD_GRAVITY * (x - edge) * away for m, x in terms]
    return _Tip(sum(t for t in turns if t > 0.0), -sum(t for t in turns if t < 0.0))
