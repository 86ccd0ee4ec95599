"""How material is cut, and what there is to cut it from, as the builder wrote it."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Annotated, Literal

from fitout.model.spec import (
    Length,
    Mass,
    Money,
    PositiveLength,
    Quantity,
    Ref,
    Unit,
    entry,
)

By = Literal["saw", "router"]
Count = Annotated[int, Quantity(Unit.RATIO, least=1, most=1000)]

Seconds = Annotated[int, Quantity(Unit.RATIO, least=0, most=600)]

OTHERS = "others"
"""Under `by`: every sheet and purpose that is not named there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class YardSpec:
    """The few first cuts that the timber yard makes, so that the pieces go into the car."""

    cuts: Count = entry("how many cuts it makes in a sheet", default=3)
    longest: PositiveLength | None = entry(
        "the longest piece that can be taken along", default=None, example="1900", otherwise="any"
    )
    widest: PositiveLength | None = entry(
        "the widest piece that can be taken along", default=None, example="620", otherwise="any"
    )
    heaviest: Mass | None = entry(
        "the heaviest piece that can be carried", default=None, example="18 kg", otherwise="any"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class SawSpec:
    """The saw: its blade, how far its fence goes, what the timber yard cuts before."""

    kerf: PositiveLength | None = entry(
        "width of the blade's cut",
        default=None,
        example="3.2",
        otherwise="as `kerf` above",
    )
    fence: PositiveLength | None = entry(
        "greatest width between blade and fence; wider cuts are told as cuts along a straight "
        "edge, with a track saw",
        default=None,
        example="610",
        otherwise="as wide as any cut needs",
    )
    yard: YardSpec | None = entry(
        "cuts that the timber yard makes first",
        default=None,
        example="{cuts: 3, longest: 1900}",
        otherwise="none",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class TabsSpec:
    """Bridges that hold a small part in its sheet while a router cuts round it."""

    below: Length = entry("parts whose longer side is shorter get tabs; 0 for none", default=300.0)
    width: PositiveLength = entry("how wide each is", default=6.0)
    height: PositiveLength = entry("how much of the thickness stays standing", default=1.5)


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingSpec:
    """How sheets and bars are cut."""

    by: By | Mapping[Annotated[str, Ref("materials")], By] = entry(
        "saw: edge-to-edge cuts; router: free; or one for each sheet or purpose, and `others`",
        default="router",
        example="{carcass: saw, closed-cell foam 30: router, others: saw}",
    )
    kerf: PositiveLength = entry("width of the cut: blade, or router bit", default=6.0)
    trim: Length = entry("strip lost along each sheet edge", default=10.0)
    spacing: Length = entry("extra room between parts on a router", default=2.0)
    saw: SawSpec = entry(
        "the saw, where sheets are sawn", default=SawSpec(), example="{kerf: 3.2, fence: 610}"
    )
    corners: Literal["dogbone", "T-bone", "none"] = entry(
        "how a router relieves an inside corner in which a square part sits", default="dogbone"
    )
    tabs: TabsSpec = entry(
        "what holds small parts while a router cuts them",
        default=TabsSpec(),
        example="{below: 250, width: 5}",
    )
    skin: Length = entry(
        "onion skin: what a router leaves uncut under every part, to be cut by hand; "
        "no tabs are needed then",
        default=0.0,
    )
    nesting_seconds: Seconds | None = entry(
        "how long sheets are searched for at most; what is found by then may differ each time",
        default=None,
        example="20",
        otherwise="until all work is done that is of use, seconds in most cases",
    )
    squeeze_seconds: Seconds = entry(
        "how long a router's emptiest sheet is pressed together, so that its offcut grows; "
        "needs the extra `squeeze`, and may give another layout each time",
        default=0,
    )
    scribe_allowance: Length = entry(
        "how much larger panels are cut along edges that follow the vehicle, to be scribed to it "
        "and taken off",
        default=0.0,
        example="5",
    )
    bar_kerf: Length = entry("width of the cut through a bar or tube", default=3.0)
    keep_offcuts: tuple[PositiveLength, PositiveLength] = entry(
        "least width and length of an offcut worth keeping", default=(80.0, 300.0)
    )

    coupon: bool = entry(
        "whether a test piece with a groove is cut for every board that is held in grooves",
        default=False,
    )

    def tool(self, sheet: str) -> By:
        """What cuts a sheet, by its name."""
        if isinstance(self.by, str):
            return self.by
        return self.by.get(sheet) or self.by.get(OTHERS) or "router"

    def of(self, sheet: str) -> CuttingSpec:
        """How one sheet is cut, by its name: `by` is one word then and `kerf` that tool's."""
        by = self.tool(sheet)
        kerf = self.saw.kerf if by == "saw" and self.saw.kerf is not None else self.kerf
        return dataclasses.replace(self, by=by, kerf=kerf)

    def worth_keeping(self, length: float, width: float) -> bool:
        """Whether a rectangle is an offcut to keep, not waste."""
        least = sorted(self.keep_offcuts)
        return min(length, width) >= least[0] and max(length, width) >= least[1]

    def with_purposes(self, sheets: Mapping[str, str]) -> CuttingSpec:
        """The same with sheets in place of the purposes they are used for, by `sheets`."""
        if isinstance(self.by, str):
            return self
        by = {sheets.get(name, name): way for name, way in self.by.items()}
        return dataclasses.replace(self, by=MappingProxyType(by))


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetStockSpec:
    """Sheets of one size: to be bought, or on hand."""

    size: tuple[PositiveLength, PositiveLength] = entry(
        "size along the face grain, then across it", example="[2440, 1220]"
    )
    price: Money | None = entry(
        "what one costs", default=None, example="84.50", otherwise="as under boards or catalogue"
    )
    quantity: Count | None = entry(
        "how many there are", default=None, example="2", otherwise="as many as it takes"
    )
    on_hand: bool = entry(
        "whether they are yours already: used up first, at no cost", default=False
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class OffcutSpec:
    """A rectangle left over from earlier work."""

    sheet: Annotated[str, Ref("sheets")] = entry("what it is of", example="birch ply 12")
    size: tuple[PositiveLength, PositiveLength] = entry(
        "size along the face grain, then across it, edges clean", example="[840, 410]"
    )
    thickness: PositiveLength = entry("its thickness as measured", example="11.8")
    quantity: Count = entry("how many of it", default=1)
    label: str | None = entry(
        "what is written on it", default=None, example="S02-1", otherwise="none"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class OffcutsFile:
    """A file of offcuts, as `build` writes it."""

    offcuts: tuple[OffcutSpec, ...] = entry(
        "what is left over", example="[{sheet: birch ply 12, size: [840, 410], thickness: 11.8}]"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class BarStockSpec:
    """Bars or tubes of one length: to be bought, or on hand."""

    length: PositiveLength = entry("length of one", example="6000")
    price: Money | None = entry(
        "what one costs", default=None, example="31", otherwise="by length, as in the catalogue"
    )
    quantity: Count | None = entry(
        "how many there are", default=None, example="2", otherwise="as many as it takes"
    )
    on_hand: bool = entry(
        "whether they are yours already: used up first, at no cost", default=False
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class StockSpec:
    """What there is to cut from: sheets and blocks, offcuts, bars; what all that costs."""

    sheets: Mapping[Annotated[str, Ref("sheets")], tuple[SheetStockSpec, ...]] = entry(
        "the sizes a sheet or foam block is to be had in",
        default=None,
        example="{birch ply 12: [{size: [2440, 1220], price: 84.50}, "
        "{size: [1220, 1220], price: 48}]}",
        otherwise="as many sheets as it takes in the catalogue's size",
    )
    offcuts: str | tuple[OffcutSpec, ...] = entry(
        "offcuts on hand, used first: a list, or the name of a file beside the design such as "
        "the offcuts.yaml of an earlier build",
        default=(),
        example="offcuts.yaml",
    )
    bars: Mapping[Annotated[str, Ref("sections")], tuple[BarStockSpec, ...]] | None = entry(
        "the lengths a bar or tube is to be had in",
        default=None,
        example="{steel tube 25 x 25 x 2: [{length: 6000, price: 31}, "
        "{length: 1400, on_hand: yes, quantity: 2}]}",
        otherwise="as many as it takes in the catalogue's length",
    )
    currency: str = entry("what prices are in", default="", example="EUR", otherwise="not told")

    def of_sheet(self, name: str) -> tuple[SheetStockSpec, ...]:
        """The sizes given for a sheet."""
        return (self.sheets or {}).get(name, ())

    def of_bar(self, name: str) -> tuple[BarStockSpec, ...]:
        """The lengths given for a section."""
        return (self.bars or {}).get(name, ())

    def offcuts_of(self, sheet: str) -> tuple[OffcutSpec, ...]:
        """The offcuts of a sheet, once the file that may name them was read."""
        return tuple(o for o in self.offcuts if isinstance(o, OffcutSpec) and o.sheet == sheet)
