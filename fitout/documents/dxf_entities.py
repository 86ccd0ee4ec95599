"""What a DXF file draws, written as the text that it becomes.

The document around it (header, tables, blocks) is `dxf_file`'s; a record for each of many
thousand lines would take far longer than the lines themselves. Format: DXF R2000, ENTITIES
section, each entity with its handle, its owner and its layer.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal

from fitout.documents.dxf_file import DxfFile
from fitout.model.outline import Point

Across = Literal["left", "middle", "right"]
ACROSS = {"left": 0, "middle": 1, "right": 2}
"""Horizontal justification by the format's number (group 72)."""


def look(
    layer: str, linetype: str = "", colour: int | None = None, weight: int | None = None
) -> str:
    """The tags for an entity's layer and, unless they are the layer's, its line and colour.

    `colour` is an index, `weight` a line width in hundredths of a mm.
    """
    told = f"  8\n{layer}\n"
    if linetype:
        told += f"  6\n{linetype}\n"
    if colour is not None:
        told += f" 62\n{colour}\n"
    return told if weight is None else told + f"370\n{weight}\n"


class Entities:
    """The entities of a file in the order they were added; lives while one file is made."""

    def __init__(self, file: DxfFile) -> None:
        self._file = file
        self._told: list[str] = []

    def polyline(self, points: Sequence[Sequence[float]], look: str, *, closed: bool) -> None:
        """Straight lines and arcs through (x, y) or (x, y, bulge)."""
        corners = "".join(_corner(*point) for point in points)
        told = f"100\nAcDbPolyline\n 90\n{len(points)}\n 70\n{int(closed)}\n{corners}"
        self._add("LWPOLYLINE", look, told)

    def circle(self, centre: Point, radius: float, look: str) -> None:
        """A whole circle."""
        self._add("CIRCLE", look, _circle(centre, radius))

    def arc(self, centre: Point, radius: float, ends: tuple[float, float], look: str) -> None:
        """Part of a circle, anticlockwise between two angles in degrees."""
        start, end = ends
        angles = f"100\nAcDbArc\n 50\n{float(start)}\n 51\n{float(end)}\n"
        self._add("ARC", look, _circle(centre, radius) + angles)

    def triangle(self, corners: Sequence[Point], look: str) -> None:
        """A filled triangle."""
        # The format asks for four corners, of which the last may be the third again.
        told = "".join(
            f" 1{i}\n{float(x)}\n 2{i}\n{float(y)}\n 3{i}\n0.0\n"
            for i, (x, y) in enumerate((*corners, corners[-1]))
        )
        self._add("SOLID", look, "100\nAcDbTrace\n" + told)

    def area(self, rings: Sequence[Sequence[Point]], look: str) -> None:
        """What lies within an odd number of the rings, filled."""
        told = "".join(
            f" 92\n3\n 72\n0\n 73\n1\n 93\n{len(ring)}\n"
            + "".join(_corner(*point) for point in ring)
            + " 97\n0\n"
            for ring in rings
        )
        head = (
            "100\nAcDbHatch\n 10\n0.0\n 20\n0.0\n 30\n0.0\n210\n0.0\n220\n0.0\n230\n1.0\n"
            f"  2\nSOLID\n 70\n1\n 71\n0\n 91\n{len(rings)}\n"
        )
        self._add("HATCH", look, head + told + " 75\n0\n 76\n1\n 98\n0\n")

    def text(  # over budget: a text has as many properties
        self,
        words: str,
        at: Point,
        height: float,
        look: str,
        *,
        style: str = "",
        turned: float = 0.0,
        across: Across = "left",
        centred: bool = False,
    ) -> None:
        """A line of text without line breaks, by its baseline or `centred` at its middle height.

        `turned` degrees anticlockwise; the style is the format's own unless another is named.
        """
        x, y = float(at[0]), float(at[1])
        told = f"100\nAcDbText\n 10\n{x}\n 20\n{y}\n 30\n0.0\n 40\n{float(height)}\n  1\n{words}\n"
        if turned:
            told += f" 50\n{float(turned)}\n"
        if style:
            told += f"  7\n{style}\n"
        if ACROSS[across]:
            told += f" 72\n{ACROSS[across]}\n"
        told += f" 11\n{x}\n 21\n{y}\n 31\n0.0\n100\nAcDbText\n"
        self._add("TEXT", look, told + " 73\n2\n" if centred else told)

    def as_bytes(self) -> bytes:
        """The whole file."""
        return self._file.as_bytes("".join(self._told))

    def _add(self, kind: str, look: str, told: str) -> None:
        file = self._file
        self._told.append(
            f"  0\n{kind}\n  5\n{file.handle()}\n330\n{file.space}\n100\nAcDbEntity\n{look}{told}"
        )


def _corner(x: float, y: float, bulge: float = 0.0) -> str:
    told = f" 10\n{float(x)}\n 20\n{float(y)}\n"
    return f"{told} 42\n{float(bulge)}\n" if bulge else told


def _circle(centre: Iterable[float], radius: float) -> str:
    x, y = centre
    return f"100\nAcDbCircle\n 10\n{float(x)}\n 20\n{float(y)}\n 30\n0.0\n 40\n{float(radius)}\n"
