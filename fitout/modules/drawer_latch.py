"""How a drawer is pulled and what holds it shut: finger hole or button, latch, striker.

Seen from the left, the rear to the left; the striker is under the rail above, or under the top:

       =============== rail or top
           |lip| #
    |front||inner|###
    |     || front|### case
"""

from __future__ import annotations

from dataclasses import dataclass

from fitout.model.fault import DesignError, Fault
from fitout.model.hardware import LatchType
from fitout.model.module import Berth
from fitout.model.placement import X, Y, Z
from fitout.modules.carcass import Column, Opening
from fitout.modules.drawer_box import drawer_front
from fitout.modules.joinery import Draft
from fitout.modules.latches import (
    Catch,
    add_latch,
    beside_finger_hole,
    latch_type,
    refuse_thickness,
)

USUAL = "finger catch"
USUAL_BUTTON = "push-button latch"

LEAST_FOR_CATCH = 300.0
"""Width of the narrowest drawer box in whose front a catch has room between the finger hole and
the screws that hold the front, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pull:
    """What the design says of a drawer's pull and latch, None where it says nothing.

    `above` names the panel over the drawer's front, which takes the striker.
    """

    pull: str | None
    latch: str | None
    slide_locks: bool
    above: str


def add_front(
    draft: Draft, wish: Pull, column: Column, opening: Opening, drawer: tuple[str, Berth]
) -> None:
    """The front of a drawer, given by its label and box, what it is pulled and held shut by.

    Raises:
        DesignError: for a latch asked for by name that does not serve the boards or the pull.
    """
    label, box = drawer
    kind = drawer_latch_type(draft, wish, box.y1 - box.y0)
    finger = drawer_front(draft, has_finger_hole(wish, kind), column, opening, label, box)
    if kind is None:
        return
    catch = Catch(
        motion=label,
        panel=f"{label} inner front",
        striker_panel=wish.above,
        normal=X,
        throw=Z,
        behind=(f"{label} front",),
    )
    if wish.latch is not None:
        refuse_thickness(draft, kind, catch, ("modules", draft.name, "latch"))
    underside = draft.panels[wish.above].placement.origin[2]
    face = box.x0 + draft.board("drawer").thickness
    over = (face, (box.y0 + box.y1) / 2.0, underside)
    add_latch(draft, kind, catch, beside_finger_hole(kind, over, finger, Y))


def drawer_latch_type(draft: Draft, wish: Pull, width: float) -> LatchType | None:
    """The latch a drawer so wide gets; None where none is wanted or its slides lock.

    Where nothing is said and the drawer is too narrow for a catch beside a finger hole, it is a
    latch with a button, which needs no such hole.

    Raises:
        DesignError: for a latch without a button where the latch is to be the pull.
    """
    if wish.latch is None and wish.pull != "latch" and wish.slide_locks:
        return None
    narrow = wish.pull is None and width < LEAST_FOR_CATCH
    usual = USUAL_BUTTON if wish.pull == "latch" or narrow else USUAL
    kind = latch_type(draft, wish.latch, usual)
    if wish.pull == "latch" and (kind is None or kind.clearance_hole is None):
        latches = draft.setting.catalogue.latches.values()
        buttons = ", ".join(k.key for k in latches if k.clearance_hole is not None)
        fault = Fault(
            path=("modules", draft.name, "latch"),
            found=f"{wish.latch!r}, which has no button",
            expected=f"a latch that a front is pulled by: {buttons}",
            hint="Or leave out `pull: latch`: then there is a finger hole.",
        )
        raise DesignError([fault])
    return kind


def has_finger_hole(wish: Pull, kind: LatchType | None) -> bool:
    """Whether fingers pull the front by a hole: unless the latch's own button does."""
    if wish.pull is not None:
        return wish.pull == "finger hole"
    return kind is None or kind.clearance_hole is None
