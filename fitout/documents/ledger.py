"""The mass ledger and the states of the vehicle, as tables and as JSON."""

from __future__ import annotations

from collections.abc import Sequence

from fitout.checks.ledger import LedgerLine, summed
from fitout.checks.vehicle import States
from fitout.checks.vehicle_state import Settling, VehicleState
from fitout.documents.tables import Cell, table

LEDGER_HEADINGS = (
    "belongs to", "kind", "what", "mass (kg)", "standard uncertainty (kg)", "forward (mm)",
    "left (mm)", "up (mm)", "known", "basis", "where",
)  # fmt: skip

VEHICLE_HEADINGS = (
    "vehicle", "front axle (kg)", "rear axle (kg)", "gross (kg)", "front allowed (kg)",
    "rear allowed (kg)", "gross allowed (kg)", "standard uncertainty (kg)", "roof (kg)",
    "door (kg)", "behind bumper (kg)", "left (%)", "centre ahead of rear axle (mm)",
    "centre above ground (mm)", "half track over height (g)", "front down (mm)",
    "rear down (mm)", "tail down (deg)",
)  # fmt: skip

LOADED = ("contents", "water", "person", "fuel", "carried")
"""Kinds of line that are no part of the fit-out as built."""


def ledger_csv(lines: Sequence[LedgerLine]) -> bytes:
    """One row a line, then the sum of each group, the fit-out as built, and all of it."""
    rows = [_row(line) for line in lines]
    groups = dict.fromkeys(line.group for line in lines)
    rows += [_sum_row(f"sum: {g}", [line for line in lines if line.group == g]) for g in groups]
    rows.append(_sum_row("sum: fit-out as built", built(lines)))
    rows.append(_sum_row("sum: all", lines))
    return table(LEDGER_HEADINGS, rows)


def built(lines: Sequence[LedgerLine]) -> list[LedgerLine]:
    """The lines of the fit-out with nothing in it."""
    return [line for line in lines if line.kind not in LOADED]


def _row(line: LedgerLine) -> list[Cell]:
    return [
        line.group,
        line.kind,
        line.name,
        f"{line.mass_kg:.4f}",
        f"{line.u_kg:.4f}",
        *_places(line.centre),
        line.known.value,
        line.basis,
        line.where,
    ]


def _sum_row(name: str, lines: Sequence[LedgerLine]) -> list[Cell]:
    whole = summed(lines)
    return [
        name, "sum", "", f"{whole.mass_kg:.4f}", f"{whole.u_kg:.4f}", *_places(whole.centre),
        "", "lines that err together added, the rest in squares", "",
    ]  # fmt: skip


def _places(centre: Sequence[float]) -> list[Cell]:
    return [f"{value + 0.0:.1f}" for value in centre]


def ledger_object(lines: Sequence[LedgerLine]) -> dict[str, object]:
    """The ledger as `check --json` tells it: its lines, and sums by group, as built and of all."""
    groups = dict.fromkeys(line.group for line in lines)
    return {
        "lines": [
            {
                "of": line.group,
                "kind": line.kind,
                "what": line.name,
                "mass_kg": round(line.mass_kg, 6),
                "u_kg": round(line.u_kg, 6),
                "centre_mm": [round(value, 3) + 0.0 for value in line.centre],
                "known": line.known.value,
                "basis": line.basis,
                "where": line.where,
            }
            for line in lines
        ],
        "groups": {group: _sum([x for x in lines if x.group == group]) for group in groups},
        "built": _sum(built(lines)),
        "all": _sum(lines),
    }


def _sum(lines: Sequence[LedgerLine]) -> dict[str, object]:
    whole = summed(lines)
    return {
        "mass_kg": round(whole.mass_kg, 6),
        "u_kg": round(whole.u_kg, 6),
        "centre_mm": [round(value, 3) + 0.0 for value in whole.centre],
    }


def vehicle_csv(states: States) -> bytes:
    """One row a state: as weighed, with the fit-out empty, laden."""
    return table(VEHICLE_HEADINGS, [_state_row(name, state) for name, state in states.each()])


def _state_row(name: str, state: VehicleState) -> list[Cell]:
    limits = {limit.key: limit for limit in state.limits}
    share = None if state.left_share is None else 100.0 * state.left_share
    return [
        name,
        *(_number(limits[key].value_kg) for key in ("front", "rear", "gross")),
        *(_number(limits[key].limit_kg) for key in ("front", "rear", "gross")),
        _number(state.u_kg),
        *(_number(limits[key].value_kg) for key in ("roof", "door", "behind_bumper")),
        _number(share),
        _number(state.ahead),
        _number(state.height),
        _number(state.rollover_g, 3),
        _number(_down(state.front)),
        _number(_down(state.rear)),
        _number(state.pitch_deg, 2),
    ]


def _down(settling: Settling | None) -> float | None:
    return None if settling is None else settling.down


def _number(value: float | None, digits: int = 1) -> str | None:
    return None if value is None else f"{round(value, digits) + 0.0:.{digits}f}"


def vehicle_rows(states: States | None) -> list[dict[str, object]]:
    """The states as `check --json` tells them; none where no vehicle was entered."""
    if states is None:
        return []
    return [
        {
            "state": name,
            "limits": [
                {
                    "of": limit.name,
                    "value_kg": round(limit.value_kg, 4) + 0.0,
                    "u_kg": round(limit.u_kg, 4),
                    "limit_kg": limit.limit_kg,
                }
                for limit in state.limits
            ],
            "left_share": _rounded(state.left_share),
            "centre_ahead_of_rear_axle_mm": _rounded(state.ahead),
            "centre_above_ground_mm": _rounded(state.height),
            "half_track_over_height_g": _rounded(state.rollover_g),
            "front_down_mm": _rounded(_down(state.front)),
            "rear_down_mm": _rounded(_down(state.rear)),
            "pitch_deg": _rounded(state.pitch_deg),
        }
        for name, state in states.each()
    ]


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 4) + 0.0
