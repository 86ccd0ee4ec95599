"""Which note is wrong, and when nothing says which."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from fitout.survey.adjustment import Array, Observation, adjust
from fitout.survey.snooping import CRITICAL, Snooped, snoop, told_apart

CORNERS = np.array([(0.0, 0.0), (1046.0, 0.0), (1060.0, 1040.0), (-12.0, 1033.0)])
KITE = ((0, 1), (1, 2), (2, 3), (3, 0), (0, 2), (1, 3))
"""Four sides and two diagonals."""

TWICE = (*KITE, (0, 2), (1, 3))
"""The diagonals read twice. Still, the widths at both ends are hard to tell apart."""

LEVELS = {"sill": 0, "mid": 1, "front": 2}
RING = (
    ("base", "front"),
    ("front", "mid"),
    ("mid", "sill"),
    ("sill", "base"),
    ("base", "sill"),
    ("sill", "mid"),
    ("mid", "front"),
    ("front", "base"),
    ("base", "mid"),
)
RISES = (-1200.1, -798.0, 1300.5, 689.0, -687.2, -1300.0, 799.0, 1199.9, -2000.6)
"""True: base 0, sill −700, mid −2000, front −1200; the fourth and fifth are 11 and 13 mm off."""


def corner(x: Array, k: int) -> tuple[float, float]:
    """The first corner is the origin, the second lies straight across from it."""
    return ((0.0, 0.0), (x[0], 0.0), (x[1], x[2]), (x[3], x[4]))[k]


UNKNOWNS = ((), (0,), (1, 2), (3, 4))
NAMES = ("x1", "x2", "y2", "x3", "y3")
START = np.array([1050.0, 1050.0, 1050.0, 0.0, 1050.0])


def span(i: int, j: int, error: float = 0.0, name: str = "") -> Observation:
    return Observation(
        name=name or f"{i} to {j}",
        path=("notes", f"{i} {j}"),
        value=math.dist(CORNERS[i], CORNERS[j]) + error,
        u=1.0,
        predict=lambda x: math.dist(corner(x, i), corner(x, j)),
        on=tuple(sorted({*UNKNOWNS[i], *UNKNOWNS[j]})),
    )


def offset(k: int, error: float = 0.0) -> Observation:
    """Square off the sill's line to a corner."""
    unknown = UNKNOWNS[k][1]
    return Observation(
        name=f"square to {k}",
        path=("notes", f"square {k}"),
        value=CORNERS[k][1] + error,
        u=1.0,
        predict=lambda x: float(x[unknown]),
        on=(unknown,),
    )


def rises(values: Sequence[float] = RISES) -> list[Observation]:
    def rise(a: str, b: str) -> Observation:
        def height(x: Array, point: str) -> float:
            return float(x[LEVELS[point]]) if point in LEVELS else 0.0

        return Observation(
            name=f"{a} to {b}",
            path=("notes",),
            value=0.0,
            u=1.0,
            predict=lambda x: height(x, b) - height(x, a),
            on=tuple(sorted(LEVELS[p] for p in (a, b) if p in LEVELS)),
        )

    return [replace(rise(*pair), value=value) for pair, value in zip(RING, values, strict=True)]


def snooped(notes: Sequence[Observation], candidates: Sequence[Observation] = ()) -> Snooped:
    return snoop(notes, START, NAMES, candidates=candidates)


def test_honest_notes_stay() -> None:
    notes = [*(span(i, j, error) for (i, j), error in zip(KITE, (1, -1, 0, 1, 0, -1), strict=True))]
    found = snooped([*notes, offset(2), offset(3)])
    assert not found.blunders
    assert not found.suspects
    assert found.kept == tuple(range(8))
    assert found.adjustment.consistent


@pytest.mark.parametrize("wrong", [1, 3, 4, 5, 6, 7, 8, 9])
@pytest.mark.parametrize("error", [30.0, -30.0])
def test_one_wrong_note_is_named_with_its_likely_value(wrong: int, error: float) -> None:
    errors = [0.0] * 10
    errors[wrong] = error
    notes = [span(i, j, e) for (i, j), e in zip(TWICE, errors, strict=False)]
    notes += [offset(2, errors[8]), offset(3, errors[9])]
    found = snooped(notes)
    (blunder,) = found.blunders
    assert (blunder.index, blunder.name) == (wrong, notes[wrong].name)
    assert blunder.difference == pytest.approx(error, abs=0.01)
    assert blunder.likely == pytest.approx(notes[wrong].value - error, abs=0.01)
    assert 0.3 < blunder.u < 3.0
    # What it is without the note, over how sure both are, is the test with the note in.
    over = -error / math.hypot(1.0, blunder.u)
    assert blunder.w == pytest.approx(over, rel=0.05)
    assert abs(blunder.w) > CRITICAL
    assert found.kept == tuple(i for i in range(10) if i != wrong)
    assert found.adjustment.pvv < 0.01


def test_two_wrong_notes_are_both_named() -> None:
    errors = (0.0, 30.0, 0.0, 0.0, 0.0, -20.0, 0.0, 0.0)
    notes = [span(i, j, e) for (i, j), e in zip(TWICE, errors, strict=True)]
    found = snooped([*notes, offset(2), offset(3)])
    assert sorted(blunder.index for blunder in found.blunders) == [1, 5]


def test_a_good_note_set_aside_at_first_is_taken_back() -> None:
    """Two errors point at a third note; once both are out, that note is fine again."""
    notes = rises()
    names = tuple(LEVELS)
    out: list[int] = []
    while True:
        kept = [i for i in range(len(notes)) if i not in out]
        w = np.abs(adjust([notes[i] for i in kept], np.zeros(3), names).standardised)
        if np.max(w) <= CRITICAL:
            break
        out.append(kept[int(np.argmax(w))])
    assert sorted(out) == [3, 4, 8], "the case no longer shows what it is for"
    found = snoop(notes, np.zeros(3), names)
    assert sorted(blunder.index for blunder in found.blunders) == [3, 4]
    for blunder in found.blunders:
        assert blunder.difference == pytest.approx({3: -11.0, 4: 12.8}[blunder.index], abs=1.5)


def test_four_sides_and_two_diagonals_name_none() -> None:
    notes = [span(i, j, 30.0 if (i, j) == (1, 2) else 0.0) for i, j in KITE]
    found = snooped(notes)
    assert not found.blunders
    (suspect,) = found.suspects
    assert suspect.indices == tuple(range(6))
    assert suspect.told_by == ()
    assert len(found.kept) == 6
    # Each says what it would be were it the wrong one; for the wrong one that is the truth.
    assert suspect.notes[1].difference == pytest.approx(30.0, abs=0.01)


def test_the_further_notes_asked_for_do_tell() -> None:
    notes = [span(i, j, 30.0 if (i, j) == (1, 2) else 0.0) for i, j in KITE]
    candidates = [*(span(i, j, name=f"{i} to {j} again") for i, j in KITE), offset(2), offset(3)]
    (suspect,) = snooped(notes, candidates).suspects
    assert 1 <= len(suspect.told_by) <= 6
    found = snooped([*notes, *(candidates[k] for k in suspect.told_by)])
    assert not found.suspects
    assert [blunder.index for blunder in found.blunders] == [1]


def test_two_readings_that_differ_say_no_more_than_that() -> None:
    names, start = ("width",), np.array([1000.0])
    *two, third = readings(1046.0, 1016.0, 1045.0)
    found = snoop(two, start, names, candidates=[third])
    assert not found.blunders
    assert found.suspects[0].indices == (0, 1)
    assert found.suspects[0].told_by == (0,)
    found = snoop([*two, third], start, names)
    assert [blunder.index for blunder in found.blunders] == [1]
    assert found.blunders[0].likely == pytest.approx(1045.5)


def test_what_is_undetermined_does_not_hinder() -> None:
    """Nothing says where the fourth corner is; a contradiction elsewhere is still found."""
    notes = [span(0, 1, error) for error in (0.0, 0.5, 30.0)]
    found = snooped(notes)
    assert [blunder.index for blunder in found.blunders] == [2]
    assert len(found.adjustment.undetermined) == 4


def test_a_candidate_that_holds_nothing_yet_determined_can_t_tell() -> None:
    notes = [span(0, 1), span(0, 1, 30.0)]
    (suspect,) = snooped(notes, [span(1, 2)]).suspects
    assert suspect.told_by == ()


def readings(*values: float) -> list[Observation]:
    return [
        Observation(
            name=f"reading {i}",
            path=("notes",),
            value=value,
            u=1.0,
            predict=lambda x: float(x[0]),
            on=(0,),
        )
        for i, value in enumerate(values)
    ]


def test_one_is_named_only_if_twenty_times_likelier() -> None:
    """Of three readings the outer two are equally suspicious if the third lies between them."""
    start = np.array([1000.0])
    between = snoop(readings(1000.0, 1002.0, 1005.3), start, ("width",))
    assert not between.blunders
    assert between.suspects[0].indices == (0, 2)
    near = snoop(readings(1000.0, 1000.5, 1005.3), start, ("width",))
    assert [blunder.index for blunder in near.blunders] == [2]


def test_two_errors_of_a_size_in_unrelated_notes_are_two() -> None:
    values = (1000.0, 1000.0, 1000.0, 1030.0), (500.0, 500.0, 500.0, 530.1)
    widths, depths = readings(*values[0]), readings(*values[1])
    depths = [replace(note, predict=lambda x: float(x[1]), on=(1,)) for note in depths]
    found = snoop([*widths, *depths], np.array([990.0, 490.0]), ("width", "depth"))
    assert sorted(blunder.index for blunder in found.blunders) == [3, 7]
    assert not found.suspects


@pytest.mark.parametrize("wrong", [0, 2])
def test_widths_at_both_ends_can_t_be_told_from_the_diagonals_alone(wrong: int) -> None:
    notes = [span(i, j, 30.0 if k == wrong else 0.0) for k, (i, j) in enumerate(TWICE)]
    notes += [offset(2), offset(3)]
    again = [span(0, 1, name="0 to 1 again"), offset(2)]
    (suspect,) = snooped(notes, again).suspects
    assert suspect.indices == (0, 2)
    assert suspect.told_by == (0,)
    found = snooped([*notes, again[0]])
    assert [blunder.index for blunder in found.blunders] == [wrong]


def test_no_notes() -> None:
    found = snooped([])
    assert found.kept == ()
    assert not found.blunders


def test_a_note_that_nothing_checks_is_told_from_others_by_a_repeat_only() -> None:
    """Its error shows nowhere as things are: no number is divided by none."""

    def read(k: int, name: str) -> Observation:
        return Observation(
            name=name, path=(name,), value=100.0, u=1.0, predict=lambda x: float(x[k]), on=(k,)
        )

    notes = [read(0, "alone"), read(1, "checked"), read(1, "checks")]
    adjustment = adjust(notes, np.array([100.0, 100.0]), ("x", "y"))
    candidates = [read(1, "checked again"), read(0, "alone again")]
    assert told_apart(adjustment, (0, 1), candidates) == (1,)
    assert told_apart(adjustment, (0, 1), candidates[:1]) == ()
