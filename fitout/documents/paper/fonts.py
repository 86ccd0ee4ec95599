"""The one font of all PDF: Bitstream Vera, which ships with reportlab, and how wide its text is."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import reportlab
from reportlab.lib.units import mm as points_per_mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFError, TTFont

from fitout.documents.export import ExportError

REGULAR, BOLD = "Vera", "VeraBd"
POINTS = float(points_per_mm)
"""Points of the page for each mm."""

CAPITALS = 0.729
"""Height of the font's capitals as a share of its size (its OS/2 table: 1493 of 2048)."""

STAND_IN = "\u25a1"
"""Drawn for what the font lacks, so that a gap is seen."""


class FontError(ExportError):
    """The font is missing or damaged; the message is a whole sentence."""


def register() -> None:
    """Make the font known once; registering it again would embed it twice.

    Raises:
        FontError: when its file is missing or can't be read.
    """
    known = pdfmetrics.getRegisteredFontNames()
    for font in (REGULAR, BOLD):
        if font in known:
            continue
        folder = Path(reportlab.__file__).parent / "fonts"
        try:
            pdfmetrics.registerFont(TTFont(font, str(folder / f"{font}.ttf")))
        except (TTFError, OSError) as error:
            raise FontError(
                f"The font {font}.ttf that comes with reportlab can't be read, so no PDF can be "
                "written. Install reportlab again."
            ) from error


def size_of(height: float) -> float:
    """The font's size in points for capitals of `height` mm."""
    return height / CAPITALS * POINTS


@lru_cache(maxsize=4096)
def text_width(text: str, height: float, *, bold: bool = False) -> float:
    """How wide a text is, mm, with capitals of `height` mm."""
    register()
    font = BOLD if bold else REGULAR
    return float(pdfmetrics.stringWidth(drawable(text), font, size_of(height))) / POINTS


def wrapped(text: str, height: float, width: float, *, bold: bool = False) -> list[str]:
    """The text in lines no wider than `width` mm; a word wider than that is parted."""
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        if text_width(longer, height, bold=bold) <= width:
            lines[-1] = longer
            continue
        if lines[-1]:
            lines.append("")
        if text_width(word, height, bold=bold) <= width:
            lines[-1] = word
            continue
        for letter in word:
            if lines[-1] and text_width(lines[-1] + letter, height, bold=bold) > width:
                lines.append("")
            lines[-1] += letter
    return lines


def shortened(text: str, height: float, width: float, *, bold: bool = False) -> str:
    """The text, or as much of its beginning as fits `width` mm with an ellipsis."""
    if text_width(text, height, bold=bold) <= width:
        return text
    while text and text_width(text + "…", height, bold=bold) > width:
        text = text[:-1]
    return text.rstrip() + "…"


@lru_cache(maxsize=1)
def _glyphs() -> frozenset[int]:
    register()
    return frozenset(pdfmetrics.getFont(REGULAR).face.charToGlyph)


@lru_cache(maxsize=4096)
def drawable(text: str) -> str:
    """The text with a box for each letter that the font lacks; control characters fall away."""
    known = _glyphs()
    kept = (c for c in text if c.isprintable())
    return "".join(c if ord(c) in known else STAND_IN for c in kept)
