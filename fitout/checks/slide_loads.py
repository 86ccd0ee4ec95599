"""Slides against their rating, and the screws that hold them when a drawer is right out."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fitout.checks.detail import Detail
from fitout.checks.subject import Subject
from fitout.checks.verdict import at_most, remark
from fitout.mechanics import fasteners
from fitout.mechanics.boards import STANDARD_GRAVITY
from fitout.mechanics.screws import (
    SCREW_TENSILE_MPA,
    both_ways_use,
    dry_gravity,
    effective_diameter,
    thin_steel_lateral_n,
)
from fitout.mechanics.slides import Derating, derated_kg, row_forces_n, slide_utilisation
from fitout.mechanics.timber import GAMMA_LOAD, METHOD, joint_share
from fitout.model.finding import Severity
from fitout.model.hardware import Slide
from fitout.model.module import Module, Motion, SlideDuty
from fitout.model.panel import Panel
from fitout.modules.slides import SLIDE_STEEL, slide_screw

ACROSS_SLOPES_DEG = (10.0, 20.0)
"""Slopes across which the vehicle may stand while a drawer is out (common practice)."""

SCREW_SOURCE = (
    "rigid rail on like screws, one slide taking all that pushes sideways; withdrawal: Wood "
    f"Handbook (FPL-GTR-190) ch. 8, a {fasteners.SCREW_RESERVE:g}th of the mean; across: "
    f"EN 1995-1-1 eq. 8.9, from memory, {METHOD}, loads × {GAMMA_LOAD:g}"
)


@dataclass(frozen=True, slots=True)
class _Out:
    """A drawer right out: the load on its slides, and how far ahead of their front ends it is."""

    load_n: float
    ahead: float


def slide_details(subject: Subject, module: Module) -> Iterator[Detail]:
    """The findings of a module's slides: their rating, and the screws in the fixed panel."""
    for duty in module.slides:
        yield _rated(subject, duty)
        yield from _screwed(subject, module, duty)


def load_kg(subject: Subject, duty: SlideDuty) -> float:
    """What a pair of slides carries, its own moving parts included."""
    return sum(subject.loads[i].mass_kg for i in duty.moving) + duty.contents_kg


def motion_of(module: Module, duty: SlideDuty) -> Motion | None:
    """The motion that the slides make."""
    name = duty.name.rpartition("/")[2]
    return next((m for m in module.motions if m.name == name), None)


def _across(subject: Subject, duty: SlideDuty) -> float:
    """How wide a drawer is between its slides, mm; 0 without a body."""
    bodies = [subject.bodies[i] for i in duty.moving if i in subject.bodies]
    sides = [b for b in bodies if b.hi[0] - b.lo[0] > b.hi[1] - b.lo[1]]
    used = sides or bodies
    if not used:
        return 0.0
    return float(max(b.hi[1] for b in used) - min(b.lo[1] for b in used))


def _holds_kg(slide: Slide, width: float) -> float:
    derating = Derating(slide.rated_width, slide.derate_width, slide.derate_open)
    return derated_kg(slide.rating_kg, max(width, 1.0), derating)


def _rated(subject: Subject, duty: SlideDuty) -> Detail:
    load, slide, width = load_kg(subject, duty), duty.slide, _across(subject, duty)
    holds = _holds_kg(slide, width)
    what = f"slides of {duty.name.rpartition('/')[2]}"
    if not holds > 0.0:
        sentence = (
            f"{duty.name}: its slides {slide.key} are not rated for a drawer {width:.0f} wide: "
            f"the maker takes all of their rating away."
        )
        return Detail(remark("slide load", duty.name, Severity.FAIL, sentence, slide.source), what)
    share = slide_utilisation(load, holds)
    moving = load - duty.contents_kg
    sentence = (
        f"{duty.name}: {moving:.1f} kg of moving parts and {round(duty.contents_kg, 1):g} kg of "
        f"contents load the slides {slide.key} to {100.0 * share:.0f} % of their "
        f"{holds:g} kg a pair{_derated(slide, width, holds)}. The rating holds at rest on a "
        f"level floor; driving over rough ground asks for a reserve."
    )
    if slide.rated_width is None and width > slide.length:
        sentence += (
            f" The drawer is wider ({width:.0f}) than its slides are long ({slide.length:.0f}): "
            "ask the maker what that takes off (common practice)."
        )
    cure = "" if load <= holds else _stronger(subject, duty, load, width)
    sentence += f" {cure}" if cure else ""
    found = at_most("slide load", duty.name, load, holds, "kg", sentence, slide.source)
    return Detail(found, what, cure)


def _derated(slide: Slide, width: float, holds: float) -> str:
    if holds == slide.rating_kg:
        return ""
    return f", of {slide.rating_kg:g} kg as the maker takes off for {width:.0f} wide and fully out"


def _stronger(subject: Subject, duty: SlideDuty, load: float, width: float) -> str:
    """The weakest slide of that length that carries it, or how much less to carry."""
    slide = duty.slide
    able = [
        s
        for s in subject.setting.catalogue.slides.values()
        if s.length == slide.length and _holds_kg(s, width) >= load
    ]
    if able:
        return f"{min(able, key=lambda s: (s.rating_kg, s.key)).key} would do."
    return f"Carry {load - _holds_kg(slide, width):.0f} kg less."


def _screwed(subject: Subject, module: Module, duty: SlideDuty) -> Iterator[Detail]:
    """The fixed panel's screws, the drawer right out, level and across a slope."""
    panels, motion = _screwed_panels(subject, module, duty), motion_of(module, duty)
    panel = next((p for p in panels if p.moves != duty.name.rpartition("/")[2]), None)
    articles = subject.setting.catalogue.articles
    thinner = min((p.thickness for p in panels), default=0.0)
    screw = articles.get(slide_screw(duty.slide, thinner, articles))
    holes = duty.slide.carcass_holes
    if panel is None or motion is None or screw is None or len(holes) < 2:
        return
    name = duty.name.rpartition("/")[2]
    if panel.board.kind != "plywood" or not screw.diameter or not screw.length:
        sentence = (
            f"The screws of the slides of {duty.name} were not checked: what holds a screw in "
            f"{panel.board.key} is not known here, only for plywood."
        )
        found = remark("slide screws", duty.name, Severity.UNCHECKED, sentence)
        yield Detail(found, f"slide screws of {name}")
        return
    deep = min(screw.length - SLIDE_STEEL, panel.thickness)
    holds = _holds(panel.board.density_kg_m3, screw.diameter, deep)
    out = _right_out(subject, duty, motion)
    yield _screws(panel, (duty, screw.key), (out, holds), f"slide screws of {name}")


def _screwed_panels(subject: Subject, module: Module, duty: SlideDuty) -> list[Panel]:
    """The panels that a slide is screwed to: the one that stands still, and the one it moves."""
    bodies = {i.id for i in module.items if i.article == duty.slide.key}
    near = {i for i in bodies if _is_of(subject, i, duty)}
    parts = [subject.parts.get(joint.b) for joint in module.joints if joint.a in near]
    return [part for part in parts if isinstance(part, Panel)]


def _is_of(subject: Subject, slide: str, duty: SlideDuty) -> bool:
    """Whether a slide is joined to one of the parts that it moves."""
    return any((slide, part) in subject.joined for part in duty.moving)


def _right_out(subject: Subject, duty: SlideDuty, motion: Motion) -> _Out:
    """The load, and how far its middle hangs out beyond the slides' front ends."""
    axis = 0 if abs(motion.direction[0]) >= abs(motion.direction[1]) else 1
    away = motion.direction[axis]
    mass = sum(subject.loads[i].mass_kg for i in duty.moving)
    ends = [(b.lo[axis], b.hi[axis]) for i in duty.moving if (b := subject.bodies.get(i))]
    middle = sum(subject.loads[i].mass_kg * subject.loads[i].centre[axis] for i in duty.moving)
    centre = middle / mass if mass else sum(map(sum, ends)) / max(1, 2 * len(ends))
    # The slide's front end is where the drawer's is, give or take the front's thickness.
    front = min(lo for lo, _ in ends) if away < 0.0 else max(hi for _, hi in ends)
    inside = abs(centre - float(front))
    load = (mass + duty.contents_kg) * STANDARD_GRAVITY
    return _Out(load_n=load, ahead=motion.travel - inside)


def _holds(density_kg_m3: float, shank: float, deep: float) -> tuple[float, float]:
    """What a screw may bear when pulled and when pushed sideways, N."""
    pulled = fasteners.withdrawal_n(dry_gravity(density_kg_m3), shank, deep)
    d = effective_diameter(shank)
    embeds = fasteners.screw_embedment_mpa(fasteners.LEAST_OVER_MEAN * density_kg_m3, d)
    bends = fasteners.yield_moment_nmm(SCREW_TENSILE_MPA, d)
    aside = thin_steel_lateral_n(embeds, deep, d, bends)
    return pulled / fasteners.SCREW_RESERVE, aside * joint_share("short")


def _screws(
    panel: Panel, held: tuple[SlideDuty, str], what: tuple[_Out, tuple[float, float]], about: str
) -> Detail:
    """`held` are the slide and its screw, `what` its load and what a screw bears both ways, N."""
    (duty, screw), (out, (axial, lateral)) = held, what
    slide = duty.slide
    uses = []
    for slope in (0.0, *ACROSS_SLOPES_DEG):
        down, aside = _on_slope(out, slide.carcass_holes, slope)
        uses.append(
            max(both_ways_use(p / axial, v / lateral) for p, v in zip(aside, down, strict=True))
        )
    down, _ = _on_slope(out, slide.carcass_holes, 0.0)
    _, pulls = _on_slope(out, slide.carcass_holes, ACROSS_SLOPES_DEG[-1])
    slopes = " / ".join(f"{slope:g}°" for slope in ACROSS_SLOPES_DEG)
    shares = " / ".join(f"{100.0 * use:.0f} %" for use in uses[1:])
    lifts = f" and lifts the rear one with {-min(down):.0f} N" if min(down) < 0.0 else ""
    sentence = (
        f"{duty.name} right out weighs {out.load_n / STANDARD_GRAVITY:.0f} kg, its middle "
        f"{abs(out.ahead):.0f} mm {'before' if out.ahead >= 0.0 else 'behind'} the front end of "
        f"its slides: each slide presses on its front screw with {max(down):.0f} N{lifts}, "
        f"{100.0 * uses[0]:.0f} % of what {len(slide.carcass_holes)} of {screw} hold in "
        f"{panel.board.key}. Across a slope of {slopes} the side load pulls at the slide's screws "
        f"too, with up to {max(map(abs, pulls)):.0f} N: {shares}."
    )
    worst = max(uses)
    cure = _fewer_kg(worst, out) if worst > 1.0 else ""
    sentence += f" {cure}" if cure else ""
    found = at_most("slide screws", duty.name, 100.0 * worst, 100.0, "%", sentence, SCREW_SOURCE)
    return Detail(found, about, cure)


def _fewer_kg(worst: float, out: _Out) -> str:
    mass = out.load_n / STANDARD_GRAVITY
    return (
        f"Carry {mass * (1.0 - 1.0 / worst):.0f} kg less, or bolt the slides through the panel "
        "in place of screws."
    )


def _on_slope(
    out: _Out, holes: Sequence[float], slope_deg: float
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Forces on each screw of one slide, down and sideways, N."""
    slope = math.radians(slope_deg)
    turned = dataclasses.replace(out, ahead=-out.ahead)
    down = row_forces_n(out.load_n * math.cos(slope) / 2.0, turned.ahead, holes)
    aside = row_forces_n(out.load_n * math.sin(slope), turned.ahead, holes)
    return down, aside
