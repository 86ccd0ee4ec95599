"""What a module is made of once it is built, and the whole fit-out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Literal

from fitout.model.bay import Bay
from fitout.model.hardware import HardwareLine, Slide
from fitout.model.item import Item, Piece, Zone
from fitout.model.latch import Latch
from fitout.model.panel import Bar, Panel
from fitout.model.placement import Placement, Vector

Part = Panel | Bar | Item


class JointKind(StrEnum):
    """How two bodies meet. A declared joint allows touching, never overlapping."""

    SCREWED = "screwed"
    BOLTED = "bolted"
    GROOVED = "in a groove"
    RESTS = "rests on"
    HINGED = "hinged"
    SLIDES = "on a slide"
    FITTED = "fitted"


@dataclass(frozen=True, slots=True)
class Joint:
    """Two bodies, by id, that meet by design. Bay surfaces are `bay/<name>`."""

    a: str
    b: str
    kind: JointKind
    note: str = ""


class MotionKind(StrEnum):
    """The ways a part moves."""

    SLIDE = "slide"
    HINGE = "hinge"
    REMOVE = "remove"


@dataclass(frozen=True, slots=True, kw_only=True)
class Motion:
    """A movement of every part of `module` whose `moves` is this motion's name.

    A slide or removal goes `travel` mm along `direction`; a hinge turns `travel` degrees
    about the axis through `point` along `direction` (right-hand rule).

    `needs` lists the motions, by id, that must be open before this one can start; their
    parts stand open meanwhile. `shut` lists those that must be shut meanwhile, `tailgate`
    says whether it has to be open. `stop` is what ends the movement, in words. A part of a
    bought-in thing that moves by itself, such as its lid, is given as `pieces` in the axes of
    that part `of`, by its id.
    """

    name: str
    module: str
    kind: MotionKind
    direction: Vector
    travel: float
    point: Vector = (0.0, 0.0, 0.0)
    needs: tuple[str, ...] = ()
    shut: tuple[str, ...] = ()
    tailgate: Literal["open", "any"] = "open"
    stop: str = ""
    of: str = ""
    pieces: tuple[Piece, ...] = ()

    @property
    def id(self) -> str:
        """The motion's id: `<module>/<name>`."""
        return f"{self.module}/{self.name}"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateDuty:
    """A panel that carries `load_kg` spread evenly, or a person's knee if `patch`.

    `spans` are the free spans along the panel's u and v between supports; `edges` says
    which pairs of edges are supported ("all", "u ends" or "v ends"). `most_sag` is how far
    it may sag where there is a reason (room beneath it), None for the usual share of the span.
    """

    panel: str
    load_kg: float
    spans: tuple[float, float]
    edges: Literal["all", "u ends", "v ends"]
    purpose: str
    patch: bool = False
    most_sag: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SlideDuty:
    """What one pair of slides carries: the moving parts (by id) and the contents."""

    name: str
    slide: Slide
    moving: tuple[str, ...]
    contents_kg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixing:
    """A bolt to the vehicle's floor or wall at `point`.

    `anchor` names the known anchor point it uses, None where the hole must be drilled.
    """

    module: str
    point: Vector
    article: str
    anchor: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Access:
    """Room a hand or hose needs: kept free of everything but the parts in `except_ids`."""

    zone: Zone
    placement: Placement
    except_ids: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Stay:
    """A stay between a lid and a part that stands still, by its pivots with the lid shut.

    `motion` is the lid's motion, `lid` and `side` name the two parts by id, `article` the
    stay's row of the catalogue.
    """

    motion: str
    article: str
    lid: str
    side: str
    on_lid: Vector
    on_side: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class Berth:
    """The space a module may use, in bay coordinates."""

    x0: float
    x1: float
    y0: float
    y1: float
    z0: float
    z1: float

    @property
    def size(self) -> Vector:
        """Extent along x, y and z."""
        return self.x1 - self.x0, self.y1 - self.y0, self.z1 - self.z0


@dataclass(frozen=True, slots=True, kw_only=True)
class VoidFit:
    """A module against the measured void it goes into: what it needs and what is there.

    Both sizes run along x, y and z, at the place the name says.
    """

    name: str
    needed: Vector
    available: Vector


@dataclass(frozen=True, slots=True)
class Remark:
    """A caution only the module itself can know: the code of its finding, and a sentence."""

    code: str
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Module:
    """A built module: parts, how they meet, what moves, what must be bought and carried.

    `tops` are bolts that hold the upper ends of its posts to the vehicle's walls.
    """

    name: str
    kind: str
    berth: Berth | None
    panels: tuple[Panel, ...] = ()
    bars: tuple[Bar, ...] = ()
    items: tuple[Item, ...] = ()
    joints: tuple[Joint, ...] = ()
    motions: tuple[Motion, ...] = ()
    hardware: tuple[HardwareLine, ...] = ()
    plates: tuple[PlateDuty, ...] = ()
    slides: tuple[SlideDuty, ...] = ()
    fixings: tuple[Fixing, ...] = ()
    tops: tuple[Fixing, ...] = ()
    accesses: tuple[Access, ...] = ()
    latches: tuple[Latch, ...] = ()
    stays: tuple[Stay, ...] = ()
    voids: tuple[VoidFit, ...] = ()
    needs_fixings: int = 0
    remarks: tuple[Remark, ...] = ()

    def parts(self) -> Iterator[Part]:
        """Every body of the module."""
        yield from self.panels
        yield from self.bars
        yield from self.items


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitout:
    """The bay and every module built in it."""

    name: str
    bay: Bay
    modules: tuple[Module, ...]
    joints: tuple[Joint, ...] = field(default=())

    def parts(self) -> Iterator[Part]:
        """Every body of every module."""
        for module in self.modules:
            yield from module.parts()

    def panels(self) -> Iterator[Panel]:
        """Every panel of every module."""
        for module in self.modules:
            yield from module.panels

    def all_joints(self) -> Iterator[Joint]:
        """Every declared joint, within modules and between them."""
        for module in self.modules:
            yield from module.joints
        yield from self.joints
