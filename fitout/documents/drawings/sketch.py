"""What stands on one drawing sheet, before it has a frame, a title block and a page number."""

from __future__ import annotations

from dataclasses import dataclass

from fitout.documents.paper.marks import Mark

SPACE_WIDTH, SPACE_HEIGHT = 390.0, 277.0
"""The drawing space of an A3 sheet (ISO 5457, Table 1), mm."""

TITLE_WIDTH, TITLE_HEIGHT = 180.0, 56.0
"""Of the drawing space, its lower right corner: kept free for the title block (ISO 7200), mm."""

Box = tuple[float, float, float, float]
"""Left, bottom, right, top, mm."""

SPACE: Box = (0.0, 0.0, SPACE_WIDTH, SPACE_HEIGHT)
TITLE_BLOCK: Box = (SPACE_WIDTH - TITLE_WIDTH, 0.0, SPACE_WIDTH, TITLE_HEIGHT)


MIDDLE_X, MIDDLE_Y = 190.0, 138.5
"""The sheet's axes of symmetry, on which its centring marks reach 5 mm into the space."""

KEPT: tuple[Box, ...] = (
    TITLE_BLOCK,
    (MIDDLE_X - 0.8, 0.0, MIDDLE_X + 0.8, 5.8),
    (MIDDLE_X - 0.8, SPACE_HEIGHT - 5.8, MIDDLE_X + 0.8, SPACE_HEIGHT),
    (0.0, MIDDLE_Y - 0.8, 5.8, MIDDLE_Y + 0.8),
    (SPACE_WIDTH - 5.8, MIDDLE_Y - 0.8, SPACE_WIDTH, MIDDLE_Y + 0.8),
)
"""What a sketch keeps free: the title block and the centring marks."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """The marks of one sheet, mm from the drawing space's lower left corner.

    They lie within `SPACE` and clear of `TITLE_BLOCK`. The rest is told in the title block,
    in the builder's language; what is empty is left out there.

    Attributes:
        title: what the sheet shows, such as `Drawer side` or `Plan`.
        kind: the kind of document (ISO 7200), such as `Part drawing`.
        name: for the file name, such as `P01-P03`; letters and digits survive.
        number: the part or sheet it shows, such as `P01`.
        module: the module it shows, as the builder named it.
        scale: the main scale as written (ISO 5455), such as `1:5`; empty for tables.
        material: what a part is made of, with its thickness.
        mass: with its unit.
        views: whether several views lie to each other, so that the projection symbol is shown.
    """

    title: str
    kind: str
    name: str
    marks: tuple[Mark, ...]
    number: str = ""
    module: str = ""
    scale: str = ""
    material: str = ""
    mass: str = ""
    views: bool = False
