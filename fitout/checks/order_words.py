"""The words of assembly steps: how a thing is carried in, by how many, with which tools."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from functools import partial
from types import MappingProxyType

import numpy as np

from fitout.checks.order_fasteners import Fasteners
from fitout.checks.order_ways import Way
from fitout.checks.subassemblies import SubAssembly, limit_kg
from fitout.checks.subject import Subject
from fitout.model.hardware import Article
from fitout.model.module import Joint, JointKind
from fitout.model.placement import Vector

UNWIELDY = (1200.0, 600.0)
"""Longer and wider than this, mm, a thing is carried by two (common practice)."""

JOINED: Mapping[JointKind, str] = MappingProxyType(
    {
        JointKind.SCREWED: "screw {it} to {to}",
        JointKind.BOLTED: "bolt {it} to {to}",
        JointKind.GROOVED: "join {it} to {to} by the groove",
        JointKind.HINGED: "hinge {it} to {to}",
        JointKind.SLIDES: "screw {it} to {to}",
        JointKind.RESTS: "lay {it} on {to}",
        JointKind.FITTED: "fit {it} against {to}",
    }
)

IN_PLACE: Mapping[JointKind, str] = MappingProxyType(
    {
        JointKind.SCREWED: "Screw it to {to}",
        JointKind.BOLTED: "Bolt it to {to}",
        JointKind.HINGED: "Hinge it to {to}",
        JointKind.SLIDES: "Let it engage in {to}",
        JointKind.RESTS: "It rests on {to}",
    }
)

TOOLS: Mapping[JointKind, str] = MappingProxyType(
    {
        JointKind.SCREWED: "driver",
        JointKind.BOLTED: "spanners",
        JointKind.HINGED: "driver",
        JointKind.SLIDES: "driver",
    }
)

HEX_FROM = 6.0
"""Countersunk bolts of this diameter on are turned with a hexagon key, mm."""

LET_IN = "let-in plate"
"""How plates are called that are sunk into the ply under countersunk heads."""

HANDLED: Mapping[str, str] = MappingProxyType(
    {
        "wood screw": "driver",
        "pan head screw": "driver",
        "bolt": "spanners",
        "nut": "spanners",
        "insert nut": "hex key",
        "rivet nut": "rivet nut pliers",
        "bracket": "drill",
        "plate": "drill",
        "strip hinge": "hacksaw",
        "felt": "knife",
        "hose": "knife",
        "fitting": "driver",
        "glue": "glue",
        "edge tape": "iron",
    }
)
"""What articles are driven, held or cut with, by their kind (common practice)."""


def people_for(subject: Subject, sub: SubAssembly) -> int:
    """How many carry a sub-assembly: by what one should lift of such a shape, and by its size."""
    question = ("people", sub.mass_kg, *(body.key for body in sub.bodies))
    return subject.memory.recall(question, partial(_people, sub))


def _people(sub: SubAssembly) -> int:
    sizes = np.sort(
        np.max([b.hi for b in sub.bodies], axis=0) - np.min([b.lo for b in sub.bodies], axis=0)
    )
    unwieldy = sizes[2] > UNWIELDY[0] and sizes[1] > UNWIELDY[1]
    return max(math.ceil(sub.mass_kg / limit_kg(sub) - 1e-9), 2 if unwieldy else 1)


def inwards(way: Way) -> tuple[Vector, ...]:
    """The shifts of a way out, backwards: the way in."""
    return tuple((0.0 - x, 0.0 - y, 0.0 - z) for x, y, z in reversed(way.shifts))


def how_in(sub: SubAssembly, way: Way | None, people: int) -> str:
    """How a sub-assembly goes in, in words: the way out, backwards."""
    who = "" if people == 1 else f", {people} people"
    weighs = f"{sub.mass_kg:.1f} kg{who}"
    if way is None:
        return f"Set {sub.id} into its place ({weighs})."
    if way.drawn:
        carriers = listed(sorted(way.drawn))
        return f"Draw {carriers} out, set {sub.id} down on it and push it in ({weighs})."
    held = _held(way.shifts[:-1])
    if way.turned:
        return (
            f"Bring {sub.id} in turned or tilted ({weighs}) and straighten it {_held(way.shifts)} "
            f"its place; then {_moves(inwards(way))}."
        )
    if not held:
        return f"Slide {sub.id} straight in through the tailgate ({weighs})."
    return (
        f"Bring {sub.id} in through the tailgate ({weighs}), held {held} its place; "
        f"then {_moves(inwards(way)[1:])}."
    )


def _held(shifts: Sequence[Vector]) -> str:
    """Where something is held beside its place."""
    x, y, z = (sum(shift[k] for shift in shifts) for k in range(3))
    words = []
    if z:
        words.append(f"{abs(z):.0f} mm {'above' if z > 0 else 'below'}")
    if y:
        words.append(f"{abs(y):.0f} mm {'left of' if y > 0 else 'right of'}")
    if x:
        words.append(f"{abs(x):.0f} mm {'ahead of' if x > 0 else 'behind'}")
    return " and ".join(words)


def _moves(shifts: Sequence[Vector]) -> str:
    return ", then ".join(_move(shift) for shift in shifts)


def _move(shift: Vector) -> str:
    x, y, z = shift
    if z:
        return "set it down" if z < 0 else f"lift it {z:.0f} mm"
    if y:
        return f"push it {abs(y):.0f} mm to the {'left' if y > 0 else 'right'}"
    return f"push it {abs(x):.0f} mm {'forwards' if x > 0 else 'rearwards'}"


def listed(names: Sequence[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def quantities(fasteners: Fasteners) -> str:
    """`4 bolt M8 x 40 and 4 large washer M8`."""
    return listed([f"{count} × {article}" for article, count in fasteners])


def with_these(fasteners: Fasteners) -> str:
    """The clause that says what goes into a step; empty when nothing does."""
    return f", with {quantities(fasteners)}" if fasteners else ""


def both(first: Fasteners, second: Fasteners) -> Fasteners:
    """Two lots of hardware as one, each article once."""
    found = dict(first)
    for article, count in second:
        found[article] = found.get(article, 0) + count
    return tuple(found.items())


def tool_for(
    joints: Iterable[Joint], articles: Iterable[Article] = (), *, in_place: bool = False
) -> str:
    """The tools that joints and what is bought for them ask for.

    A drawer engages in its slides without any.
    """
    tools = dict.fromkeys(
        {"welded": "welder", "glued": "glue"}.get(j.note, TOOLS.get(j.kind, ""))
        for j in joints
        if not (in_place and j.kind is JointKind.SLIDES)
    )
    tools.update(dict.fromkeys(_driven_by(article) for article in articles))
    return ", ".join(tool for tool in tools if tool)


def _driven_by(article: Article) -> str:
    """The tool that an article is driven, held or cut with, empty where hands do."""
    if article.kind == "countersunk bolt":
        # ISO 7046 up to M5 has a cross recess, ISO 10642 from M6 on a hexagon socket.
        return "driver" if (article.diameter or 0.0) < HEX_FROM else "hex key"
    if article.key.startswith(LET_IN):
        return "chisel"
    return HANDLED.get(article.kind, "")
