"""Reading a DXF cut file as a machine's program would: layers, closed loops and circles.

A reader of our own, forty lines of the format's pairs of code and value, and nothing of the
library that writes: what that library leaves out or puts elsewhere is missed here too.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from fitout.model.outline import Loop, Vertex
from fitout.model.panel import Face, Hole

Kind = Literal["PERIMETER", "CUTOUT", "DRILL", "SINK"]

MARKS = re.compile(r"0|SHEET|TEXT|SCRIBE_LINE|TAB_\d{4}_STANDING|LEAD_IN|HOLD_DOWN|DATUM_PIN")
"""Layers on which nothing of a part is cut."""

_CUTS = re.compile(r"(PERIMETER|CUTOUT|DRILL|SINK)_(\d{4})_(?:THROUGH|FACE_([AB]))")
_MILLIMETRES = "4"

Pair = tuple[str, str]


class CutFileError(ValueError):
    """A cut file says something that no machine's program should be made from."""


@dataclass(frozen=True, slots=True)
class Work:
    """What is done, how deep in tenths of a millimetre, and into which face; None goes through."""

    kind: Kind
    tenths: int
    face: Face | None

    def __str__(self) -> str:
        """The layer's name."""
        where = "THROUGH" if self.face is None else f"FACE_{self.face.value}"
        return f"{self.kind}_{self.tenths:04d}_{where}"


@dataclass(frozen=True, slots=True)
class Drawn:
    """A loop, or a hole's circle, and what is to be done along or in it.

    Where it is known which part it belongs to, `within` is the part's outer edge.
    """

    work: Work
    thing: Loop | Hole
    within: Loop | None = None


@dataclass(frozen=True, slots=True)
class CutFile:
    """A cut file: what is cut, in the file's order, and the loops on its layer SHEET.

    `lines` are the open lines on its layer SCRIBE_LINE, where finished edges lie.
    """

    drawn: tuple[Drawn, ...]
    borders: tuple[Loop, ...]
    lines: tuple[tuple[Vertex, ...], ...] = ()


def read_cuts(data: bytes) -> CutFile:
    """A cut file's work and sheet border; text and marks are passed over.

    Raises:
        CutFileError: if it is no DXF in millimetres, or a cut layer holds what can't be cut.
    """
    pairs = _pairs(data)
    sections = dict(_sections(pairs))
    if _header(sections.get("HEADER", []), "$INSUNITS") != _MILLIMETRES:
        raise CutFileError("its unit is not the millimetre")
    drawn: list[Drawn] = []
    borders: list[Loop] = []
    lines: list[tuple[Vertex, ...]] = []
    for entity in _entities(sections.get("ENTITIES", [])):
        layer = _value(entity, "8")
        if layer == "SHEET":
            borders.append(_loop(entity))
        elif layer == "SCRIBE_LINE":
            lines.append(tuple(_vertices(entity)))
        elif not MARKS.fullmatch(layer):
            drawn.append(Drawn(_work(layer), _thing(entity)))
    return CutFile(tuple(drawn), tuple(borders), tuple(lines))


def _pairs(data: bytes) -> list[Pair]:
    lines = [line.strip() for line in data.decode("latin-1").splitlines()]
    pairs = list(zip(lines[::2], lines[1::2], strict=False))
    if not pairs or pairs[-1] != ("0", "EOF"):
        raise CutFileError("it does not end as a DXF file ends")
    return pairs


def _sections(pairs: Sequence[Pair]) -> Iterator[tuple[str, list[Pair]]]:
    start = 0
    for i, pair in enumerate(pairs):
        if pair == ("0", "SECTION"):
            start = i + 1
        elif pair == ("0", "ENDSEC"):
            yield pairs[start][1], list(pairs[start + 1 : i])


def _header(pairs: Sequence[Pair], name: str) -> str:
    """The value of one of the drawing's variables, empty if it is not there."""
    return next((after[1] for pair, after in pairwise(pairs) if pair == ("9", name)), "")


def _entities(pairs: Sequence[Pair]) -> Iterator[list[Pair]]:
    entity: list[Pair] = []
    for pair in pairs:
        if pair[0] == "0" and entity:
            yield entity
            entity = []
        entity.append(pair)
    if entity:
        yield entity


def _value(entity: Sequence[Pair], code: str, default: str = "") -> str:
    return next((value for c, value in entity if c == code), default)


def _work(layer: str) -> Work:
    match = _CUTS.fullmatch(layer)
    if match is None:
        raise CutFileError(f"it has a layer {layer}, which says no work")
    kind: Kind = match[1]  # type: ignore[assignment]  # the pattern lets nothing else through
    return Work(kind, int(match[2]), Face(match[3]) if match[3] else None)


def _thing(entity: Sequence[Pair]) -> Loop | Hole:
    kind = entity[0][1]
    if float(_value(entity, "230", "1")) != 1.0:
        raise CutFileError(f"a {kind} is drawn seen from below")
    if kind == "CIRCLE":
        x, y, radius = (float(_value(entity, code)) for code in ("10", "20", "40"))
        return Hole(x, y, 2.0 * radius)
    if kind == "LWPOLYLINE":
        return _loop(entity)
    raise CutFileError(f"a cut layer holds a {kind}")


def _loop(entity: Sequence[Pair]) -> Loop:
    if not int(_value(entity, "70", "0")) & 1:
        raise CutFileError("a polyline is not closed")
    return Loop(tuple(_vertices(entity)))


def _vertices(entity: Sequence[Pair]) -> list[Vertex]:
    vertices: list[Vertex] = []
    for code, value in entity:
        if code == "10":
            vertices.append(Vertex(float(value), 0.0))
        elif code == "20" and vertices:
            vertices[-1] = Vertex(vertices[-1].x, float(value))
        elif code == "42" and vertices:
            vertices[-1] = Vertex(vertices[-1].x, vertices[-1].y, float(value))
    if len(vertices) < 2:
        raise CutFileError("a polyline has fewer than two corners")
    return vertices
