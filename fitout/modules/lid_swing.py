"""How far a lid hinged ahead of its box opens, past the opening's frame and under the roof.

seen from the left

      .   :    frame: leans forward as it rises
    .      :
  lid       :  hinge
  =============O        the lid's rear edge swings up past the frame where the lid is wider
                        than the opening, or comes up beside its upper edge
"""

from __future__ import annotations

import math

from fitout.model.module import Berth
from fitout.modules.kind import Setting
from fitout.survey.room import opening_half_width, rear_face, roof_height

OPENS_DEG = 95.0
"""How far a lid opens where there is room: far enough to stay open by itself."""

STEP_DEG = 0.25
SAGITTA = 0.01
"""How much nearer an edge may come between two steps, mm: 0.0024 for a lid a metre long."""


def swing_deg(setting: Setting, lid: Berth) -> float:
    """How far a lid may open, whole degrees; `lid` is its place shut, the hinge at x1 and z1.

    Its rear edge keeps a moving part's gap from the roof and from the opening's frame.
    """
    clear, bay = setting.rules.moving + SAGITTA, setting.bay
    roof = roof_height(bay, lid.x0, lid.x1, clear=clear)
    length, thick = lid.x1 - lid.x0, lid.z1 - lid.z0
    steps = round(OPENS_DEG / STEP_DEG)
    for i in range(steps + 1):
        angle = math.radians(i * STEP_DEG)
        rise, back = length * math.sin(angle), length * math.cos(angle)
        low = lid.z1 + rise - thick * math.cos(angle)
        high = lid.z1 + rise
        # The lower edge stands out further to the rear than the upper one.
        edge = lid.x1 - back - thick * math.sin(angle)
        if high > roof or _meets_frame(setting, lid, (low, high), edge, clear):
            return float(math.floor(max(0.0, (i - 1) * STEP_DEG)))
    return OPENS_DEG


def _meets_frame(
    setting: Setting, lid: Berth, z: tuple[float, float], edge: float, clear: float
) -> bool:
    """Whether the lid's rear edge, between two heights, is nearer to the frame than `clear`."""
    bay = setting.bay
    if edge >= rear_face(bay, *z, clear=clear):
        return False
    if z[1] + clear > bay.opening[-1][0]:
        return True
    left, right = (opening_half_width(bay, s, *z) - clear for s in ("left", "right"))
    return lid.y1 > left or -lid.y0 > right
