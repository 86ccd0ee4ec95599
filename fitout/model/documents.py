"""How a builder wants the documents: language, unit of lengths, paper, labels."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Annotated, Literal

from fitout.model.spec import Length, PositiveLength, Quantity, Unit, entry

Paper = Literal["A4", "letter"]
Language = Literal["en", "de"]
LengthUnit = Literal["mm", "in"]
Across = Annotated[int, Quantity(Unit.RATIO, least=1, most=20)]
First = Annotated[int, Quantity(Unit.RATIO, least=1, most=400)]


PAPERS: Mapping[Paper, tuple[float, float]] = MappingProxyType(
    {"A4": (210.0, 297.0), "letter": (215.9, 279.4)}
)
"""Width and height upright, mm: ISO 216; 8 1/2 x 11 inches, ANSI/ASME Y14.1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelSheetSpec:
    """A sheet of stick-on labels: so many across and down, each of a size.

    What is left out is that of the usual sheet for the paper: on A4 24 labels of 63.5 x 33.9 mm,
    on letter 30 of 2 5/8 x 1 inches (both the stationery trade's, common practice).
    """

    across: Across | None = entry("labels beside each other", default=None, otherwise="3")
    down: Across | None = entry(
        "labels below each other", default=None, otherwise="8 on A4, 10 on letter"
    )
    width: PositiveLength | None = entry(
        "width of a label", default=None, otherwise="63.5 mm on A4, 2 5/8 in on letter"
    )
    height: PositiveLength | None = entry(
        "height of a label", default=None, otherwise="33.9 mm on A4, 1 in on letter"
    )
    left: Length | None = entry(
        "from the paper's left edge to the first label", default=None, otherwise="labels centred"
    )
    top: Length | None = entry(
        "from the paper's upper edge to the first label", default=None, otherwise="labels centred"
    )
    gap_across: Length | None = entry(
        "between labels beside each other", default=None, otherwise="2.5 mm on A4, 1/8 in on letter"
    )
    gap_down: Length = entry("between labels below each other", default=0.0)
    first: First = entry("the first free label, where some of a sheet are used up", default=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelSheet:
    """A sheet of labels with nothing left open, mm."""

    paper: tuple[float, float]
    across: int
    down: int
    width: float
    height: float
    left: float
    top: float
    gap_across: float
    gap_down: float
    first: int

    @property
    def count(self) -> int:
        """Labels on a sheet."""
        return self.across * self.down

    @property
    def right_margin(self) -> float:
        """What is left beside the last label; below 0 where it does not fit the paper."""
        return self.paper[0] - self.left - _extent(self.across, self.width, self.gap_across)

    @property
    def lower_margin(self) -> float:
        """What is left below the last label; below 0 where it does not fit the paper."""
        return self.paper[1] - self.top - _extent(self.down, self.height, self.gap_down)

    def corner(self, place: int) -> tuple[float, float]:
        """The lower left corner of the label at a place counted from 0, row by row."""
        row, column = divmod(place, self.across)
        x = self.left + column * (self.width + self.gap_across)
        y = self.paper[1] - self.top - row * (self.height + self.gap_down) - self.height
        return x, y


USUAL: Mapping[Paper, tuple[int, int, float, float, float]] = MappingProxyType(
    {"A4": (3, 8, 63.5, 33.9, 2.5), "letter": (3, 10, 66.675, 25.4, 3.175)}
)
"""Labels across and down, their width and height, the gap across."""


def label_sheet(spec: LabelSheetSpec, paper: Paper) -> LabelSheet:
    """The sheet of labels an entry means, with what it leaves out as usual for the paper."""
    usual = USUAL[paper]
    across, down = spec.across or usual[0], spec.down or usual[1]
    width, height = spec.width or usual[2], spec.height or usual[3]
    gap = usual[4] if spec.gap_across is None else spec.gap_across
    size = PAPERS[paper]
    left = (size[0] - _extent(across, width, gap)) / 2.0 if spec.left is None else spec.left
    top = (size[1] - _extent(down, height, spec.gap_down)) / 2.0 if spec.top is None else spec.top
    return LabelSheet(
        paper=size,
        across=across,
        down=down,
        width=width,
        height=height,
        left=left,
        top=top,
        gap_across=gap,
        gap_down=spec.gap_down,
        first=spec.first,
    )


def _extent(count: int, size: float, gap: float) -> float:
    return count * size + (count - 1) * gap


@dataclass(frozen=True, slots=True, kw_only=True)
class DocumentSpec:
    """Language, unit and paper of drawings, templates, labels and the report."""

    language: Language = entry("the language of headings and labels", default="en")
    lengths: LengthUnit = entry(
        "the unit of lengths on paper and in the report; inches are told to 1/32, "
        "bits and drills in mm. Tables, cut files and findings stay in mm",
        default="mm",
    )
    paper: Paper = entry("what assembly guide, templates and labels are printed on", default="A4")
    projection: Literal["first angle", "third angle"] = entry(
        "how views lie to each other on the drawings", default="third angle"
    )
    labels: LabelSheetSpec = entry(
        "the sheets of labels to print on",
        default=LabelSheetSpec(),
        example="{across: 3, down: 8, width: 70, height: 37, gap_across: 0}",
        otherwise="24 labels of 63.5 x 33.9 mm, on letter 30 of 2 5/8 x 1 in",
    )
    drawn_by: str = entry("who stands in the title block", default="", otherwise="nobody")
