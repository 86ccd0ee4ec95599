"""Whether a board, lying flat or standing on edge, bears a person's knee."""

from __future__ import annotations

from fitout.mechanics.beams import bending_stress_mpa, centre_load, second_moment
from fitout.mechanics.boards import (
    KNEE_N,
    KNEE_SAG_SHARE,
    knee_on,
    pressure_mpa,
    strength_used,
)
from fitout.mechanics.plates import Edges, plate_of_board, plate_response
from fitout.mechanics.timber import K_MOD, strength_share
from fitout.model.stock import Board

MOST_FIELDS = 12


def bears_knee(
    board: Board,
    spans: tuple[float, float],
    edges: Edges,
    *,
    grain_along_u: bool | None = None,
    load_kg: float = 0.0,
) -> bool | None:
    """Whether a board over the free spans along its u and v bears a knee at its middle.

    It bears its own weight and `load_kg` spread besides. Of a knee wider than the spans it
    bears its share alone. `grain_along_u` None stands for a grain that may run either way:
    the weaker way counts. None is returned where the catalogue has no stiffness for the
    board; without a strength the sag alone decides.

    Source: see `mechanics.plates`; the limits are common practice.
    """
    ways = (True, False) if grain_along_u is None else (grain_along_u,)
    answers = [_bears(board, spans, edges, along, load_kg) for along in ways]
    return None if None in answers else all(answers)


def _bears(
    board: Board, spans: tuple[float, float], edges: Edges, along: bool, load_kg: float
) -> bool | None:
    plate = plate_of_board(board, spans, edges, grain_along_u=along)
    if plate is None:
        return None
    u, v = spans
    span = {"all": min(u, v), "u ends": u, "v ends": v}[edges]
    bent = plate_response(plate, pressure_mpa(board, spans, load_kg), knee_on(spans))
    if bent.deflection > span / KNEE_SAG_SHARE:
        return False
    use = strength_used(board, bent, grain_along_u=along)
    return use is None or use <= strength_share(board.kind, "short")


def fields_for(
    board: Board, spans: tuple[float, float], edges: Edges, between: float, load_kg: float = 0.0
) -> int | None:
    """Into how many fields along u supports must part a panel, grain along u, to bear a knee.

    `between` is the width of each support, mm. Of a panel that bears no knee in as many as
    `MOST_FIELDS`, that many. None where the board's stiffness isn't known.
    """
    length, width = spans
    for count in range(1, MOST_FIELDS + 1):
        clear = (length - (count - 1) * between) / count
        if clear <= between:
            return max(1, count - 1)
        field = (clear, width)
        answer = bears_knee(board, field, edges, grain_along_u=True, load_kg=load_kg / count)
        if answer is None:
            return None
        if answer:
            return count
    return MOST_FIELDS


def edge_bears_knee(board: Board, height: float, span: float) -> bool | None:
    """Whether a strip of a board standing on edge bears the whole knee at mid-span.

    On edge the plies of both directions share the load: the mean of the values along and
    across is reckoned with (common practice). None where the catalogue has none of them.
    """
    along, across = board.e_along_mpa, board.e_across_mpa
    if along is None or across is None or board.kind not in K_MOD:
        return None
    inertia = second_moment(board.thickness, height)
    bent = centre_load(span, KNEE_N, inertia * (along + across) / 2.0)
    if bent.deflection > span / KNEE_SAG_SHARE:
        return False
    strong, weak = board.strength_along_mpa, board.strength_across_mpa
    if strong is None or weak is None:
        return True
    stress = bending_stress_mpa(bent.moment_nmm, height, inertia)
    return stress <= strength_share(board.kind, "short") * (strong + weak) / 2.0


def parted(start: float, end: float, count: int, width: float) -> tuple[float, ...]:
    """Where `count` − 1 supports of that width begin that part a stretch into equal fields."""
    field = (end - start - (count - 1) * width) / count
    return tuple(start + i * field + (i - 1) * width for i in range(1, count))
