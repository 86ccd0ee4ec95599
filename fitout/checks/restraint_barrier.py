"""The barrier: held on the road, and what a heavy thing does to it in a crash.

The load presses at its own height in the middle between the posts, which bear half of it each.
Posts bend, foot plates bend where the posts are not held at their tops, bolts bear what is left,
the panel bends between posts and rails. Everyday cases are held against yielding, the crash
against full plastic bending and the bolts' breaking. How far the barrier goes ahead is told
against the gap to the seat. No approval under UN R17, UN R126, ISO 27956 or AS/NZS 4034.
"""

from __future__ import annotations

import dataclasses
import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from fitout.checks.ledger import Load, together
from fitout.checks.mass import contents_of, empty_of
from fitout.checks.remedies import thicker_sheets
from fitout.checks.restraint_cases import CRASH_FORWARD_G, CRASH_SOURCE, everyday
from fitout.checks.restraint_grip import Grip, Share
from fitout.checks.restraint_held import bolted, grip_of, worst
from fitout.checks.subject import Subject
from fitout.checks.verdict import at_most, remark
from fitout.mechanics import posts
from fitout.mechanics.boards import strength_used
from fitout.mechanics.bolt_group import Load as Push
from fitout.mechanics.bolt_group import bolt_forces
from fitout.mechanics.bolts import Basis
from fitout.mechanics.impact import (
    BLOCKS,
    Block,
    energy_j,
    force_n,
    gives_way,
    stopping_distance,
)
from fitout.mechanics.plates import Patch, plate_of_board, plate_response
from fitout.model.finding import Finding, Severity
from fitout.model.module import Module
from fitout.model.panel import Grain, Panel
from fitout.model.stock import Board, Section
from fitout.survey.room import front_face

NO_APPROVAL = (
    "No approval under UN R17, UN R126, ISO 27956 or AS/NZS 4034; local rules and licensed "
    "practice decide."
)
SPEED_KMH = 48.0
"""Speed of the frontal stop (after AS/NZS 4034.1, from memory)."""

FACE = (300.0, 300.0)
"""The face a heavy loose thing strikes with where its size is not known, mm (our proposal)."""

STOP = stopping_distance(SPEED_KMH, CRASH_FORWARD_G)
SOURCE = (
    "statics of posts, EN 1993-1-1 bending, bolts ISO 898-1 and EN 1993-1-8, panel as an "
    "orthotropic plate, in part from memory"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Barrier:
    """What of a barrier bears a push from behind, and where its loads lie.

    `own` is frame, panel, shelf and what it carries. `foot` and `top` are the heights of the
    posts' ends, `strikes` that of the middle of a thing that flies, all above the foot.
    """

    module: Module
    section: Section
    plate: Section
    top: float
    own: Load
    own_height: float
    strikes: float
    feet: tuple[Grip, ...]
    tops: tuple[Grip, ...]
    top_held: bool

    def pushes(self, own_n: float, thrown_n: float) -> tuple[posts.Push, ...]:
        """The pushes on one post: half of the barrier's own load and of what is thrown."""
        return (own_n / 2.0, min(self.own_height, self.top)), (thrown_n / 2.0, self.strikes)


def barrier_of(subject: Subject, module: Module) -> Barrier | None:
    """The parts of a barrier that bear; None where it has no posts or is bolted nowhere."""
    bars = {bar.name: bar for bar in module.bars}
    post, plate = bars.get("left post"), bars.get("left foot plate")
    bay = subject.fitout.bay
    anchors = {a.name: a for a in (*bay.anchors, *bay.upper_anchors)}
    feet = [f for f in module.fixings if f.anchor in anchors]
    if post is None or plate is None or not feet:
        return None
    foot = post.placement.origin[2]
    own = together([empty_of(subject, module), contents_of(subject, module)])
    panel = _panel(module)
    low = min(z for _, _, z in _corners(panel)) if panel else foot
    high = foot + post.length
    ground = subject.setting.deck if subject.setting.deck is not None else bay.floor
    strikes = max(ground + FACE[1] / 2.0, (low + high) / 2.0)
    both = {f.point[1] > 0.0 for f in module.tops}
    return Barrier(
        module=module,
        section=post.section,
        plate=plate.section,
        top=post.length,
        own=own,
        own_height=max(0.0, own.centre[2] - foot),
        strikes=min(strikes - foot, post.length),
        feet=tuple(grip_of(subject, module, f, anchors[f.anchor or ""]) for f in feet),
        tops=tuple(grip_of(subject, module, f, anchors[f.anchor or ""]) for f in module.tops),
        top_held=len(both) == 2,
    )


def check_barrier(subject: Subject) -> Iterator[Finding]:
    """Each barrier on the road, and under the heaviest loose thing in a crash."""
    for module in subject.fitout.modules:
        if module.kind != "barrier":
            continue
        barrier = barrier_of(subject, module)
        if barrier is None:
            sentence = (
                f"Whether {module.name} holds was not checked: it is bolted to no known point. "
                f"{NO_APPROVAL}"
            )
            yield remark("barrier", module.name, Severity.UNCHECKED, sentence)
            continue
        yield _everyday(subject, barrier)
        if subject.restraint.crash:
            yield _crash(subject, barrier)


def uses(barrier: Barrier, own_n: float, thrown_n: float, basis: Basis) -> list[Share]:
    """Shares used of a barrier's posts, foot plates and bolts by pushes straight ahead."""
    forces = posts.post_forces(
        barrier.top, barrier.pushes(own_n, thrown_n), top_held=barrier.top_held
    )
    found = [("posts", forces.moment_nmm / _bears(barrier.section, basis))]
    if not barrier.top_held:
        flat = barrier.plate
        found.append(("foot plates", forces.foot_moment_nmm / _bears(flat, basis)))
    for grips, push in ((barrier.feet, forces.foot_n), (barrier.tops, forces.top_n)):
        if grips:
            each = 2.0 * push / len(grips)
            where = "foot" if grips is barrier.feet else "top"
            found += [
                (f"{part} at its {where} bolts", share)
                for grip in set(grips)
                for part, share in grip.limits(basis).shares(0.0, each)
            ]
    return found


def thrown_forward(
    subject: Subject, barrier: Barrier, g: float, loose_kg: float
) -> tuple[tuple[float, float], ...]:
    """Tension and shear of each foot bolt, then of each top bolt, thrown ahead with `g`, N."""
    own_n, thrown_n = force_n(barrier.own.mass_kg, g), force_n(loose_kg, g)
    forces = posts.post_forces(
        barrier.top, barrier.pushes(own_n, thrown_n), top_held=barrier.top_held
    )
    if barrier.top_held:
        feet = [(0.0, 2.0 * forces.foot_n / len(barrier.feet))] * len(barrier.feet)
        return (*feet, *[(0.0, 2.0 * forces.top_n / len(barrier.tops))] * len(barrier.tops))
    group = bolted(subject, barrier.module)
    assert group is not None
    lever = (own_n * barrier.own_height + thrown_n * barrier.strikes) / (own_n + thrown_n)
    foot = barrier.module.fixings[0].point[2]
    push = Push((own_n + thrown_n, 0.0, 0.0), (barrier.own.centre[0], 0.0, foot + lever))
    found = bolt_forces(group.points, group.corners, push)
    assert found is not None
    return tuple((t, found.shear_n(i)) for i, t in enumerate(found.tension))


def _bears(section: Section, basis: Basis) -> float:
    modulus = posts.elastic_modulus if basis == "working" else posts.plastic_modulus
    # Sections without a known yield are taken as the weakest usual steel.
    strength = section.yield_mpa or 235.0
    return strength * modulus(section.width, section.height, section.wall)


def _everyday(subject: Subject, barrier: Barrier) -> Finding:
    """Its own mass and the shelf's goods in each everyday case."""
    cases = everyday(subject)
    g = max(case.g for case in cases if case.way[0])
    own_n = force_n(barrier.own.mass_kg, g)
    part, share = max(uses(barrier, own_n, 0.0, "working"), key=_share)
    group = bolted(subject, barrier.module)
    if group is not None and not barrier.top_held:
        used = worst(subject, group, cases)
        if used is None or used.share > share:
            part, share = ("bolts", 9.99) if used is None else (used.part, used.share)
    sentence = (
        f"{barrier.module.name} with its goods ({barrier.own.mass_kg:.0f} kg) uses "
        f"{100.0 * share:.0f} % of its {part} at {g:g} g."
    )
    if share > 1.0:
        sentence += f" {_cure(subject, barrier, (own_n, 0.0), 'working')}"
    sentence = f"{sentence} {NO_APPROVAL}"
    where = barrier.module.name
    source = f"{cases[0].source}; {SOURCE}"
    return at_most("barrier", where, 100.0 * share, 100.0, "%", sentence, source)


def _share(pair: Share) -> float:
    return pair[1]


def _crash(subject: Subject, barrier: Barrier) -> Finding:
    """The heaviest loose thing at 20 g: what governs, how far it goes, what would hold."""
    kg, where = subject.restraint.loose, barrier.module.name
    heaviest = Block("the heaviest loose thing", kg, (*FACE, FACE[0]), "as entered")
    thrown_n = force_n(kg, CRASH_FORWARD_G)
    own_n = force_n(barrier.own.mass_kg, CRASH_FORWARD_G)
    frame = uses(barrier, own_n, thrown_n, "ultimate")
    bolts = thrown_forward(subject, barrier, CRASH_FORWARD_G, kg)
    for grip, forces in zip((*barrier.feet, *barrier.tops), bolts, strict=True):
        frame += grip.limits("ultimate").shares(*forces)
    panel = panel_used(subject, barrier.module, heaviest)
    part, share = max([*frame, *([] if panel is None else [("panel", panel)])], key=_share)
    ahead, gap = ahead_and_gap(subject, barrier, own_n, thrown_n)
    sentence = (
        f"In our own prudent crash case {kg:g} kg that fly against {where} at "
        f"{CRASH_FORWARD_G:g} g ({energy_j(kg, SPEED_KMH) / 1000.0:.1f} kJ at {SPEED_KMH:g} km/h) "
        f"press with {thrown_n / 1000.0:.1f} kN and use "
        f"{100.0 * share:.0f} % of its {part}{_blocks(subject, barrier.module)}. "
        f"{_told_ahead(ahead, gap)}"
    )
    if share > 1.0:
        sentence += f" {_cure(subject, barrier, (own_n, thrown_n), 'ultimate', heaviest)}"
    found = at_most(
        "barrier in a crash",
        where,
        100.0 * share,
        100.0,
        "%",
        f"{sentence} {NO_APPROVAL}",
        f"{CRASH_SOURCE}; {SOURCE}; {BLOCKS[0].source}",
    )
    if found.severity is Severity.PASS:
        return found
    return dataclasses.replace(found, severity=Severity.CAUTION)


def ahead_and_gap(
    subject: Subject, barrier: Barrier, own_n: float, thrown_n: float
) -> tuple[float, float]:
    """How far the frame goes ahead where it is struck, and the gap to the seat there, mm."""
    section = barrier.section
    inertia = (
        section.height / 2.0 * posts.elastic_modulus(section.width, section.height, section.wall)
    )
    stiffness = (section.e_mpa or 210_000.0) * inertia
    per_n = posts.give(barrier.top, barrier.strikes, stiffness, top_held=barrier.top_held) / 2.0
    _, share = max(uses(barrier, own_n, thrown_n, "ultimate"), key=_share)
    force = own_n + thrown_n
    ahead = gives_way(force, per_n, force / share, STOP)
    bar = next(b for b in barrier.module.bars if b.name == "left post")
    z = bar.placement.origin[2] + barrier.strikes
    face = max(bar.placement.origin[0], bar.placement.at(0.0, 0.0, section.height)[0])
    return ahead, front_face(subject.fitout.bay, z, z) - face


def panel_used(
    subject: Subject, module: Module, block: Block, board: Board | None = None
) -> float | None:
    """The share of the panel's bending strength that a block uses, None if it is not known.

    The panel is held by posts and rails; its widest field is struck in the middle by the
    block's smallest face. Windows and the pass-through are left out of account.
    """
    panel = _panel(module)
    rails = sorted(b.placement.origin[2] for b in module.bars if b.name.endswith("rail"))
    inner = sorted(b.placement.origin[1] for b in module.bars if b.name.endswith("post"))
    if panel is None or not rails or len(inner) != 2:
        return None
    width = inner[1] - inner[0]
    height = max([b - a for a, b in itertools.pairwise(rails)] or [width])
    own = board or panel.board
    small = sorted(block.edges)[:2]
    patch = Patch(
        force_n(block.mass_kg, CRASH_FORWARD_G), min(small[1], width), min(small[0], height)
    )
    shares = []
    ways = {Grain.ALONG_U: (True,), Grain.ALONG_V: (False,), Grain.EITHER: (True, False)}
    for along in ways[panel.grain]:
        plate = plate_of_board(own, (width, height), "all", grain_along_u=along)
        if plate is None:
            return None
        asked = (plate, 0.0, patch)
        bent = subject.memory.recall(("plate", *asked), partial(plate_response, *asked))
        used = strength_used(own, bent, grain_along_u=along)
        if used is None:
            return None
        shares.append(used)
    return max(shares)


def _blocks(subject: Subject, module: Module) -> str:
    """What the test blocks of R17 use of the panel, in words."""
    told = []
    for block in BLOCKS:
        used = panel_used(subject, module, block)
        if used is not None:
            told.append(f"{block.mass_kg:g} kg {100.0 * used:.0f} %")
    return f" (of the panel the blocks of UN R17 use: {', '.join(told)})" if told else ""


def _told_ahead(ahead: float, gap: float) -> str:
    if ahead > STOP:
        return f"It does not stop it: the gap to the seat is {gap:.0f} mm."
    goes = f"There the frame goes {ahead:.0f} mm ahead"
    if ahead > gap:
        return f"{goes}, {ahead - gap:.0f} mm into the seat's back."
    return f"{goes}, within the {gap:.0f} mm to the seat."


def _cure(
    subject: Subject,
    barrier: Barrier,
    loads: tuple[float, float],
    basis: Basis,
    block: Block | None = None,
) -> str:
    """Posts held at their tops, a stronger tube, a thicker panel: the least that holds."""
    sheet = None if block is None else _sheet_that_holds(subject, barrier.module, block)
    needs_sheet = block is not None and (panel_used(subject, barrier.module, block) or 0.0) > 1.0
    if needs_sheet and sheet is None:
        return "No thicker panel of its sort would hold it: give it a rail across each half metre."
    best: tuple[float, str] | None = None
    panel = [f"a panel of {sheet.key}"] if needs_sheet and sheet is not None else []
    for frame, changed in _stronger(subject, barrier):
        words = [*frame, *panel]
        share = max(s for _, s in uses(changed, *loads, basis))
        if words and share <= 1.0:
            return f"It would hold with {' and '.join(words)} ({100.0 * share:.0f} %)."
        if words and (best is None or share < best[0]):
            best = (share, " and ".join(words))
    if best is None:
        return "No stronger tube of the catalogue would hold it: carry nothing so heavy loose."
    return f"Even with {best[1]} {100.0 * best[0]:.0f} % are used: carry nothing so heavy loose."


def _stronger(subject: Subject, barrier: Barrier) -> Iterator[tuple[list[str], Barrier]]:
    """The barrier, held at its tops or not, of each tube of the catalogue, lightest first."""
    tubes = [
        s
        for s in subject.setting.catalogue.sections.values()
        if s.wall is not None
        and s.area * s.density_kg_m3 >= barrier.section.area * barrier.section.density_kg_m3
    ]
    tubes.sort(key=lambda s: s.area * s.density_kg_m3)
    for tube in [barrier.section, *(s for s in tubes if s.key != barrier.section.key)]:
        for held in dict.fromkeys((barrier.top_held, True)):
            words = []
            if held and not barrier.top_held:
                words.append("both posts bolted to points of the vehicle at their tops")
            if tube.key != barrier.section.key:
                words.append(f"`frame: {tube.key}`")
            tops = barrier.tops or barrier.feet[:2]
            yield (
                words,
                dataclasses.replace(
                    barrier, section=tube, top_held=held, tops=tops if held else ()
                ),
            )


def _sheet_that_holds(subject: Subject, module: Module, block: Block) -> Board | None:
    panel = _panel(module)
    if panel is None:
        return None
    return next(
        (
            sheet
            for sheet in thicker_sheets(subject, panel.board)
            if (panel_used(subject, module, block, sheet) or 2.0) <= 1.0
        ),
        None,
    )


def _panel(module: Module) -> Panel | None:
    return next((p for p in module.panels if p.name == "panel"), None)


def _corners(panel: Panel) -> Sequence[tuple[float, float, float]]:
    u0, v0, u1, v1 = panel.outline.bounds
    return [panel.placement.at(u, v, 0.0) for u in (u0, u1) for v in (v0, v1)]
