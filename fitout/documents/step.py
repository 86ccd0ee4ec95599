"""The fit-out as one STEP assembly (ISO 10303-21, AP214): named parts in a module tree.

The kernel writes geometry and structure; this file then makes the text repeatable and adds
names and colours. Left to itself the kernel dates the file, numbers occurrences over the
life of the process, orders colours by address, and leaves noise where zeros should be.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from io import BytesIO

from OCP.IFSelect import IFSelect_ReturnStatus
from OCP.Interface import Interface_Static
from OCP.Message import Message, Message_Gravity
from OCP.STEPCAFControl import STEPCAFControl_Writer
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_Label
from OCP.TDocStd import TDocStd_Document
from OCP.TopLoc import TopLoc_Location
from OCP.XCAFDoc import XCAFDoc_DocumentTool, XCAFDoc_ShapeTool

from fitout.documents.colours import Colour, colour_of
from fitout.documents.export import ExportError
from fitout.documents.solids import local_solid, location
from fitout.model.module import Fitout, Part
from fitout.model.panel import Bar, Panel


class StepError(ExportError):
    """The kernel could not write the assembly."""


@dataclass(slots=True)
class _Tree:
    """The kernel's document while it is filled: a name and a colour for every mark in it.

    The kernel is given plain marks for names, which the text's writer replaces: so names
    of any script are spelt as the standard asks, and each shape can be told by its mark.
    """

    shapes: XCAFDoc_ShapeTool
    names: list[str]
    colours: dict[str, Colour]
    products: dict[object, TDF_Label]

    def call(self, label: TDF_Label, name: str) -> str:
        """Give the label the next mark, which will read as `name`."""
        mark = f"mark{len(self.names):06d}"
        self.names.append(name)
        TDataStd_Name.Set_s(label, TCollection_ExtendedString(mark))
        return mark

    def branch(self, name: str) -> TDF_Label:
        """A new assembly."""
        label = self.shapes.NewShape()
        self.call(label, name)
        return label

    def product(self, part: Part) -> TDF_Label:
        """The shape of the part, made once for all parts alike in shape and material."""
        key = _likeness(part)
        if key not in self.products:
            label = self.shapes.NewShape()
            self.shapes.SetShape(label, local_solid(part))
            self.colours[self.call(label, part.id)] = colour_of(part)
            self.products[key] = label
        return self.products[key]

    def place(self, label: TDF_Label, where: TDF_Label, at: TopLoc_Location, name: str) -> None:
        """Put an occurrence of `label` into the assembly `where`."""
        self.call(self.shapes.AddComponent(where, label, at), name)


def assembly_step(fitout: Fitout) -> bytes:
    """The whole fit-out as a STEP file: one assembly per module, one occurrence per part.

    Occurrences carry the parts' ids; parts alike in shape and material share one solid,
    named after the first of them. Lengths are mm in bay coordinates. The same fit-out gives
    the same bytes. Raises SolidError if a part can't be made, StepError if the file can't.
    """
    document = TDocStd_Document(TCollection_ExtendedString("XmlXCAF"))
    shapes = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    tree = _Tree(shapes, [], {}, {})
    root = tree.branch(fitout.name)
    for module in fitout.modules:
        parts = list(module.parts())
        if not parts:
            continue
        branch = tree.branch(module.name)
        for part in parts:
            tree.place(tree.product(part), branch, location(part.placement), part.id)
        tree.place(branch, root, TopLoc_Location(), module.name)
    shapes.UpdateAssemblies()
    entities = _entities(_written(document))
    entities += _styles(entities, tree.colours)
    data = "".join(f"{entity};\n" for entity in entities)
    return _text(_named(data, tree.names), fitout.name)


def _likeness(part: Part) -> object:
    """What two parts must share to share a solid."""
    if isinstance(part, Panel):
        return part.outline, part.board.key, part.thickness, part.holes, part.pockets
    if isinstance(part, Bar):
        return part.section, part.length, part.holes
    return part.pieces


@contextmanager
def _quiet_kernel() -> Iterator[None]:
    """Keep the kernel from printing its progress, and from writing curves twice over."""
    printers = list(Message.DefaultMessenger_s().Printers())
    levels = [printer.GetTraceLevel() for printer in printers]
    curves = Interface_Static.IVal_s("write.surfacecurve.mode")
    try:
        for printer in printers:
            printer.SetTraceLevel(Message_Gravity.Message_Fail)
        # Flat and cylindrical faces need no curves in the parameters of their surfaces.
        Interface_Static.SetIVal_s("write.surfacecurve.mode", 0)
        yield
    finally:
        Interface_Static.SetIVal_s("write.surfacecurve.mode", curves)
        for printer, level in zip(printers, levels, strict=True):
            printer.SetTraceLevel(level)


def _written(document: TDocStd_Document) -> str:
    """What the kernel writes for the document."""
    writer = STEPCAFControl_Writer()
    writer.SetNameMode(True)
    stream = BytesIO()
    with _quiet_kernel():
        if not writer.Transfer(document):
            raise StepError("the geometry kernel could not turn the assembly into STEP")
        if writer.WriteStream(stream) != IFSelect_ReturnStatus.IFSelect_RetDone:
            raise StepError("the geometry kernel could not write the STEP text")
    return stream.getvalue().decode("ascii")


def _entities(text: str) -> list[str]:
    """The data section's instances in order, each `#n = ...` on one line, made repeatable."""
    data = text[text.index("DATA;") + 5 : text.rindex("ENDSEC;")]
    data = re.sub(r"\n\s*", "", data.replace(";\n", "\0"))
    # What rounding leaves of a zero differs from run to run.
    data = re.sub(r"-?\d\.\d*E-(?:1[2-9]|[2-9]\d)\b", "0.", data)
    data = re.sub(r"(?<=[(,])-0\.(?=[,)])", "0.", data)
    count = 0

    def renumbered(match: re.Match[str]) -> str:
        nonlocal count
        count += 1
        return f"{match[1]}'{count}'"

    data = re.sub(r"(NEXT_ASSEMBLY_USAGE_OCCURRENCE\()'\d+'", renumbered, data)
    return [entity for entity in data.split("\0") if entity]


def _styles(entities: list[str], colours: dict[str, Colour]) -> list[str]:
    """Instances that give every solid its product's colour (ISO 10303-46 styled items)."""
    texts = dict(entity.split(" = ", 1) for entity in entities)
    following = len(entities) + 1
    added: list[str] = []

    def add(text: str) -> str:
        added.append(f"#{following + len(added)} = {text}")
        return f"#{following + len(added) - 1}"

    styles: dict[Colour, str] = {}
    for text in list(texts.values()):
        if not text.startswith("SHAPE_DEFINITION_REPRESENTATION"):
            continue
        definition, representation = _references(text)
        mark = _product_mark(texts, definition)
        if mark not in colours:
            continue
        *items, context = _references(texts[representation])
        solids = [i for i in items if texts[i].startswith("MANIFOLD_SOLID_BREP")]
        colour = colours[mark]
        if colour not in styles:
            styles[colour] = _style(add, colour)
        styled = [add(f"STYLED_ITEM('',({styles[colour]}),{solid})") for solid in solids]
        add(
            "MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION"
            f"('',({','.join(styled)}),{context})"
        )
    return added


def _references(text: str) -> list[str]:
    return re.findall(r"#\d+", text)


def _product_mark(texts: dict[str, str], shape: str) -> str:
    """The mark of the product whose shape definition this is."""
    definition = _references(texts[shape])[0]
    formation = _references(texts[definition])[0]
    product = _references(texts[formation])[0]
    return texts[product].split("'")[1]


def _style(add: Callable[[str], str], colour: Colour) -> str:
    """Add the chain of instances that makes a colour a style of surfaces; its last one."""
    rgb = ",".join(f"{value:.6g}" if value % 1.0 else f"{value:.0f}." for value in colour)
    painted = add(f"COLOUR_RGB('',{rgb})")
    filled = add(f"FILL_AREA_STYLE_COLOUR('',{painted})")
    area = add(f"FILL_AREA_STYLE('',({filled}))")
    surface = add(f"SURFACE_STYLE_FILL_AREA({area})")
    side = add(f"SURFACE_SIDE_STYLE('',({surface}))")
    usage = add(f"SURFACE_STYLE_USAGE(.BOTH.,{side})")
    return add(f"PRESENTATION_STYLE_ASSIGNMENT(({usage}))")


def _named(text: str, names: list[str]) -> str:
    """The text with every mark replaced by the name it stands for."""
    return re.sub(r"'mark(\d{6})'", lambda m: f"'{_spelt(names[int(m[1])])}'", text)


def _spelt(text: str) -> str:
    """Text as ISO 10303-21 spells it: quotes and backslashes doubled, other scripts in hex."""
    text = text.replace("\\", "\\\\").replace("'", "''")
    text = re.sub(r"[^\x20-\x7e\U00010000-\U0010ffff]+", lambda m: _hex("X2", m[0]), text)
    return re.sub(r"[^\x20-\x7e]+", lambda m: _hex("X4", m[0]), text)


def _hex(directive: str, text: str) -> str:
    encoding = "utf-16-be" if directive == "X2" else "utf-32-be"
    return f"\\{directive}\\{text.encode(encoding).hex().upper()}\\X0\\"


def _text(data: str, name: str) -> bytes:
    """The whole file; its date is fixed, for the same fit-out is the same file."""
    header = (
        "ISO-10303-21;\nHEADER;\n"
        "FILE_DESCRIPTION(('fit-out assembly'),'2;1');\n"
        f"FILE_NAME('{_spelt(name)}','1970-01-01T00:00:00',(''),(''),'','fitout','');\n"
        "FILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }'));\n"
        "ENDSEC;\nDATA;\n"
    )
    return f"{header}{data}ENDSEC;\nEND-ISO-10303-21;\n".encode("ascii")
