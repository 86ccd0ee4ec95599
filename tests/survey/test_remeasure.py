"""What a further note would bring, against actually adding it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from statistics import NormalDist

import numpy as np
import pytest

from fitout.survey.adjustment import Adjustment, Array, Observation, adjust
from fitout.survey.remeasure import Gap, determining, need, rank

NAMES = ("a", "b", "c")
NOMINAL = np.array([500.0, 400.0, 300.0])


def of(
    row: Sequence[float],
    u: float = 1.0,
    *,
    name: str = "note",
    group: str = "",
    shared: float = 0.0,
) -> Observation:
    return Observation(
        name=name,
        path=("notes",),
        value=float(np.dot(row, NOMINAL)),
        u=u,
        predict=lambda x: float(np.dot(row, x)),
        on=tuple(k for k, share in enumerate(row) if share),
        group=group,
        shared=shared,
    )


NOTES = (
    of([1, 0, 0], 2.0, name="a", group="a", shared=0.8),
    of([0, 1, 0], 1.0, name="b"),
    of([0, 0, 1], 3.0, name="c"),
    of([1, 1, 0], 2.0, name="a and b"),
    of([0, 1, 1], 2.0, name="b and c"),
)
FURTHER = (
    of([1, 0, 0], 2.0, name="a again", group="a", shared=0.8),
    of([0, 0, 1], 1.0, name="c again"),
    of([1, 1, 1], 1.5, name="all"),
    of([0, 1, 0], 50.0, name="b, paced out"),
)
GAPS = np.array([[1.0, 0.0, -1.0], [0.0, 0.0, 1.0]])


def adjusted(notes: Sequence[Observation]) -> Adjustment:
    return adjust(notes, NOMINAL, NAMES)


def sure(adjustment: Adjustment, gaps: Array = GAPS) -> Array:
    u: Array = np.sqrt(adjustment.variance(gaps))
    return u


def test_what_is_promised_is_what_adding_the_note_brings() -> None:
    now = adjusted(NOTES)
    advice = rank(FURTHER, now, GAPS, count=4)
    assert len(advice) >= 3
    for each in advice:
        later = adjusted([*NOTES, FURTHER[each.index]])
        assert each.name == FURTHER[each.index].name
        assert each.before == pytest.approx(sure(now))
        assert each.after == pytest.approx(sure(later))
        assert each.reductions == pytest.approx(sure(now) - sure(later))


def test_best_first_and_no_more_than_asked_for() -> None:
    now = adjusted(NOTES)
    best = rank(FURTHER, now, GAPS, count=2)
    assert [each.name for each in best] == ["c again", "all"]
    totals = [sum(each.reductions) for each in rank(FURTHER, now, GAPS, count=9)]
    assert totals == sorted(totals, reverse=True)


def test_how_well_notes_check_each_other_is_what_adding_the_note_brings() -> None:
    notes = [replace(note, group="", shared=0.0) for note in NOTES]
    candidate = replace(FURTHER[0], group="", shared=0.0)
    (advice,) = rank([candidate], adjusted(notes), GAPS)
    later = adjusted([*notes, candidate])
    assert advice.redundancy_before == pytest.approx(np.min(adjusted(notes).redundancy))
    assert advice.redundancy == pytest.approx(np.min(later.redundancy[:5]))
    assert advice.detectable == pytest.approx(np.max(later.detectable[:5]))


def test_a_repeat_makes_an_unchecked_note_checked() -> None:
    """Neither note lowers the gap's uncertainty to speak of; one of them checks it."""
    notes = [of([1, 0, 0], 1.0), of([0, 1, 0], 1.0), of([0, 0, 1], 1.0)]
    gap = np.array([[1.0, 0.0, 0.0]])
    rough = of([1, 0, 0], 100.0, name="a, paced out")
    elsewhere = of([0, 0, 1], 1.0, name="c again")
    best = rank([elsewhere, rough], adjusted(notes), gap)
    assert [each.name for each in best] == []
    better = of([1, 0, 0], 6.0, name="a, by eye")
    (advice,) = rank([elsewhere, better], adjusted(notes), gap)
    assert advice.name == "a, by eye"
    assert advice.redundancy_before == pytest.approx(0.0)
    assert advice.redundancy == pytest.approx(1.0 / 37.0)
    assert advice.detectable == pytest.approx(4.13 * math.sqrt(37.0))


def test_what_was_unknown_becomes_known() -> None:
    now = adjusted([NOTES[0], NOTES[1]])
    advice = rank(FURTHER, now, np.array([[0.0, 0.0, 1.0]]), count=9)
    assert [each.name for each in advice[:2]] == ["c again", "all"]
    assert math.isinf(advice[0].before[0])
    assert math.isinf(advice[0].reductions[0])
    assert advice[0].after[0] == pytest.approx(1.0, rel=1e-4)
    # Of a gap that stays unknown nothing is promised.
    still = rank([FURTHER[0]], now, np.array([[0.0, 0.0, 1.0], [1.0, 0.0, 0.0]]))
    assert still[0].reductions[0] == 0.0


def test_the_unknown_and_the_exact_side_by_side() -> None:
    """One number held by nothing, another by definition; the gap is as sure as it is."""
    notes = [of([1, 0, 0], 0.005), of([0, 1, -1], 2.0, name="b over c")]
    now = adjusted(notes)
    gap = np.array([[1.0, 1.0, -1.0]])
    (advice,) = rank([of([0, 1, -1], 2.0, name="again")], now, gap)
    assert advice.before == pytest.approx([math.hypot(0.005, 2.0)])
    assert advice.after == pytest.approx([math.hypot(0.005, math.sqrt(2.0))])


def test_candidates_that_would_determine() -> None:
    now = adjusted([NOTES[0], of([0, 1, 1])])
    assert determining(FURTHER, now) == ((1, 3),)
    assert determining(FURTHER, adjusted(NOTES)) == ()
    assert determining([], now) == ((),)


def test_nothing_to_take() -> None:
    assert rank([], adjusted(NOTES), GAPS) == ()
    plan = need([], adjusted(NOTES), Gap(nominal=1.0, gradient=GAPS[1]))
    assert plan.readings == ()
    assert not plan.reached


@pytest.mark.parametrize("shared", [0.0, 0.8])
def test_so_many_repeats_as_the_formula_says(shared: float) -> None:
    """One note on the gap, u 2 mm, of which `shared` stays however often it is repeated."""
    group = "a" if shared else ""
    again = of([1, 0, 0], 2.0, name="a again", group=group, shared=shared)
    now = adjusted([again, of([0, 1, 0]), of([0, 0, 1])])
    nominal, other = 2.6, 0.5
    plan = need([again], now, Gap(nominal=nominal, gradient=np.array([1.0, 0, 0]), other_u=other))

    def probability(readings: int) -> float:
        u = math.sqrt(other**2 + shared**2 + (4.0 - shared**2) / readings)
        return NormalDist().cdf(nominal / u)

    times = next(n for n in range(1, 20) if probability(n) > 0.95) - 1
    assert times >= 1
    assert plan.readings == ((0, times),)
    assert plan.before == pytest.approx(probability(1))
    assert plan.probability == pytest.approx(probability(1 + times))
    assert plan.reached


def test_different_notes_may_be_asked_for() -> None:
    gap = Gap(nominal=2.0, gradient=np.array([1.0, 0.0, -1.0]))
    now = adjusted(NOTES)
    plan = need(FURTHER, now, gap, most=20)
    assert plan.reached
    assert len(plan.readings) > 1
    taken = [FURTHER[k] for k, times in plan.readings for _ in range(times)]
    u = sure(adjusted([*NOTES, *taken]), np.array([[1.0, 0.0, -1.0]]))[0]
    assert plan.probability == pytest.approx(NormalDist().cdf(2.0 / u))


@pytest.mark.parametrize(("nominal", "other"), [(-1.0, 0.0), (0.0, 0.0), (1.0, 1.0)])
def test_no_reading_is_asked_for_in_vain(nominal: float, other: float) -> None:
    """A clash stays one, and what cutting leaves unsure no tape can settle."""
    gap = Gap(nominal=nominal, gradient=np.array([1.0, 0.0, 0.0]), other_u=other)
    plan = need(FURTHER, adjusted(NOTES), gap)
    assert plan.readings == ()
    assert not plan.reached


def test_repeats_that_do_not_suffice_are_said_not_to() -> None:
    again = of([1, 0, 0], 2.0, name="a again", group="a", shared=1.9)
    now = adjusted([again, of([0, 1, 0]), of([0, 0, 1])])
    plan = need([again], now, Gap(nominal=2.6, gradient=np.array([1.0, 0, 0])), most=5)
    assert not plan.reached
    assert plan.probability < 0.95


def test_a_gap_the_bay_has_no_part_in() -> None:
    gap = Gap(nominal=1.0, gradient=np.zeros(3))
    assert need(FURTHER, adjusted(NOTES), gap).probability == 1.0
