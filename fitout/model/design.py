"""The design as the builder wrote it, typed: bay, boards, items, modules, cutting."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Annotated, Any, ClassVar, Literal

from fitout.model.as_built import AsBuiltSpec
from fitout.model.cutting import CuttingSpec, StockSpec
from fitout.model.documents import DocumentSpec
from fitout.model.edging import EdgingSpec
from fitout.model.fault import Path
from fitout.model.free_places import ReachSpec, StrapSpec
from fitout.model.notes import SurveySpec
from fitout.model.restraint import AnchorSpec, RestraintSpec
from fitout.model.spec import (
    Angle,
    Coordinate,
    Length,
    Mass,
    Measured,
    MeasuredAngle,
    Money,
    PositiveLength,
    Ref,
    Size,
    Volume,
    entry,
)
from fitout.model.tailgate import HeadRestraintSpec, LedgeSpec, TailgateSpec
from fitout.model.trips import TripSpec
from fitout.model.vehicle import VehicleSpec

FORMAT_VERSION = 1

Side = Literal["left", "right"]
NOTHING: Mapping[Any, Any] = MappingProxyType({})

ROLE_DOCS: Mapping[str, str] = MappingProxyType(
    {
        "carcass": "the fixed sides, tops and dividers of a module",
        "drawer": "drawer sides, backs and inner fronts",
        "bottom": "drawer bottoms and thin backs",
        "front": "the fronts one sees and pulls",
        "deck": "the flat floor on top of the modules",
        "barrier": "the upright panel behind the seats",
        "tray": "trays that tools or a fridge lie in",
        "foam": "soft inserts and liners",
        "lid": "lids of bins and boxes",
    }
)
"""What each purpose a board can be chosen for is."""

ROLES = tuple(ROLE_DOCS)
"""The keys `boards` may hold."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sides:
    """Distances from the centre line where left and right differ."""

    left: Measured = entry("from the centre line to the left wall", example="690 ± 2")
    right: Measured = entry("from the centre line to the right wall", example="696 ± 2")


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionSpec:
    """The bay measured across at one distance from the sill."""

    at: Measured = entry("distance forward of the sill", example="560")
    widths: Mapping[Length, Measured | Sides] = entry(
        "width between the walls at each height above the floor; "
        "{left, right} from the centre line where the sides differ",
        example="{0: 1060 ± 2, 240: {left: 531, right: 535}}",
    )
    roof: Measured = entry("height of the roof lining above the floor", example="846")


@dataclass(frozen=True, slots=True, kw_only=True)
class ArchSpec:
    """The wheel arches: boxes, or a profile seen from the side."""

    between: Measured | Sides = entry(
        "width between the arches, or each from the centre line", example="968 ± 2"
    )
    start: Measured | None = entry(
        "where they begin, forward of the sill", default=None, key="from", example="318"
    )
    end: Measured | None = entry("where they end", default=None, key="to", example="842")
    height: Measured | None = entry("their height above the floor", default=None, example="262")
    profile: tuple[tuple[Coordinate, Length], ...] = entry(
        "instead of from, to and height: points [forward, height] along the arch's top edge",
        default=(),
        example="[[300, 0], [380, 210], [520, 262], [700, 210], [790, 0]]",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class SeatBackSpec:
    """The rear seat's back, a plane that leans rearward as it rises."""

    foot: Measured = entry(
        "where the back meets the floor, forward of the sill", example="1064 ± 3"
    )
    leans: MeasuredAngle = entry(
        "lean from upright in the notch it is normally used in", example="17 deg ± 0.5 deg"
    )
    notches: tuple[Angle, ...] = entry(
        "every lean the back can be set to",
        default=(),
        example="[14 deg, 17 deg, 21 deg]",
        otherwise="only its usual lean",
    )
    top: Measured = entry("height of its top edge above the floor", example="612")
    folds: bool = entry("whether it folds flat and should be checked so too", default=False)
    thickness: PositiveLength = entry("how thick it is", default=140.0)
    head_restraints: HeadRestraintSpec | None = entry(
        "its head restraints",
        default=None,
        example="{raised: 140, middles: [340, -340]}",
        otherwise="none, or taken out",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningSpec:
    """The opening goods go through, smaller than the room behind it."""

    lip: Measured = entry("how far the sill stands above the floor", default=Measured(0.0))
    height: Measured = entry("height of its upper edge above the floor", example="772")
    widths: Mapping[Length, Measured | Sides] = entry(
        "clear width at each height; {left, right} from the centre line where the sides differ",
        example="{0: 1004, 400: 1038, 772: 918}",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepClearSpec:
    """A place that must stay free: the jack, a belt buckle, a lamp, the filler."""

    name: str = entry("what it is", example="jack")
    side: Literal["left", "right", "floor"] = entry("against which wall, or on the floor")
    start: Coordinate = entry("where it begins, forward of the sill", key="from", example="120")
    end: Coordinate = entry("where it ends", key="to", example="300")
    reach: PositiveLength | None = entry(
        "how far it comes out from the wall (side left or right)", default=None, example="90"
    )
    left: Coordinate | None = entry(
        "on the floor: its left edge from the centre line, right of it negative",
        default=None,
        example="60",
    )
    right: Coordinate | None = entry(
        "on the floor: its right edge from the centre line, right of it negative",
        default=None,
        example="-60",
    )
    above: Length = entry("where it begins above the floor", default=0.0)
    up_to: PositiveLength = entry("its top above the floor", example="210")
    comes_out: bool = entry(
        "whether what is there is taken out at the tailgate, as a jack is; else a hand must "
        "come to it",
        default=False,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class TrimSpec:
    """Soft lining that stays in the vehicle but was not there when the tape was read."""

    walls: Length = entry("thickness on each wall", default=0.0)
    floor: Length = entry("thickness on the floor", default=0.0)
    roof: Length = entry("thickness on the roof", default=0.0)
    seat_back: Length = entry("thickness on the seat back", default=0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class BaySpec:
    """The load space as measured: x forward from the sill, heights above the floor."""

    sections: tuple[SectionSpec, ...] = entry(
        "cross-sections, from the sill forward",
        example="[{at: 0, widths: {0: 1046 ± 2, 620: 1012}, roof: 846}, "
        "{at: 1040, widths: {0: 1064, 620: 1024}, roof: 868}]",
    )
    wheel_arches: ArchSpec | None = entry(
        "the wheel arches",
        default=None,
        example="{from: 318, to: 842, between: 968 ± 2, height: 262}",
    )
    seat_back: SeatBackSpec | None = entry(
        "the rear seat's back; needed unless there is a front_wall",
        default=None,
        example="{foot: 1064 ± 3, leans: 17 deg, notches: [14 deg, 17 deg, 21 deg], top: 612}",
    )
    front_wall: Measured | None = entry(
        "instead of a seat back: a fixed wall ahead, forward of the sill",
        default=None,
        example="1508 ± 3",
    )
    tailgate: TailgateSpec | None = entry(
        "the tailgate when shut",
        default=None,
        example="{inner_face: {0: 0, 450: 30, 800: 165}, opens: upwards}",
    )
    opening: OpeningSpec | None = entry(
        "the opening at the tailgate",
        default=None,
        example="{lip: 28, height: 772, widths: {0: 1004, 400: 1038, 772: 918}}",
    )
    ledge: LedgeSpec | None = entry(
        "the bumper's upper face behind the sill",
        default=None,
        example="{depth: 120, top: -35}",
        otherwise="nothing that parts could meet",
    )
    keep_clear: tuple[KeepClearSpec, ...] = entry(
        "places that must stay free",
        default=(),
        example="[{name: jack, side: left, from: 120, to: 300, reach: 90, up_to: 210}]",
    )
    straps: tuple[StrapSpec, ...] = entry(
        "paths of belts and tethers that must stay free",
        default=(),
        example="[{name: centre tether, from: [1150, 0, 610], to: [480, 0, 2], width: 60}]",
    )
    anchors: tuple[AnchorSpec, ...] = entry(
        "known points to bolt to",
        default=(),
        example="[{name: front left eye, at: [840, 410], thread: M8, below: clear}]",
    )
    trim: TrimSpec = entry(
        "soft lining not there when measured",
        default=TrimSpec(),
        example="{walls: 6, floor: 8}",
        otherwise="none",
    )
    survey: SurveySpec = entry(
        "how it was measured, and what was measured besides",
        default=SurveySpec(),
        example="{tape: I, notes: [{across: [560, 240], reads: 1066}]}",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardSpec:
    """A board used for one purpose: a catalogue sheet, at the thickness you measured."""

    sheet: Annotated[str, Ref("sheets")] = entry("a sheet of the catalogue", example="birch ply 12")
    measured: PositiveLength | None = entry(
        "its thickness as measured",
        default=None,
        example="11.8",
        otherwise="the catalogue's",
    )
    groove_measured: PositiveLength | None = entry(
        "how wide the test piece's groove for it came out (see `coupon` under cutting): grooves "
        "are drawn narrower or wider by as much as that is off",
        default=None,
        example="12.3",
        otherwise="grooves are drawn as wide as they are to be",
    )
    price: Money | None = entry(
        "what a sheet costs you", default=None, example="84.50", otherwise="the catalogue's"
    )
    edging: EdgingSpec | None = entry(
        "strips or edge band on the edges of its parts",
        default=None,
        example="{thickness: 2, edges: [top, left, right]}",
        otherwise="edges stay bare",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class LidSpec:
    """A lid that swings up, such as a fridge's."""

    hinge: Literal["left", "right", "front", "rear"] = entry("the edge it is hinged at")
    opens: Angle = entry("how far it opens", default=90.0)
    thickness: PositiveLength = entry("how thick it is", default=40.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class TapSpec:
    """A tap or drain on a tank."""

    side: Literal["left", "right", "rear", "front"] = entry("which side it is on")
    height: Length = entry("above the tank's underside", example="30")
    reach: PositiveLength = entry("how far it stands out, hand room included", default=60.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemSpec:
    """A bought-in thing with a size and a mass."""

    size: Size = entry("length x width x height as it stands in the vehicle", example="690x398x470")
    top: tuple[PositiveLength, PositiveLength] | None = entry(
        "length and width at the top, if its sides taper",
        default=None,
        example="[560, 340]",
        otherwise="as at its foot",
    )
    mass: Mass = entry("empty mass", example="21 kg")
    contents: Mass | None = entry(
        "mass of what it holds when full",
        default=None,
        example="24 kg",
        otherwise="what `holds` weighs as water for a tank, else nothing",
    )
    weighed_to: Mass | None = entry(
        "how far the scale may be off that gave its mass",
        default=None,
        example="0.1 kg",
        otherwise="the mass was not weighed but is the maker's or a guess",
    )
    holds: Volume | None = entry("what it holds, for a tank", default=None, example="42 l")
    vents: tuple[Literal["left", "right", "front", "rear"], ...] = entry(
        "sides that need air", default=(), example="[left, rear]"
    )
    vent_gap: PositiveLength = entry("free room each vent side needs", default=50.0)
    lid: LidSpec | None = entry("its lid", default=None, example="{hinge: left, opens: 95 deg}")
    tap: TapSpec | None = entry("its tap", default=None, example="{side: left, height: 30}")
    drain: TapSpec | None = entry("its drain", default=None, example="{side: right, height: 20}")
    reach_to: tuple[ReachSpec, ...] = entry(
        "places on it that a hand must come to",
        default=(),
        example="[{name: plug, side: rear, height: 60, room: 80}]",
    )
    bulge: Length = entry("how far its long sides swell when full", default=0.0)
    price: Money | None = entry("what it costs", default=None, example="640", otherwise="not known")


@dataclass(frozen=True, slots=True, kw_only=True)
class ModuleSpec:
    """What every module may wish for; each kind adds its own entries.

    Sizes not given are worked out; `fit` or nothing means fill what is left.
    """

    kind: ClassVar[str] = ""

    behind: str | None = entry(
        "what it stands behind (rearward of)", default=None, example="seat_back"
    )
    in_front_of: str | None = entry("what it stands in front of", default=None, example="drawers")
    left_of: str | None = entry("what it stands to the left of", default=None, example="fridge")
    right_of: str | None = entry("what it stands to the right of", default=None, example="drawers")
    on: str | None = entry("what it stands on", default=None, example="box", otherwise="the floor")
    width: PositiveLength | None = entry("size across the bay", default=None, example="480")
    depth: PositiveLength | None = entry("size fore and aft", default=None, example="760")
    height: PositiveLength | None = entry("size upwards", default=None, example="410")


@dataclass(frozen=True, slots=True, kw_only=True)
class ClearanceSpec:
    """Least gaps, mm. The defaults are common practice."""

    wall: Length = entry("a fixed part to wall, roof, arch or tailgate", default=3.0)
    scribed: Length = entry("a scribed edge to the wall it follows", default=2.0)
    seat: Length = entry("anything to the seat back", default=5.0)
    moving: Length = entry("a moving part to anything it passes", default=1.5)
    parts: Length = entry("fixed parts of different modules to each other", default=1.0)
    tank: Length = entry("a tank to anything but its cradle and straps", default=5.0)
    hand: Length = entry(
        "what is carried in to the edges of the opening, for the fingers that hold it", default=15.0
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """A whole design file. `sources` maps key paths to (line, column), both from 1.

    `beside` names the files read with it: own rows of the catalogue, offcuts.
    """

    name: str
    bay: BaySpec
    boards: Mapping[str, BoardSpec]
    items: Mapping[str, ItemSpec]
    modules: Mapping[str, ModuleSpec]
    cutting: CuttingSpec
    clearances: ClearanceSpec
    catalogue: Mapping[str, Mapping[str, Any]]
    sources: Mapping[Path, tuple[int, int]]
    file: str = ""
    as_built: Mapping[str, AsBuiltSpec] = field(default_factory=dict)
    vehicle: VehicleSpec | None = None
    restraint: RestraintSpec = field(default_factory=RestraintSpec)
    stock: StockSpec = field(default_factory=StockSpec)
    trips: Mapping[str, TripSpec] = field(default_factory=dict)
    documents: DocumentSpec = field(default_factory=DocumentSpec)
    beside: tuple[str, ...] = ()
