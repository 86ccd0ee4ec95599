"""The vehicle's rear as entered: the tailgate, what hangs on it, the bumper's ledge."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from fitout.model.spec import Angle, Coordinate, Length, Measured, PositiveLength, Size, entry


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorLoadSpec:
    """What hangs on the tailgate and swings with it: a spare wheel, a folded table, bikes."""

    name: str = entry("what it is", example="spare wheel")
    size: Size = entry(
        "how far it stands out x width x height, as it hangs on the shut tailgate",
        example="210 x 640 x 640",
    )
    face: Literal["outer", "inner"] = entry("the face it hangs on", default="outer")
    middle: Coordinate = entry(
        "its middle, left of the centre line; right is negative", default=0.0
    )
    above: Length = entry("its underside above the floor", example="120")


@dataclass(frozen=True, slots=True, kw_only=True)
class TailgateSpec:
    """The tailgate: its inner face when shut, and how it opens."""

    inner_face: Mapping[Length, Measured] = entry(
        "how far forward of the sill its inner face lies at each height",
        example="{0: 0, 450: 30, 800: 165}",
    )
    opens: Literal["upwards", "sideways", "split", "downwards"] = entry(
        "how it opens", default="upwards"
    )
    hinged: Literal["left", "right"] = entry(
        "the side its hinges are on, if it opens sideways", default="left"
    )
    turns_behind: Length = entry("how far behind its inner face it turns", default=0.0)
    angle: Angle | None = entry(
        "how far it opens from shut; of a split one, its upper leaf",
        default=None,
        example="85 deg",
        otherwise="until it is level, or square to the bay if it opens sideways",
    )
    thickness: PositiveLength = entry("how thick it is", default=60.0)
    splits_at: PositiveLength | None = entry(
        "the height where the leaves of a split one part",
        default=None,
        example="490",
        otherwise="half-way up the opening",
    )
    carries: tuple[DoorLoadSpec, ...] = entry(
        "what hangs on it",
        default=(),
        example="[{name: spare wheel, size: 210x640x640, above: 120}]",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgeSpec:
    """What stands out behind the sill below the opening: the bumper's upper face."""

    depth: PositiveLength = entry("how far it stands out behind the sill", example="120")
    top: Coordinate = entry(
        "height of its upper face above the floor; below it negative", default=0.0, example="-35"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadRestraintSpec:
    """The rear seat's head restraints, as they stand when the seat is used."""

    raised: PositiveLength = entry(
        "how far they stand out beyond the seat back's top edge, along it", example="140"
    )
    thickness: PositiveLength = entry("how thick they are, fore and aft", default=110.0)
    across: PositiveLength = entry("how wide each is", default=270.0)
    middles: tuple[Coordinate, ...] = entry(
        "the middle of each, left of the centre line; right is negative",
        default=(),
        example="[340, -340]",
        otherwise="right across the seat back",
    )
