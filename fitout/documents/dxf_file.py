"""What every DXF file shares: its version and unit, its tables, bytes that repeat, safe text.

The library writes a file without content once; each file is that text with its own layers, line
types, text styles and entities set in, since to make and write a whole document for each of
more than a hundred files takes far longer than all that they hold. Format: DXF R2000.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import lru_cache

from ezdxf import options, units  # type: ignore[attr-defined]  # re-exported without saying so
from ezdxf.document import Drawing
from ezdxf.filemanagement import new

VERSION = "R2000"

TABLES = ("LTYPE", "LAYER", "STYLE")
"""The tables that files add records to: line types, layers, text styles."""

ENTITIES = "  0\nSECTION\n  2\nENTITIES\n"
"""What begins the section of what is drawn."""

Header = tuple[tuple[str, float | tuple[float, ...]], ...]
"""Variables of a file's header by their names in the format."""


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


class DxfFile:
    """A file in millimetres to which layers, line types and styles are added; lives for one file.

    `header` are its variables beside those that every file has, such as `$LWDISPLAY`.

    Attributes:
        space: the handle of the model space, which owns all that is drawn.
    """

    def __init__(self, header: Header = ()) -> None:
        self._blank = _blank(header)
        self._next = self._blank.first
        self._records: dict[str, dict[str, str]] = {table: {} for table in TABLES}
        self.space = self._blank.space

    def handle(self) -> str:
        """The next handle that nothing has yet."""
        self._next += 1
        return f"{self._next - 1:X}"

    def layer(self, name: str, colour: int = 7) -> None:
        """Have a layer of that colour index, unless there is one of that name."""
        if name not in self._records["LAYER"]:
            told = f" 62\n{colour}\n  6\nContinuous\n370\n-3\n390\n{self._blank.plot_style}\n"
            self._add("LAYER", "AcDbLayerTableRecord", name, told)

    def linetype(self, name: str, lengths: Sequence[float]) -> None:
        """Have a line type of dashes (above 0) and gaps (below 0), mm, unless it is there."""
        if name not in self._records["LTYPE"]:
            told = "".join(f" 49\n{length}\n 74\n0\n" for length in lengths)
            whole = sum(abs(length) for length in lengths)
            head = f"  3\n\n 72\n65\n 73\n{len(lengths)}\n 40\n{whole}\n"
            self._add("LTYPE", "AcDbLinetypeTableRecord", name, head + told)

    def style(self, name: str, font: str) -> None:
        """Have a text style of that font, unless there is one of that name."""
        if name not in self._records["STYLE"]:
            sizes = " 40\n0.0\n 41\n1.0\n 50\n0.0\n 71\n0\n 42\n2.5\n"
            self._add("STYLE", "AcDbTextStyleTableRecord", name, f"{sizes}  3\n{font}\n  4\n\n")

    def as_bytes(self, entities: str) -> bytes:
        """The file with `entities` told as tags.

        Letters that its code page lacks are written by number.
        """
        blank = self._blank
        fields: dict[str, object] = {"entities": entities}
        for table, records in self._records.items():
            fields[table] = "".join(records.values())
            fields[f"{table}_count"] = blank.tables[table][1] + len(records)
        late = [f"{self._next + i:X}" for i in range(blank.late)]
        return blank.text.format(*late, **fields).encode(blank.encoding, errors="dxfreplace")

    def _add(self, table: str, kind: str, name: str, told: str) -> None:
        owner, _ = self._blank.tables[table]
        self._records[table][name] = (
            f"  0\n{table}\n  5\n{self.handle()}\n330\n{owner}\n100\nAcDbSymbolTableRecord\n"
            f"100\n{kind}\n  2\n{name}\n 70\n0\n{told}"
        )


@dataclass(frozen=True, slots=True)
class _Blank:
    """A file without content, to be filled.

    Attributes:
        text: with a field `entities`, for each table one of its name and one for how many records
            it has, and numbered ones for the handles that the library takes when it writes.
        late: how many of those handles there are.
        first: the first handle that is free.
        space: the handle of the model space.
        plot_style: the handle of the plot style that layers name.
        tables: the handle of each table and how many records it has already.
        encoding: of the text.
    """

    text: str
    late: int
    first: int
    space: str
    plot_style: str
    tables: Mapping[str, tuple[str, int]]
    encoding: str


@lru_cache(maxsize=8)
def _blank(header: Header) -> _Blank:
    """What the library writes for a drawing without content, but for that header."""
    drawing = new_drawing()
    first = int(drawing.entitydb.next_handle(), 16)
    lines, late = [], 0
    one, two = (_written(header, taken).split("\n") for taken in (1, 2))
    for line, later in zip(one, two, strict=True):
        # What goes up with the handles that are taken before is a handle taken in writing.
        if line == later:
            lines.append(line.replace("{", "{{").replace("}", "}}"))
        else:
            number = int(line, 16) - first - 1
            lines.append(f"{{{number}}}")
            late = max(late, number + 1)
    text = "\n".join(lines).replace(ENTITIES, ENTITIES + "{entities}", 1)
    tables = {}
    for table in TABLES:
        begin = text.index(f"  0\nTABLE\n  2\n{table}\n")
        end = text.index("  0\nENDTAB\n", begin)
        # Name, handle, owner, class and the number of records come first, on two lines each.
        *head, count, records = text[begin:end].split("\n", 12)
        tables[table] = head[5], int(count)
        told = "\n".join([*head, f"{{{table}_count}}", records])
        text = f"{text[:begin]}{told}{{{table}}}{text[end:]}"
    style = str(drawing.layers.get("0").dxf.plotstyle_handle)
    space = drawing.modelspace().layout_key
    return _Blank(text, late, first, space, style, tables, drawing.output_encoding)


def _written(header: Header, taken: int) -> str:
    """A drawing without content as text, after so many handles were taken."""
    with plain_metadata():
        drawing = new_drawing()
        for name, value in header:
            drawing.header[name] = value
        for _ in range(taken):
            drawing.entitydb.next_handle()
        stream = io.StringIO(newline="\n")
        drawing.write(stream)
        return stream.getvalue()
