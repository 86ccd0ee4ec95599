"""How near bodies come to each other: the light engine behind every clearance question.

`body` turns a part or an obstacle into a `Body`; `contact` finds which bodies are near and
how they stand to each other (gap, or depth and volume of a clash), `witness` where the gap
is, `sweep` what a moving body passes through. `shape`, `grid`, `convex` and `depth` are
the geometry beneath. Answers hold to 0.004 mm where arcs meet, to 2e-6 mm elsewhere.

What belongs here: geometry that a hundred parts can ask live, with numpy and manifold3d.
What does not: which gaps are enough (`checks`), exact solids for files (`documents`).

To add a kind of shape: a class in `shape` with `manifold`, `pieces` and `growth`, and the
branch in `body` that makes it.
"""
