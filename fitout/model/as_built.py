"""Parts as they were made, measured before they go in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from fitout.model.spec import Measured, entry


@dataclass(frozen=True, slots=True, kw_only=True)
class AsBuiltSpec:
    """A part's sizes as measured once it is cut, by the words of the cut list.

    Gaps then count the part as it is. The cut files stay as designed.
    """

    length: Measured | None = entry(
        "its length as measured, along what the cut list calls its length",
        default=None,
        example="787.4 ± 0.3",
        otherwise="not measured",
    )
    width: Measured | None = entry(
        "its width as measured", default=None, example="501", otherwise="not measured"
    )
    thickness: Measured | None = entry(
        "its thickness as measured with a calliper",
        default=None,
        example="12.2",
        otherwise="not measured",
    )
    on: date | None = entry("when it was measured", default=None, example="2026-11-25")
    by: str | None = entry("who measured it", default=None, example="Ana")


def over_or_under(off: float) -> str:
    """How far off a size is, mm, in words: "1.0 mm over"."""
    return f"{abs(off):.1f} mm {'over' if off >= 0.0 else 'under'}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Built:
    """One size of a part as measured, mm.

    `number` is the part's on the cut list, `cut` the size it was to have, `half_width` how far
    off the reading may be. `key` is the entry that says so.
    """

    size: str
    number: str
    cut: float
    read: float
    half_width: float
    key: str

    @property
    def off(self) -> float:
        """By how much it is over its cut size."""
        return self.read - self.cut

    @property
    def words(self) -> str:
        """How far off it is, in words."""
        return over_or_under(self.off)


AsBuilt = Mapping[tuple[str, str], Built]
"""What was measured, by the part's id and which of its own axes (u, v, w) the size lies along."""
