"""How sure one reading is: the tape's own error, reading it, placing it, soft linings.

The tape's own error is the same each time the same length is measured, so repeating averages
the rest but never that; `Reading` keeps the two apart. A soft lining is a bias, always
towards a smaller room, and belongs into the adjustment as an unknown with a prior of its own
(`lining`), not into the scatter of a reading.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from fitout.model.notes import TapeClass
from fitout.survey.uncertainty import Contribution, combine, rectangular


@dataclass(frozen=True, slots=True)
class Permissible:
    """A tape's permissible error: ± (`fixed` + `per_metre` · L) mm, `hook` more from a hook."""

    fixed: float
    per_metre: float
    hook: float


PERMISSIBLE: Mapping[TapeClass, Permissible] = MappingProxyType(
    {
        "I": Permissible(0.1, 0.1, 0.1),
        "II": Permissible(0.3, 0.2, 0.2),
        "III": Permissible(0.6, 0.4, 0.3),
    }
)
"""Directive 2014/32/EU, Annex X (MI-008), chapter I, Table 1; at 20 °C, 50 N pull from 5 m on."""

READING_HALF_WIDTH = 0.5
"""mm, where a tape with millimetre marks is read: half a mark, rectangular (JCGM 100:2008,
F.2.2.1, from memory)."""

PLACING_U = 1.0
"""mm, standard uncertainty of holding tape and body where meant, on a hard surface: out of
level, out of square, beside the point (common practice)."""

LINING_GIVE = 3.0
"""mm by which an end touching a soft lining stands off what is behind it, if nothing else is
said: carpet on felt, anywhere from none to twice that (common practice)."""

LEVEL_HALF_WIDTH_DEG = 0.2
"""Permissible error of a builder's digital level away from plumb and level (common practice,
as data sheets have it)."""

LEVEL_PLACING_U_DEG = 0.25
"""Standard uncertainty of what a level 300 mm to 600 mm long rests on: 2 mm of unevenness
(common practice)."""


@dataclass(frozen=True, slots=True)
class Reading:
    """Standard uncertainty of one reading, mm, and the part all readings of it share."""

    u: float
    shared: float


def largest_error(length: float, tape: TapeClass = "II", *, hooked: bool = False) -> float:
    """The error (± mm) a tape of this class may have over `length` mm; `hooked`: from its hook.

    Raises:
        ValueError: when the length is negative or not finite.

    Source: Directive 2014/32/EU, Annex X (MI-008): a + b L, L in metres rounded up to the
    next whole one, plus c where the end is a hook.
    """
    if not 0.0 <= length < math.inf:
        raise ValueError(f"a length of {length:g} mm can't be measured")
    row = PERMISSIBLE[tape]
    return row.fixed + row.per_metre * math.ceil(length / 1000.0) + (row.hook if hooked else 0.0)


def reading(length: float, tape: TapeClass = "II", *, hooked: bool = False) -> Reading:
    """How sure one reading of `length` mm is where no tolerance was noted.

    The tape's permissible error counts as rectangular (JCGM 100:2008, 4.3.7, from memory); a
    tape without its hook is read at both ends.

    Raises:
        ValueError: when the length is negative or not finite.
    """
    shared = rectangular(largest_error(length, tape, hooked=hooked))
    ends = [Contribution(rectangular(READING_HALF_WIDTH))] * (1 if hooked else 2)
    return Reading(combine([Contribution(shared), *ends, Contribution(PLACING_U)]).u, shared)


def tolerated(tolerance: float) -> Reading:
    """How sure a reading is that the builder called good to ± `tolerance` mm.

    Read as a rectangular half width (JCGM 100:2008, 4.3.7, from memory). What the builder
    means by it is how well the point was met, which differs each time: nothing is shared.

    Raises:
        ValueError: unless the tolerance is above 0.
    """
    return Reading(rectangular(tolerance), 0.0)


def lining(give: float | None = None) -> tuple[float, float]:
    """Prior mean and standard uncertainty (mm) of how far a soft lining stands off, each end.

    `give` is what the builder says it gives, about: half as much to half as much again.
    Unsaid: from nothing to twice LINING_GIVE. Both rectangular (JCGM 100:2008, 4.3.7, from
    memory).

    Raises:
        ValueError: unless `give` is above 0.
    """
    if give is None:
        return LINING_GIVE, rectangular(LINING_GIVE)
    return give, rectangular(give / 2.0)


def level_u_deg() -> float:
    """Standard uncertainty of an angle read from a digital level, degrees."""
    instrument = Contribution(rectangular(LEVEL_HALF_WIDTH_DEG))
    return combine([instrument, Contribution(LEVEL_PLACING_U_DEG)]).u
