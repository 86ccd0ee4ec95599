"""What every DXF file shares: its version and unit, bytes that repeat, and text as it is safe."""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager

from ezdxf import options, units  # type: ignore[attr-defined]  # re-exported without saying so
from ezdxf.document import Drawing
from ezdxf.filemanagement import new

VERSION = "R2000"

ENTITIES = "  0\nSECTION\n  2\nENTITIES\n"
"""What begins the section of what is drawn."""


def new_drawing() -> Drawing:
    """An empty drawing in millimetres."""
    drawing = new(VERSION, units=units.MM)
    drawing.header["$MEASUREMENT"] = 1
    return drawing


def plain(text: str) -> str:
    """The text on one line, without DXF's own codes for symbols (they begin with %% or ^).

    Letters are written by a number of four digits; those that have none become boxes.
    """
    short = "".join(letter if ord(letter) < 0x10000 else "\u25a1" for letter in text)
    return " ".join(short.split()).replace("%%", "% %").replace("^", " ")


@contextmanager
def plain_metadata() -> Iterator[None]:
    """Leave time stamps and random identifiers out of the file, so that bytes repeat."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def as_bytes(drawing: Drawing, entities: str = "") -> bytes:
    """The drawing, and `entities` told as tags, as a file's bytes.

    Letters that its code page lacks are written by number.
    """
    stream = io.StringIO(newline="\n")
    drawing.write(stream)
    before, after = stream.getvalue().split(ENTITIES, 1)
    whole = "".join((before, ENTITIES, entities, after))
    return whole.encode(drawing.output_encoding, errors="dxfreplace")
