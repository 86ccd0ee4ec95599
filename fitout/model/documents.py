"""How a builder wants the documents: language, unit of lengths, paper, labels."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from fitout.model.spec import Length, PositiveLength, Quantity, Unit, entry

Paper = Literal["A4", "letter"]
Language = Literal["en", "de"]
LengthUnit = Literal["mm", "in"]
Across = Annotated[int, Quantity(Unit.RATIO, least=1, most=20)]


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelSheetSpec:
    """A sheet of stick-on labels: so many across and down, each of a size."""

    across: Across = entry("labels beside each other", default=3)
    down: Across = entry("labels below each other", default=8)
    width: PositiveLength = entry("width of a label", default=64.0)
    height: PositiveLength = entry("height of a label", default=33.9)
    left: Length = entry("from the paper's left edge to the first label", default=7.0)
    top: Length = entry("from the paper's upper edge to the first label", default=12.9)
    gap_across: Length = entry("between labels beside each other", default=2.0)
    gap_down: Length = entry("between labels below each other", default=0.0)
    first: Across = entry("the first free label, where some of a sheet are used up", default=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class DocumentSpec:
    """Language, unit and paper of drawings, templates, labels and the report."""

    language: Language = entry("the language of headings and labels", default="en")
    lengths: LengthUnit = entry(
        "the unit of lengths on paper and in the report; inches are told to 1/32. "
        "Tables, cut files and findings stay in mm",
        default="mm",
    )
    paper: Paper = entry("what templates and labels are printed on", default="A4")
    projection: Literal["first angle", "third angle"] = entry(
        "how views lie to each other on the drawings", default="third angle"
    )
    labels: LabelSheetSpec = entry(
        "the sheets of labels to print on",
        default=LabelSheetSpec(),
        example="{across: 3, down: 8, width: 64, height: 33.9}",
        otherwise="24 labels of 64 x 33.9 mm",
    )
    drawn_by: str = entry("who stands in the title block", default="", otherwise="nobody")
