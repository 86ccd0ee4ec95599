"""How far a panel sags, at once and for good, and how much of its strength its loads use."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from fitout.checks.memory import Memory
from fitout.mechanics.boards import (
    BUMP_G,
    KNEE_N,
    KNEE_SAG_SHARE,
    knee_on,
    pressure_mpa,
    strength_used,
)
from fitout.mechanics.plates import PlateResult, plate_of_board, plate_response
from fitout.mechanics.timber import K_MOD, Duration, final_factor, strength_share
from fitout.model.module import PlateDuty
from fitout.model.panel import Grain
from fitout.model.stock import Board

SAG_SHARE = 200.0
"""A panel under a spread load may sag its span over this (general floors: common practice)."""

FINAL_SHARE = 150.0
"""With what it creeps by it may sag its span over this: the least strict of EN 1995-1-1 Table 7.2
for what is left in the end (from memory)."""

FINAL_OF_ROOM = 1.75
"""Where the room beneath decides, at once half of it is allowed, in the end seven eighths."""

WAYS = {Grain.ALONG_U: (True,), Grain.ALONG_V: (False,), Grain.EITHER: (True, False)}

TOLD: dict[Duration, str] = {
    "permanent": "its own weight",
    "long": "goods that stay packed",
    "short": "a knee",
    "instant": f"a bump of {BUMP_G:g} g",
}


@dataclass(frozen=True, slots=True)
class Bent:
    """What the loads do to a panel.

    `sag` is how far it sags at once, `final` with what its lasting loads make it creep, mm.
    `use` is the share of the strength that may be used for loads of that `duration`, of all
    durations the one that uses most.
    """

    sag: float
    final: float
    use: float
    duration: Duration

    def passes(self, duty: PlateDuty) -> bool:
        """Whether all are within what is allowed."""
        return self.sag <= most_sag(duty) and self.final <= most_final(duty) and self.use <= 1.0

    def plus(self, other: Bent) -> Bent:
        """One lying on the other: sags add up, of the strengths the one more used counts."""
        worse = max(self, other, key=lambda b: b.use)
        return Bent(self.sag + other.sag, self.final + other.final, worse.use, worse.duration)


def bent_panel(memory: Memory, board: Board, duty: PlateDuty, grain: Grain) -> Bent | None:
    """The worst of the ways its grain may run; None where the board's values are not known."""
    found = [_bent(memory, board, duty, along_u) for along_u in WAYS[grain]]
    known = [b for b in found if b is not None]
    if len(known) < len(found):
        return None
    worse = max(known, key=lambda b: b.use)
    return Bent(max(b.sag for b in known), max(b.final for b in known), worse.use, worse.duration)


def _bent(memory: Memory, board: Board, duty: PlateDuty, along_u: bool) -> Bent | None:
    plate = plate_of_board(board, duty.spans, duty.edges, grain_along_u=along_u)
    if plate is None or board.kind not in K_MOD:
        return None

    def response(pressure: float, knee: bool) -> PlateResult:
        asked = (plate, pressure, knee_on(duty.spans) if knee else None)
        return memory.recall(("plate", *asked), partial(plate_response, *asked))

    pressure = pressure_mpa(board, duty.spans, duty.load_kg)
    lasting = response(pressure, False)
    whole = response(pressure, True) if duty.patch else lasting
    uses: list[tuple[float, Duration]] = []
    for duration, bent, factor in _cases(duty, lasting, whole):
        used = strength_used(board, bent, grain_along_u=along_u)
        if used is None:
            return None
        uses.append((factor * used / strength_share(board.kind, duration), duration))
    use, duration = max(uses, key=lambda u: u[0])
    creeps = (final_factor(board.kind) - 1.0) * lasting.deflection
    return Bent(whole.deflection, lasting.deflection + creeps, use, duration)


def _cases(
    duty: PlateDuty, lasting: PlateResult, whole: PlateResult
) -> list[tuple[Duration, PlateResult, float]]:
    """The loads to hold, each with how long it lies and by how much it is multiplied."""
    if not duty.load_kg:
        return [("short", whole, 1.0)] if duty.patch else [("permanent", lasting, 1.0)]
    cases: list[tuple[Duration, PlateResult, float]] = [
        ("long", lasting, 1.0),
        ("instant", lasting, BUMP_G),
    ]
    return [*cases, ("short", whole, 1.0)] if duty.patch else cases


def span_of(duty: PlateDuty) -> float:
    """The span that counts: between the supports, the shorter one if all edges are held."""
    if duty.edges == "all":
        return min(duty.spans)
    return duty.spans[0 if duty.edges == "u ends" else 1]


def most_sag(duty: PlateDuty) -> float:
    """How far the panel may sag at once, mm."""
    return duty.most_sag or span_of(duty) / (KNEE_SAG_SHARE if duty.patch else SAG_SHARE)


def most_final(duty: PlateDuty) -> float:
    """How far it may sag in the end under what lies on it for good, mm."""
    if duty.most_sag is not None:
        return duty.most_sag * FINAL_OF_ROOM
    return span_of(duty) / FINAL_SHARE


def load_of_duty(duty: PlateDuty) -> str:
    """What the panel carries, in words."""
    if not duty.patch:
        return f"{round(duty.load_kg, 1):g} kg spread"
    knee = knee_on(duty.spans)
    words = "a knee (1 kN on 100 × 100)"
    if knee.load_n < KNEE_N:
        size = f"{knee.size_u:.0f} × {knee.size_v:.0f}"
        words = f"its share of a knee ({knee.load_n / 1000.0:.2f} kN on {size})"
    return f"{words} and {round(duty.load_kg, 1):g} kg spread" if duty.load_kg else words
