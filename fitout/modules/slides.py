"""Side-mounted slides: which pair serves, and how one slide sits between two upright panels."""

from __future__ import annotations

from collections.abc import Mapping

from fitout.model.hardware import Article, Slide
from fitout.model.item import Item, block
from fitout.model.module import JointKind, Motion, MotionKind
from fitout.model.placement import Vector, flat
from fitout.modules.joinery import Draft
from fitout.modules.kind import Setting

HEAVY_FROM_KG = 30.0
"""From this load on the slides are of the heavy locking kind unless said (common practice)."""

SLIDE_STEEL = 1.5
"""Thickness of a slide's steel under a screw's head, mm (common practice)."""


def slide_screw(slide: Slide, thickness: float, articles: Mapping[str, Article]) -> str:
    """The screw for a slide: its own, or a shorter one like it whose point stays in the board.

    `thickness` is that of the thinner of both panels, mm. Where none is short enough, it is
    the shortest there is.
    """
    own = articles.get(slide.screw)
    if own is None or own.length is None or own.length - SLIDE_STEEL <= thickness:
        return slide.screw
    like = [
        (a.length, a.key)
        for a in articles.values()
        if a.kind == own.kind and a.diameter == own.diameter and a.length is not None
    ]
    staying = [row for row in like if row[0] - SLIDE_STEEL <= thickness]
    return max(staying)[1] if staying else min(like)[1]


def least_slide(wish: str | None, setting: Setting, load_kg: float) -> Slide:
    """The slide that takes the least room: the one named, or the shortest of its sort."""
    slides = setting.catalogue.slides
    if wish is not None and wish in slides:
        return slides[wish]
    return min(_family(wish, setting, load_kg), key=lambda s: (s.length, s.height))


def _family(wish: str | None, setting: Setting, load_kg: float) -> list[Slide]:
    sort = wish or ("heavy locking" if load_kg >= HEAVY_FROM_KG else "full extension")
    return [s for s in setting.catalogue.slides.values() if s.key.startswith(sort)]


def choose_slide(
    wish: str | None, setting: Setting, depth: float, load_kg: float, height: float
) -> Slide:
    """The slide for a drawer: the one named, or the longest of its sort that fits.

    Of the sort's slides no longer than `depth` and no higher than `height`, the longest
    that is rated for the load; if none is, the one rated highest (a check then says so).
    """
    slides = setting.catalogue.slides
    if wish is not None and wish in slides:
        return slides[wish]
    family = _family(wish, setting, load_kg)
    fitting = [s for s in family if s.length <= depth and s.height <= height]
    fitting = fitting or [min(family, key=lambda s: (s.length, s.height))]
    able = [s for s in fitting if s.rating_kg >= load_kg]
    if able:
        return max(able, key=lambda s: (s.length, s.key))
    return max(fitting, key=lambda s: (s.rating_kg, s.length, s.key))


def add_slide(
    draft: Draft, name: str, slide: Slide, corner: Vector, between: tuple[str, str]
) -> None:
    """One slide of a pair between a fixed panel and a moving one, with their pilot holes.

    `corner` is the slide's least corner in bay coordinates, `between` names the fixed and
    the moving panel. The fixed panel's pilot holes are blind; the moving panel may have a
    groove on the face away from the slide, so that its holes go right through.
    """
    fixed, moving = between
    draft.items.append(
        Item(
            name=name,
            module=draft.name,
            pieces=(block(slide.length, slide.side_clearance, slide.height),),
            mass_kg=slide.mass_pair_kg / 2.0,
            placement=flat(*corner),
            article=slide.key,
            source=slide.source,
        )
    )
    x, y, z = corner
    middle = z + slide.height / 2.0
    articles = draft.setting.catalogue.articles
    thinner = min(draft.panels[fixed].thickness, draft.panels[moving].thickness)
    screw = slide_screw(slide, thinner, articles)
    pilot = articles[screw].pilot_hole or 2.5
    blind = min(draft.panels[fixed].thickness - 2.0, 10.0)
    draft.drill_at(
        fixed, [(x + h, y, middle) for h in slide.carcass_holes], pilot, "slide", depth=blind
    )
    draft.drill_at(moving, [(x + h, y, middle) for h in slide.drawer_holes], pilot, "slide")
    draft.join(name, fixed, JointKind.SLIDES)
    draft.join(name, moving, JointKind.SLIDES)
    draft.buy(screw, len(slide.carcass_holes) + len(slide.drawer_holes), "slides")


def runs_out(draft: Draft, name: str, slide: Slide) -> None:
    """The motion of what its slides bring out at the tailgate."""
    draft.motions.append(
        Motion(
            name=name,
            module=draft.name,
            kind=MotionKind.SLIDE,
            direction=(-1.0, 0.0, 0.0),
            travel=slide.travel,
            stop="the slides' own stop",
        )
    )
