"""The few shapes of SVG that our pictures are made of, as text."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from xml.sax.saxutils import escape, quoteattr

from fitout.model.placement import Array

INK = "#3d4045"
PAPER = "#fbfaf7"


def number(value: float) -> str:
    """A coordinate with one decimal, written as short as it goes."""
    text = f"{value + 0.0:.1f}"
    text = text.removesuffix(".0")
    return "0" if text == "-0" else text


def dimmed(colour: str, brightness: float) -> str:
    """A colour (#rrggbb) times a brightness from 0 to 1."""
    parts = (round(int(colour[i : i + 2], 16) * brightness) for i in (1, 3, 5))
    return "#" + "".join(f"{part:02x}" for part in parts)


def path(rings: Iterable[Array], **attributes: str | float) -> str:
    """Closed rings, each of shape (n, 2), as one path; inner rings are holes."""
    parts = []
    for ring in rings:
        points = " ".join(f"{number(x)},{number(y)}" for x, y in ring)
        parts.append(f"M{points}Z")
    return f'<path d="{"".join(parts)}"{_attributes(attributes)}/>'


def polyline(points: Iterable[Sequence[float]], **attributes: str | float) -> str:
    """An open line."""
    text = " ".join(f"{number(x)},{number(y)}" for x, y in points)
    return f'<polyline points="{text}"{_attributes(attributes)}/>'


def rect(x: float, y: float, length: float, width: float, **attributes: str | float) -> str:
    """A rectangle by its upper left corner and extent."""
    place = f'x="{number(x)}" y="{number(y)}" width="{number(length)}" height="{number(width)}"'
    return f"<rect {place}{_attributes(attributes)}/>"


def text(x: float, y: float, words: str, **attributes: str | float) -> str:
    """Words at a point."""
    return f'<text x="{number(x)}" y="{number(y)}"{_attributes(attributes)}>{escape(words)}</text>'


def group(shapes: Iterable[str], **attributes: str | float) -> str:
    """Shapes that share attributes."""
    return f"<g{_attributes(attributes)}>" + "".join(shapes) + "</g>"


def picture(width: float, height: float, title: str, shapes: Iterable[str]) -> bytes:
    """The whole file."""
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {number(width)} {number(height)}"'
        ' role="img" font-family="sans-serif">'
    )
    body = "\n".join(shapes)
    return f"{head}\n<title>{escape(title)}</title>\n{body}\n</svg>\n".encode()


def _attributes(attributes: dict[str, str | float]) -> str:
    return "".join(
        f" {key.replace('_', '-')}={quoteattr(value if isinstance(value, str) else number(value))}"
        for key, value in attributes.items()
    )
