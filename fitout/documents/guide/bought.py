"""What is bought besides screws, and where it goes: sentences by what it was bought for."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from types import MappingProxyType

from fitout.checks.order_words import LET_IN
from fitout.documents.dossier import Dossier
from fitout.documents.guide.naming import Names
from fitout.model.assembly import Step
from fitout.model.hardware import Article
from fitout.model.module import Joint, JointKind
from fitout.model.panel import Bar
from fitout.model.placement import Vector

RAILS = "rails on posts"

BRACKET_BOLT = 30.0
"""From a rail's end to the bolt of its bracket, mm (common practice)."""

CLEAR = 12.0
"""Least distance of that bolt from the rail's other bolts, mm."""

SENTENCES: Mapping[tuple[str, str], str] = MappingProxyType(
    {
        ("tie-down", "tie-down eye"): "use_eyes",
        ("tie-down", "strap"): "use_straps",
        ("fences", "felt"): "use_felt",
        ("round tank and base", "strap"): "use_tank_straps",
        ("tap to tailgate", "hose"): "use_hose",
        ("hose ends", "fitting"): "use_hose_ends",
        ("tank", "fitting"): "use_breather",
        ("lowest point of the hose", "fitting"): "use_drain",
        ("under the base", "glide"): "use_glides",
        ("panel to frame", "washer"): "use_frame_washers",
        ("post tops to the vehicle", "bracket"): "use_top_brackets",
        ("inner wall to floor", "bracket"): "use_angles",
        ("lid", "strip hinge"): "use_hinge",
    }
)
"""The sentence for what is bought for a purpose, by the kind of article."""

BELOW = "down to "


def bought(dossier: Dossier, step: Step, names: Names) -> Iterator[str]:
    """Where all goes that a step takes besides what its joints tell."""
    rows = dossier.subject.setting.catalogue.articles
    told: set[str] = set()
    for purpose, article, count in step.uses:
        row = rows.get(article)
        key = SENTENCES.get((purpose, row.kind)) if row is not None else None
        if key is not None and key not in told:
            told.add(key)
            yield names.say(key, count=count)
    yield from _floor(step, names, rows)
    if any(purpose == RAILS for purpose, _, _ in step.uses):
        yield from _rail_brackets(dossier, step, names)


def _floor(step: Step, names: Names, rows: Mapping[str, Article]) -> Iterator[str]:
    """What lies under bolts' heads and beneath the floor, and what takes them below."""
    lines = [(rows[a], a, n) for p, a, n in step.uses if p == "floor fixing" and a in rows]
    above = [a for row, a, _ in lines if _is_above(row)]
    below = [a for row, a, _ in lines if row.kind in ("plate", "nut") and a not in above]
    below += [a for row, a, _ in lines if row.kind == "washer" and a not in above]
    if above:
        sunk = any(article.startswith(LET_IN) for article in above)
        yield names.say("use_let_in" if sunk else "use_under_heads", what=names.joined(above))
    if below:
        holes = [row.clearance_hole for row, _, _ in lines if row.kind.endswith("bolt")]
        for hole in dict.fromkeys(h for h in holes if h):
            yield names.say("use_floor_hole", hole=names.wording.tool(hole))
        yield names.say("use_beneath", what=names.joined(below))
    if any(row.kind == "rivet nut" for row, _, _ in lines):
        yield names.say("use_rivet_nuts")


def inserts(dossier: Dossier, step: Step, names: Names) -> Iterator[str]:
    """What goes into the module below before anything is set on it."""
    rows = dossier.subject.setting.catalogue.articles
    for purpose, article, _ in step.uses:
        if purpose.startswith(BELOW) and article in rows and rows[article].kind == "insert nut":
            hole = names.wording.tool(rows[article].pilot_hole or 0.0)
            to = purpose.removeprefix(BELOW)
            yield names.say("use_inserts", what=article, to=to, hole=hole)


def _is_above(row: Article) -> bool:
    return row.kind == "washer" or row.key.startswith(LET_IN)


def _rail_brackets(dossier: Dossier, step: Step, names: Names) -> Iterator[str]:
    """The bolts through rails into the brackets on the posts."""
    module = step.parts[0].partition("/")[0]
    posts = {j.b for j in _all(dossier) if on_bracket(j) and j.b.startswith(f"{module}/")}
    made = sorted({_first(dossier, post) for post in posts})
    yield names.say("use_rail_brackets", steps=names.joined([str(n) for n in made]))
    for name, far in _rail_bolts(dossier, step):
        yield names.say("use_rail_bolt", part=names.one(name), far=names.far(far))


def _first(dossier: Dossier, id_: str) -> int:
    """The number of the first step in which a part is handled."""
    return next((s.number for s in dossier.steps if id_ in s.parts), 0)


def _rail_bolts(dossier: Dossier, step: Step) -> Iterator[tuple[str, float]]:
    """Each rail of a step with how far from its ends the brackets' bolts go through it."""
    parts = dossier.subject.parts
    for id_ in step.parts:
        rail = parts[id_]
        if isinstance(rail, Bar) and any(on_bracket(j) and id_ == j.a for j in _all(dossier)):
            others = [min(at, rail.length - at) for at, _ in rail.holes]
            tried = (BRACKET_BOLT + off for off in (0.0, 5.0, -5.0, 10.0, 15.0, 20.0))
            clear = (at for at in tried if all(abs(at - o) >= CLEAR for o in others))
            yield id_, next(clear, BRACKET_BOLT)


def _all(dossier: Dossier) -> Iterator[Joint]:
    return dossier.fitout.all_joints()


def on_bracket(joint: Joint) -> bool:
    """Whether a bar is bolted to a bracket on another."""
    return joint.kind is JointKind.BOLTED and joint.note == "frame bracket"


def brackets_on(dossier: Dossier, step: Step, names: Names) -> Iterator[str]:
    """Where the brackets go on a post that something is bolted to later, when it is first there."""
    bodies = dossier.subject.bodies
    for id_ in step.parts:
        rails = [j.a for j in _all(dossier) if on_bracket(j) and j.b == id_]
        if not rails or _first(dossier, id_) != step.number:
            continue
        foot = min(float(bodies[i].lo[2]) for i in step.parts)
        ups = [float(bodies[rail].lo[2]) - foot for rail in rails]
        into = (s.number for s in dossier.steps if rails[0] in s.parts and s.phase == "vehicle")
        way = "left" if float(bodies[rails[0]].lo[1]) > float(bodies[id_].lo[1]) else "right"
        yield names.say(
            "brackets_on",
            count=len(rails),
            part=names.one(id_),
            side=names.say(f"towards_{way}"),
            ups=names.joined([names.far(up, 1) for up in sorted(ups)]),
            step=next(into, 0),
        )
        tops = _tops(dossier, id_)
        if tops:
            yield names.say("bracket_top", part=names.one(id_), to=names.joined(tops))


def _tops(dossier: Dossier, post: str) -> list[str]:
    """The known points to which a post's upper end is bolted: those nearer than to other posts."""
    subject = dossier.subject
    module = subject.modules[subject.parts[post].module]
    posts = {j.b for j in module.joints if on_bracket(j)}

    def off(id_: str, point: Vector) -> float:
        return math.dist((subject.bodies[id_].lo + subject.bodies[id_].hi)[:2] / 2.0, point[:2])

    return [
        top.anchor
        for top in module.tops
        if top.anchor and min(posts, key=lambda id_: off(id_, top.point)) == post
    ]
