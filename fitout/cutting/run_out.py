"""Grooves and pockets that are open at the part's edge, drawn so that a bit runs out there.

A machine program keeps the bit inside the outline it is given. Ended at the part's edge, a
groove would keep the bit's roundness in its last corners, just where the mating board enters;
so at a router's open ends it is drawn on beyond the edge by the bit's radius.

      ┌──────────────┐                 ┌──────────────┐
      ╞══════════════╡  the part's    ┌╞══════════════╡┐  as it is drawn
      └──────────────┘  groove        └┴──────────────┴┘
"""

from __future__ import annotations

import math

from fitout.cutting.frame import simplified
from fitout.model.outline import Loop, Vertex

ON_EDGE = 1e-5
"""What lies so near the part's edge ends at it, mm."""


def run_out(loop: Loop, outer: Loop, beyond: float) -> Loop:
    """The pocket's loop with every straight end on the part's straight edge moved out."""
    walls = [(a, b) for a, b in outer.anticlockwise().segments() if not a.bulge]
    drawn: list[Vertex] = []
    opened = False
    for a, b in loop.anticlockwise().segments():
        drawn.append(a)
        if not a.bulge and any(_lies_on((a, b), wall) for wall in walls):
            run = math.hypot(b.x - a.x, b.y - a.y)
            x, y = beyond * (b.y - a.y) / run, beyond * (a.x - b.x) / run
            drawn += (Vertex(a.x + x, a.y + y), Vertex(b.x + x, b.y + y))
            opened = True
    return simplified(Loop(tuple(drawn))) if opened else loop


def _lies_on(end: tuple[Vertex, Vertex], wall: tuple[Vertex, Vertex]) -> bool:
    """Whether the segment lies along the wall, both its ends within it."""
    a, b = wall
    run = math.hypot(b.x - a.x, b.y - a.y)
    if run < ON_EDGE:
        return False
    u, v = (b.x - a.x) / run, (b.y - a.y) / run
    along = [(p.x - a.x) * u + (p.y - a.y) * v for p in end]
    across = [(p.y - a.y) * u - (p.x - a.x) * v for p in end]
    return (
        max(map(abs, across)) < ON_EDGE
        and min(along) > -ON_EDGE
        and max(along) < run + ON_EDGE
        and along[1] - along[0] > ON_EDGE
    )
