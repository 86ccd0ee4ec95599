"""A made-up bay with known truth and redundant notes, for surveys simulated by the thousand."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
import pytest

from fitout.survey.adjustment import Array, Observation
from fitout.survey.tape import level_u_deg, reading

STATIONS = range(4)
LENGTH = 1040.0


@dataclass(frozen=True, slots=True)
class Survey:
    """Notes of a bay with this truth, each note's value being the true one."""

    names: tuple[str, ...]
    truth: Array
    notes: tuple[Observation, ...]

    def read(self, values: Sequence[float]) -> list[Observation]:
        """The notes with other readings."""
        return [replace(n, value=float(v)) for n, v in zip(self.notes, values, strict=True)]


def corner(k: int, side: str) -> tuple[int, ...]:
    """Positions of a floor corner's unknowns: the sill's two share their width."""
    return (0,) if k == 0 else tuple(4 * k - 3 + i + (2 if side == "right" else 0) for i in (0, 1))


def place(x: Array, k: int, side: str) -> tuple[float, float]:
    """A floor corner: the sill lies across the bay and its middle is the origin."""
    if k == 0:
        return 0.0, float(x[0]) / 2.0 * (1.0 if side == "left" else -1.0)
    forward, leftward = corner(k, side)
    return float(x[forward]), float(x[leftward])


def unknowns() -> dict[str, float]:
    """Floor corners at four stations, widths and heights above, seat back, wheel arches."""
    truth = {"sill width": 1046.0}
    for k, half in ((1, 531.0), (2, 538.0), (3, 529.0)):
        at = LENGTH * k / 3.0
        truth |= {f"left {k} x": at + 4.0, f"left {k} y": half + 3.0}
        truth |= {f"right {k} x": at - 3.0, f"right {k} y": -half + 1.0}
    truth |= {f"upper width {k}": 1012.0 + 4.0 * k for k in STATIONS}
    truth |= {f"height {k}": 846.0 + 7.0 * k for k in STATIONS}
    truth |= {"seat foot": 1064.0, "seat leans": 17.0}
    return truth | {"between": 968.0, "arch height": 262.0, "arch from": 318.0, "arch to": 842.0}


def distance(a: tuple[int, str], b: tuple[int, str]) -> Callable[[Array], float]:
    """Straight from one floor corner to another."""
    return lambda x: math.dist(place(x, *a), place(x, *b))


def floor_notes() -> list[tuple[str, Callable[[Array], float], tuple[int, ...]]]:
    """Widths, sides and diagonals of the floor."""
    pairs = [((k, "left"), (k, "right")) for k in STATIONS]
    for j, k in ((0, 1), (1, 2), (2, 3), (0, 2), (1, 3), (0, 3)):
        if (j, k) != (0, 2):
            pairs += [((j, side), (k, side)) for side in ("left", "right")]
        pairs += [((j, "left"), (k, "right")), ((j, "right"), (k, "left"))]
    return [
        (
            f"{a} {j} - {b} {k}",
            distance((j, a), (k, b)),
            tuple(sorted({*corner(j, a), *corner(k, b)})),
        )
        for (j, a), (k, b) in pairs
    ]


def single_notes() -> list[tuple[str, Callable[[Array], float], tuple[int, ...]]]:
    """Widths and heights above, across the section, depths, arches."""
    at = {name: i for i, name in enumerate(unknowns())}
    notes: list[tuple[str, Callable[[Array], float], tuple[int, ...]]] = []

    def straight(name: str, times: int) -> None:
        k = at[name]
        notes.extend((f"{name}, {i}", lambda x: float(x[k]), (k,)) for i in range(times))

    def across(k: int) -> None:
        wide, high = at[f"upper width {k}"], at[f"height {k}"]
        on = tuple(sorted({*corner(k, "left"), *corner(k, "right"), wide, high}))

        def slant(x: Array) -> float:
            floor = math.dist(place(x, k, "left"), place(x, k, "right"))
            return math.hypot((floor + float(x[wide])) / 2.0, float(x[high]))

        ways = ("left to right", "right to left")
        notes.extend((f"section {k} corner to corner, {way}", slant, on) for way in ways)

    def depth(z: float) -> None:
        foot, lean = at["seat foot"], at["seat leans"]
        notes.append(
            (
                f"depth at {z:g}",
                lambda x: float(x[foot]) + z * math.tan(math.radians(float(x[lean]))),
                (foot, lean),
            )
        )

    for k in STATIONS:
        straight(f"upper width {k}", 1)
        straight(f"height {k}", 1)
        across(k)
    for z in (0.0, 300.0, 600.0):
        depth(z)
    straight("between", 3)
    straight("arch height", 3)
    for name in ("arch from", "arch to"):
        straight(name, 2)
    return notes


@pytest.fixture(scope="session")
def made_up_bay() -> Survey:
    """27 unknowns and far more notes than that, read with a class II tape off a hook."""
    truth = unknowns()
    values = np.array(list(truth.values()))
    notes = [
        Observation(
            name=name,
            path=("bay", "survey", "notes", i),
            value=predict(values),
            u=reading(predict(values), hooked=True).u,
            predict=predict,
            on=on,
        )
        for i, (name, predict, on) in enumerate([*floor_notes(), *single_notes()])
    ]
    lean = list(truth).index("seat leans")
    level = Observation(
        name="seat back's angle",
        path=("bay", "survey", "notes", len(notes)),
        value=truth["seat leans"],
        u=level_u_deg(),
        predict=lambda x: float(x[lean]),
        on=(lean,),
    )
    return Survey(tuple(truth), values, (*notes, level))
