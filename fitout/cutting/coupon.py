"""The test piece for a groove: cut it first, measure it, and all grooves follow.

       ┌────────────────────┐
       │  ╔══════════════╗  │  100 × 60, a groove along its middle as wide as the parts' are
       │  ╚══════════════╝  │  to be, as deep, in the same board
       └────────────────────┘

Its groove is always drawn as wide as a groove is to be. What it comes out as, less that, is
what the tool cuts too wide; entered as `groove_measured` it is taken off every groove for
that board, half on each side. Nothing else changes. Its corners are relieved at both ends as
those are that a board sits in (see `corners`), so that an offcut of that board can be tried in it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from fitout.model.design import BoardSpec, Design
from fitout.model.fault import DesignError, Fault
from fitout.model.outline import Loop, Outline, Vertex, rectangle
from fitout.model.panel import Grain, Panel, Pocket
from fitout.model.placement import flat
from fitout.model.stock import Board
from fitout.modules.joinery import groove_width

SIZE = (100.0, 60.0)
MARGIN = 15.0
"""How far the groove stays from the ends, so that a calliper finds two walls."""

FARTHEST = 1.0
"""A groove this far off what was drawn is a slip, not the tool's doing, mm."""

NOWHERE = -10_000.0
"""How far beneath the floor a test piece is put, mm: no part of the fit-out is near it there."""

MODULE = "test pieces"


def fitted(
    panels: Iterable[Panel], design: Design, boards: Mapping[str, Board]
) -> tuple[Panel, ...]:
    """The panels as they are cut, test pieces after them if they are wanted."""
    cut = tuple(adapted(panels, groove_errors(design.boards, boards)))
    return (*cut, *coupons(cut, boards.values())) if design.cutting.coupon else cut


def groove_errors(wishes: Mapping[str, BoardSpec], boards: Mapping[str, Board]) -> dict[str, float]:
    """How much too wide grooves come out, mm, by the name of the board they hold.

    Raises:
        DesignError: where what was measured is no such groove.
    """
    errors: dict[str, float] = {}
    faults = []
    for role, wish in wishes.items():
        if wish.groove_measured is None:
            continue
        drawn = groove_width(boards[role])
        error = wish.groove_measured - drawn
        if abs(error) > FARTHEST:
            faults.append(
                Fault(
                    path=("boards", role, "groove_measured"),
                    found=f"{wish.groove_measured:g}",
                    expected=f"a width within {FARTHEST:g} of the {drawn:g} on the test piece",
                    hint="Measure across the groove, not the board.",
                )
            )
        errors[wish.sheet] = error
    if faults:
        raise DesignError(faults)
    return errors


def adapted(panels: Iterable[Panel], errors: Mapping[str, float]) -> Iterator[Panel]:
    """The panels with every groove drawn so that it comes out as wide as it is to be."""
    for panel in panels:
        pockets = tuple(_adapted(pocket, errors.get(pocket.holds, 0.0)) for pocket in panel.pockets)
        yield panel if pockets == panel.pockets else replace(panel, pockets=pockets)


def _adapted(pocket: Pocket, error: float) -> Pocket:
    if not error:
        return pocket
    x0, y0, x1, y1 = Outline(pocket.loop).bounds
    lengthwise = x1 - x0 >= y1 - y0
    low, high = (y0, y1) if lengthwise else (x0, x1)
    middle, share = (low + high) / 2.0, 1.0 - error / (high - low)

    def moved(v: Vertex) -> Vertex:
        if lengthwise:
            return Vertex(v.x, middle + (v.y - middle) * share, v.bulge)
        return Vertex(middle + (v.x - middle) * share, v.y, v.bulge)

    return replace(pocket, loop=Loop(tuple(moved(v) for v in pocket.loop.vertices)))


def coupons(panels: Iterable[Panel], boards: Iterable[Board]) -> tuple[Panel, ...]:
    """A test piece for every board that is held in grooves, of the board they are cut in."""
    held = {board.key: board for board in boards}
    found: dict[str, Panel] = {}
    for panel in panels:
        for pocket in panel.pockets:
            if pocket.holds in held and pocket.holds not in found:
                found[pocket.holds] = _coupon(panel, pocket, held[pocket.holds])
    return tuple(found.values())


def _coupon(panel: Panel, pocket: Pocket, board: Board) -> Panel:
    width = groove_width(board)
    loop = rectangle(SIZE[0] - 2.0 * MARGIN, width, MARGIN, (SIZE[1] - width) / 2.0)
    return Panel(
        name=f"test piece for {board.key}, groove {width:.1f}",
        module=MODULE,
        outline=Outline(rectangle(*SIZE)),
        board=panel.board,
        placement=flat(0.0, 0.0, NOWHERE),
        pockets=(Pocket(loop, pocket.depth, "groove"),),
        grain=Grain.EITHER,
    )


def how_to_measure(coupon: Panel) -> str:
    """What to do with a test piece, in words."""
    return (
        f"Cut the {coupon.name}, first from its sheet. Measure across its groove with a calliper "
        "near both ends, clear of the corners, and in the middle, and enter the mean under boards "
        "as groove_measured of the board it is for; then build again and cut the rest."
    )
