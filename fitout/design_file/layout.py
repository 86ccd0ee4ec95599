"""The top of a design file, declared as every other section is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from fitout.model.as_built import AsBuiltSpec
from fitout.model.cutting import CuttingSpec, StockSpec
from fitout.model.design import BaySpec, BoardSpec, ClearanceSpec, ItemSpec, ModuleSpec
from fitout.model.documents import DocumentSpec
from fitout.model.restraint import RestraintSpec
from fitout.model.spec import Ref, entry
from fitout.model.trips import TripSpec
from fitout.model.vehicle import VehicleSpec

CATALOGUE_TABLES = ("sheets", "slides", "articles", "sections", "latches", "strikers")

Rows = Mapping[str, Mapping[str, Any]] | None
EXAMPLE = "{my own: {like: another row, price: 84.50, source: the maker's sheet}}"


@dataclass(frozen=True, slots=True, kw_only=True)
class FileSpec:
    """A vehicle fit-out: the bay as measured and what is to stand in it."""

    fitout: Literal[1] = entry("version of the file's format", example="1")
    name: str = entry("what you call the design", example="Two-week tourer")
    bay: BaySpec = entry(
        "the load space as measured, mm unless a unit stands there",
        example="{sections: [{at: 0, widths: {0: 1046}, roof: 846}], front_wall: 1064}",
    )
    boards: Mapping[Annotated[str, Ref("boards")], BoardSpec | Annotated[str, Ref("sheets")]] = (
        entry(
            "the board used for each purpose",
            default=None,
            example="{carcass: {sheet: birch ply 12, measured: 11.8}, bottom: birch ply 6.5}",
            otherwise="the usual sheet for each purpose",
        )
    )
    items: Mapping[str, ItemSpec] | None = entry(
        "bought-in things, each by a name",
        default=None,
        example="{fridge: {size: 600 x 380 x 430, mass: 21 kg, contents: 24 kg, vents: [left]}}",
    )
    modules: Mapping[str, ModuleSpec] = entry(
        "what is to be built, each by a name", example="{drawers: {kind: drawers, width: 480}}"
    )
    vehicle: VehicleSpec | None = entry(
        "the vehicle: where its axles are, what it weighs, what its maker allows",
        default=None,
        example="{rear_axle: 420, wheelbase: 2850, kerb: {front: 1065 kg, rear: 920 kg}, "
        "limits: {gross: 2700 kg, front: 1290 kg, rear: 1520 kg}}",
        otherwise="axle loads and payload are not checked",
    )
    restraint: RestraintSpec = entry(
        "what the fit-out must hold against on the road and in a crash, and how it is bolted",
        default=RestraintSpec(),
        example="{set: by mass class, floor: {sheet: 0.8, plate: 60}}",
        otherwise="the road transport guide, and a crash by our own proposal",
    )
    trips: Mapping[str, TripSpec] | None = entry(
        "trips to be reckoned through day by day, each by a name",
        default=None,
        example="{weekend: {days: 3, people: {driver: 82 kg}, stages: [{days: 1, km: 320}]}}",
    )
    cutting: CuttingSpec = entry(
        "how sheets are cut", default=CuttingSpec(), example="{by: saw, kerf: 3.2}"
    )
    stock: StockSpec = entry(
        "what there is to cut from, on hand or to be bought",
        default=StockSpec(),
        example="{offcuts: offcuts.yaml, currency: EUR}",
        otherwise="whole sheets and bars are bought as in the catalogue",
    )
    documents: DocumentSpec = entry(
        "language, unit and paper of drawings, templates, labels and the report",
        default=DocumentSpec(),
        example="{language: de, lengths: mm, paper: A4}",
        otherwise="English, mm, A4",
    )
    clearances: ClearanceSpec = entry(
        "least gaps", default=ClearanceSpec(), example="{wall: 4, seat: 8}"
    )
    catalogue: (
        str
        | Mapping[
            Literal["sheets", "slides", "articles", "sections", "latches", "strikers"],
            Mapping[str, Mapping[str, Any]],
        ]
        | None
    ) = entry(
        "rows of your own for the catalogue: the name of a file beside the design that several "
        "designs may share, or the rows themselves by table and name",
        default=None,
        example="my-catalogue.yaml",
    )
    as_built: Mapping[str, AsBuiltSpec] | None = entry(
        "parts measured once they were cut, each by its number or name on the cut list",
        default=None,
        example="{P07: {length: 787.4, on: 2026-11-25, by: Ana}}",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class CatalogueFile:
    """A file with rows of a builder's own, by table and name; every row has its source."""

    sheets: Rows = entry("sheets and foam", default=None, example=EXAMPLE)
    slides: Rows = entry("drawer slides, in pairs", default=None, example=EXAMPLE)
    articles: Rows = entry("bolts, hinges, all bought by the piece", default=None, example=EXAMPLE)
    sections: Rows = entry("bars and tubes", default=None, example=EXAMPLE)
    latches: Rows = entry("latches", default=None, example=EXAMPLE)
    strikers: Rows = entry("strikers", default=None, example=EXAMPLE)
