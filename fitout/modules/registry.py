"""Every kind of module, in the order documentation lists them."""

from __future__ import annotations

from fitout.modules import (
    barrier,
    box,
    deck,
    drawers,
    fridge_slide,
    seat_tray,
    side_bin,
    water_tank,
)
from fitout.modules.kind import Kind

KINDS: tuple[Kind, ...] = (
    barrier.KIND,
    drawers.KIND,
    deck.KIND,
    fridge_slide.KIND,
    side_bin.KIND,
    box.KIND,
    seat_tray.KIND,
    water_tank.KIND,
)

BY_NAME = {kind.kind: kind for kind in KINDS}
