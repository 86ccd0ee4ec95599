"""A latch on a moving panel and the striker it meets, with where everything of the two lies.

    seen along the panel the case is on           d: `throw`, n: `normal`, o: way it opens

      ======================= striker's panel
         |lip|  #                              d
         |___|  # bolt                         |
              #####                            |
      |panel| #case                      o <---+---> n
      |     | #####

The bolt stands out of the case along the moving panel's face; the lip stands off the fixed
panel's face, on the side the panel opens towards.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from fitout.model.hardware import LatchType, StrikerType
from fitout.model.placement import Vector

CATCH_PLAY = 0.5
"""Between the bolt and the lip it catches behind, mm (common practice)."""

BLOCK = tuple(itertools.product((0, 1), repeat=3))


@dataclass(frozen=True, slots=True, kw_only=True)
class Latch:
    """What holds the parts of `motion` (of `module`) shut.

    The case lies on `panel`: `root` is the point of that panel's face under the middle of the
    case's end, where the bolt comes out; `normal` points from the face into the case, `throw`
    the way the bolt goes. The striker lies on `striker_panel`: `strikes` is the point of that
    panel's face in the middle of the lip's catching side. `passes` are the panels that button or
    spindle go through. `lever` points from the case to the finger hole a lever is reached by.
    """

    motion: str
    module: str
    type: LatchType
    panel: str
    root: Vector
    normal: Vector
    throw: Vector
    striker: StrikerType
    striker_panel: str
    strikes: Vector
    passes: tuple[str, ...] = ()
    lever: Vector | None = None

    @property
    def motion_id(self) -> str:
        """The motion's id: `<module>/<name>`."""
        return f"{self.module}/{self.motion}"

    @property
    def across(self) -> Vector:
        """Unit vector along the panel's face, across the bolt."""
        a, b = self.throw, self.normal
        return (
            a[1] * b[2] - a[2] * b[1],
            a[2] * b[0] - a[0] * b[2],
            a[0] * b[1] - a[1] * b[0],
        )

    def on_case(self, across: float, throw: float, normal: float = 0.0) -> Vector:
        """A point by its distances from the root, in the latch's own directions."""
        return self._at(self.root, (across, throw, normal))

    def on_striker(self, across: float, throw: float, normal: float = 0.0) -> Vector:
        """A point by its distances from where the lip's catching side meets its panel."""
        return self._at(self.strikes, (across, throw, normal))

    def _at(self, origin: Vector, by: Sequence[float]) -> Vector:
        axes = (self.across, self.throw, self.normal)
        x, y, z = (
            o + sum(d * axis[i] for d, axis in zip(by, axes, strict=True))
            for i, o in enumerate(origin)
        )
        return x, y, z

    @property
    def case(self) -> tuple[Vector, ...]:
        """The eight corners of the case."""
        length, width = self.type.length or 0.0, self.type.width or 0.0
        low, size = (-width / 2.0, -length, 0.0), (width, length, self.type.depth)
        return tuple(self.on_case(*_corner(low, size, c)) for c in BLOCK)

    @property
    def bolt(self) -> tuple[Vector, ...]:
        """The eight corners of the bolt, thrown."""
        t = self.type
        low, size = (-t.bolt_width / 2.0, 0.0, t.bolt_at), (t.bolt_width, t.throw, t.bolt_height)
        return tuple(self.on_case(*_corner(low, size, c)) for c in BLOCK)

    @property
    def lip(self) -> tuple[Vector, ...]:
        """The eight corners of the striker's lip."""
        s = self.striker
        low = (-s.lip_width / 2.0, -s.lip, -s.lip_thickness)
        size = (s.lip_width, s.lip, s.lip_thickness)
        return tuple(self.on_striker(*_corner(low, size, c)) for c in BLOCK)

    @property
    def case_holes(self) -> tuple[Vector, ...]:
        """Where the case's two bolts go through its panel's face."""
        half, inset = self.type.screw_pitch / 2.0, self.type.screw_inset
        return self.on_case(-half, -inset), self.on_case(half, -inset)

    @property
    def striker_holes(self) -> tuple[Vector, ...]:
        """Where the striker's two bolts go through its panel's face."""
        half, inset = self.striker.screw_pitch / 2.0, self.striker.screw_inset
        return self.on_striker(-half, 0.0, inset), self.on_striker(half, 0.0, inset)

    @property
    def button(self) -> Vector:
        """The middle of button, spindle or lever, on the panel's face."""
        return self.on_case(0.0, -self.type.backset)


def _corner(low: Vector, size: Vector, corner: Sequence[int]) -> Vector:
    x, y, z = (a + c * s for a, s, c in zip(low, size, corner, strict=True))
    return x, y, z
