"""Whether a board, lying flat or standing on edge, bears a person's knee."""

from __future__ import annotations

from fitout.mechanics.beams import bending_stress_mpa, centre_load, second_moment
from fitout.mechanics.plates import Edges, Patch, plate_of_board, plate_response
from fitout.model.stock import Board

KNEE_N, KNEE = 1000.0, 100.0
"""A person kneeling on a panel: 1.0 kN on 100 × 100 mm (common practice)."""

SAG_SHARE = 100.0
"""Under a knee a panel may sag its span over this (common practice)."""

STRENGTH_SHARE = 0.5
"""Share of the handbook bending strength a knee may use (a prudent proposal)."""

GRAVITY = 9.80665

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
    size_u, size_v = min(KNEE, u), min(KNEE, v)
    knee = Patch(KNEE_N * size_u * size_v / KNEE**2, size_u, size_v)
    weight = board.thickness * board.density_kg_m3 * 1e-9 * GRAVITY
    pressure = weight + load_kg * GRAVITY / (u * v)
    bent = plate_response(plate, pressure, knee)
    if bent.deflection > span / SAG_SHARE:
        return False
    strong, weak = board.strength_along_mpa, board.strength_across_mpa
    if strong is None or weak is None:
        return True
    strength_u, strength_v = (strong, weak) if along else (weak, strong)
    use = max(bent.stress_u_mpa / strength_u, bent.stress_v_mpa / strength_v)
    return use <= STRENGTH_SHARE


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
    if along is None or across is None:
        return None
    inertia = second_moment(board.thickness, height)
    bent = centre_load(span, KNEE_N, inertia * (along + across) / 2.0)
    if bent.deflection > span / SAG_SHARE:
        return False
    strong, weak = board.strength_along_mpa, board.strength_across_mpa
    if strong is None or weak is None:
        return True
    stress = bending_stress_mpa(bent.moment_nmm, height, inertia)
    return stress <= STRENGTH_SHARE * (strong + weak) / 2.0


def parted(start: float, end: float, count: int, width: float) -> tuple[float, ...]:
    """Where `count` − 1 supports of that width begin that part a stretch into equal fields."""
    field = (end - start - (count - 1) * width) / count
    return tuple(start + i * field + (i - 1) * width for i in range(1, count))
