"""Wishes along one direction: met where they can be, broken lightest first, conflicts named."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.arrange.wishes import Goal, Line, Wish, conflicts, solve, variable

A, B, C = variable("a"), variable("b"), variable("c")


def at_least(text: str, line: Line, weight: float = 1.0, gives: bool = True) -> Wish:
    return Wish(text=text, line=line, weight=weight, gives=gives)


def equal(text: str, line: Line, weight: float = 1.0, gives: bool = True) -> Wish:
    return Wish(text=text, line=line, equal=True, weight=weight, gives=gives)


def test_lines_add_up() -> None:
    line = A + B - C - 3.0 + 1.0
    assert line.value({"a": 10.0, "b": 5.0, "c": 2.0}) == 11.0
    assert (line - line).value({"a": 10.0, "b": 5.0, "c": 2.0}) == 0.0


def test_how_much_a_wish_is_broken() -> None:
    assert at_least("", A - 10.0).broken_by({"a": 12.0}) == 0.0
    assert at_least("", A - 10.0).broken_by({"a": 7.0}) == 3.0
    assert equal("", A - 10.0).broken_by({"a": 12.0}) == 2.0


def test_wishes_that_go_together_are_met_and_goals_decide_the_rest() -> None:
    wishes = [equal("", B - A - 50.0), at_least("", A - 20.0), at_least("", Line((), 300.0) - B)]
    assert solve(wishes, [Goal(A)]) == {"a": 20.0, "b": 70.0}
    assert solve(wishes, [Goal(B - 1000.0)]) == {"a": 250.0, "b": 300.0}
    assert conflicts("across", wishes, solve(wishes, [Goal(A)])) == ()


def test_of_two_goals_the_heavier_wins() -> None:
    limits = [at_least("", A), at_least("", Line((), 100.0) - A)]
    assert solve(limits, [Goal(A, 1.0), Goal(A - 100.0, 2.0)]) == {"a": 100.0}
    assert solve(limits, [Goal(A, 2.0), Goal(A - 100.0, 1.0)]) == {"a": 0.0}


def test_goals_never_break_a_wish() -> None:
    assert solve([at_least("", A - 5.0, weight=0.5)], [Goal(A, 900.0)]) == {"a": 5.0}


def test_the_lightest_wish_is_broken() -> None:
    wishes = [
        equal("size", B - A - 500.0, weight=100.0),
        equal("stands", A, weight=100.0),
        at_least("limit", Line((), 470.0) - B, weight=1.0),
    ]
    at = solve(wishes, [])
    assert at == {"a": 0.0, "b": 500.0}
    (conflict,) = conflicts("upwards", wishes, at)
    assert conflict.by == pytest.approx(30.0)
    assert [w.text for w in conflict.wishes] == ["size", "stands", "limit"]


def stuck_between(low: float, high: float, size: float) -> list[Wish]:
    return [
        at_least("low end", A - low, gives=False),
        at_least("high end", Line((), high) - B, gives=False),
        equal("size", B - A - size, weight=100.0),
        at_least("elsewhere", C - 7.0),
    ]


def test_a_violation_shared_between_two_limits_is_one_conflict() -> None:
    """Centred, 1300 in 1200 sticks out by 50 at either end: they collide by 100."""
    wishes = stuck_between(-600.0, 600.0, 1300.0)
    at = solve(wishes, [Goal(A + B)])
    assert (at["a"], at["b"]) == (-650.0, 650.0)
    (conflict,) = conflicts("across", wishes, at)
    assert conflict.by == pytest.approx(100.0)
    assert [w.text for w in conflict.wishes] == ["low end", "high end", "size"]


def test_the_sentence_names_the_wishes_the_millimetres_and_what_could_give() -> None:
    wishes = stuck_between(-600.0, 600.0, 1300.0)
    (conflict,) = conflicts("across", wishes, solve(wishes, []))
    assert conflict.sentence == (
        "Across, these wishes collide by 100.0 mm: low end; high end; size. "
        "One of these could give: size."
    )


def test_a_conflict_of_what_can_not_give_offers_no_cure() -> None:
    wishes = [equal("one", A, gives=False), at_least("two", A - 4.5, gives=False)]
    (conflict,) = conflicts("fore and aft", wishes, solve(wishes, []))
    assert conflict.sentence == "Fore and aft, these wishes collide by 4.5 mm: one; two."


def test_conflicts_apart_are_told_apart() -> None:
    """Two modules, each too high by an amount of its own, and one wish they do not share."""
    wishes = [
        equal("a is 300", A - 300.0, weight=100.0),
        equal("b is 450", B - 450.0, weight=100.0),
        at_least("a under 280", Line((), 280.0) - A),
        at_least("b under 400", Line((), 400.0) - B),
        at_least("c", C),
    ]
    found = conflicts("upwards", wishes, solve(wishes, []))
    assert [(c.by, [w.text for w in c.wishes]) for c in found] == [
        (20.0, ["a is 300", "a under 280"]),
        (50.0, ["b is 450", "b under 400"]),
    ]


def test_a_shared_wish_is_named_in_each_conflict() -> None:
    """One level can't be the top of a thing 300 and of a thing 600 high."""
    wishes = [
        equal("level", C - 500.0, weight=10.0),
        equal("a is 600", A - 600.0, weight=100.0),
        equal("b is 300", B - 300.0, weight=100.0),
        equal("a's top", A - C, weight=10.0),
        equal("b's top", B - C, weight=10.0),
    ]
    found = conflicts("upwards", wishes, solve(wishes, []))
    assert {(c.by, tuple(w.text for w in c.wishes)) for c in found} == {
        (100.0, ("level", "a is 600", "a's top")),
        (200.0, ("level", "b is 300", "b's top")),
    }


@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.floats(1.0, 400.0), min_size=1, max_size=6),
    st.floats(0.0, 20.0),
    st.floats(-300.0, 500.0),
)
def test_a_row_of_sizes_collides_by_what_it_exceeds_the_room(
    sizes: list[float], gap: float, spare: float
) -> None:
    """Whatever the numbers: no conflict where all fits, else one that names them all."""
    room = max(1.0, sum(sizes) + gap * (len(sizes) - 1) + spare)
    excess = sum(sizes) + gap * (len(sizes) - 1) - room
    wishes: list[Wish] = []
    for i, size in enumerate(sizes):
        low, high = variable(f"{i}.low"), variable(f"{i}.high")
        wishes.append(equal(f"size {i}", high - low - size, weight=100.0))
        if i:
            wishes.append(
                at_least(f"order {i}", low - variable(f"{i - 1}.high") - gap, weight=10.0)
            )
    wishes.append(at_least("first", variable("0.low")))
    wishes.append(at_least("last", Line((), room) - variable(f"{len(sizes) - 1}.high")))
    goals = [Goal(variable(f"{i}.low") - 37.3) for i in range(len(sizes))]
    found = conflicts("across", wishes, solve(wishes, goals))
    if excess <= 1e-4:
        assert excess > -1e-4 or found == ()
        return
    (conflict,) = found
    assert conflict.by == pytest.approx(excess, abs=1e-4)
    assert len(conflict.wishes) == len(wishes)
