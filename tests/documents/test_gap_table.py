"""Gaps as a table within 80 columns, and as data."""

import dataclasses
from collections.abc import Sequence
from statistics import NormalDist

import numpy as np
import pytest

from fitout.checks.stack import Driver, Stack
from fitout.documents.gap_table import DRIVERS, SHOWN, gap_lines, gap_object

DRIVEN = (
    ("size of tank", 5.0),
    ("how tank/tank and tank/base, which is long, are joined at this end", 1.0),
    ("lean of the seat back", 4.0),
    ("cut of tank/base", 0.5),
)
"""Names, and uncertainties whose squares are their shares."""


def row(
    name: str = "tank – bay/seat back",
    probability: float = 0.97,
    gap: float = 5.0,
    driven: Sequence[tuple[str, float]] = DRIVEN,
) -> Stack:
    """A gap as made; its uncertainty is what makes it so probable."""
    return Stack(
        name=name,
        gap=gap,
        gradient=np.zeros(1),
        worst=-3.25,
        rss=3.31,
        u=gap / NormalDist().inv_cdf(probability),
        other_u=1.0,
        drivers=tuple(Driver(called, u) for called, u in driven),
        up=300.0,
    )


def lines(*rows: Stack, left_out: str = "") -> list[str]:
    return list(gap_lines(rows, left_out))


def test_a_gap_and_what_it_hangs_on() -> None:
    found = lines(row())
    at = found.index("-" * 80)
    assert found[at - 1].split() == ["between", "gap", "worst", "±RSS", "u", "fits"]
    assert found[at + 1].startswith("tank – seat back  ")
    assert found[at + 1].split()[-6:] == ["5.0", "-3.2", "3.3", "2.7", "97.0", "%"]
    assert len(found[at + 1]) == len(found[at - 1]) == 80
    assert found[at + 2 :] == [
        "    size of tank 59 %; how tank/tank and tank/base, which is long, are joined at",
        "    this end 2 %; lean of the seat back 38 %",
    ]


def test_no_line_begins_with_a_percent_sign() -> None:
    for length in range(20, 60):
        found = lines(row(driven=(("x" * length, 2.0), ("y y " * 4, 1.0), ("z", 0.5))))
        assert not [line for line in found if line.strip().startswith("%")]
        assert not [line for line in found if "\u00a0" in line]


def test_long_names_and_many_gaps_stay_within_a_terminal() -> None:
    long = "bins right front/divider between compartments – right jamb of the opening"
    found = lines(*(row(f"{long} {k}", gap=100.0 + k) for k in range(12)))
    assert max(len(line) for line in found) <= 80


@pytest.mark.parametrize(("count", "told"), [(SHOWN, None), (SHOWN + 1, "1 more gap is"), (20, 1)])
def test_the_least_sure_are_shown_and_the_rest_counted(count: int, told: str | int | None) -> None:
    found = lines(*(row(f"gap {k:02d}", 0.9005 + k / 1000.0) for k in range(count)))
    shown = [line[:6] for line in found if line.startswith("gap 0")]
    assert shown == [f"gap {k:02d}" for k in range(SHOWN)]
    if told is None:
        assert "surer still" not in found[-1]
    else:
        words = told if isinstance(told, str) else f"{count - SHOWN} more gaps are"
        assert found[-1] == f"{words} surer still (90.8 % or more); --json lists them all."


def test_nothing_is_sure_to_the_last() -> None:
    found = lines(row("a – b", 1.0 - 1e-9), row("c – d", 0.94999))
    assert [line.split()[-2] for line in found if " – " in line] == ["99.9", "94.9"]


def test_without_gaps_the_reason_is_told() -> None:
    assert lines() == [
        "Gaps once made, least sure first",
        "Nothing that is built comes near anything else.",
    ]
    assert lines(left_out="Nothing is built.")[1:] == ["Nothing is built."]
    assert lines(row(), left_out="One clashes.")[-1] == "One clashes."


def test_data_holds_the_numbers_and_the_main_causes() -> None:
    gap = row(probability=0.812346)
    data = gap_object(gap)
    assert {k: v for k, v in data.items() if k != "drivers"} == {
        "name": "tank – seat back",
        "gap": 5.0,
        "drawn": 5.0,
        "as_built": [],
        "worst": -3.25,
        "rss": 3.31,
        "u": round(gap.u, 4),
        "probability": 0.8123,
    }
    drivers = data["drivers"]
    assert isinstance(drivers, list)
    assert len(drivers) == DRIVERS
    assert drivers[0] == {"name": "size of tank", "share": round(25.0 / 42.25, 4)}


def test_a_gap_that_counts_a_part_as_built_says_so() -> None:
    words = ("length of a long part's name/right side as built 1.0 mm over",)
    built = dataclasses.replace(row(gap=5.0), wider_as_built=-1.0, as_built=words)
    found = lines(built)
    assert f"drawn 6.0; counts the {words[0]}" in " ".join(" ".join(found).split())
    assert max(len(line) for line in found) <= 80
    data = gap_object(built)
    assert (data["gap"], data["drawn"], data["as_built"]) == (5.0, 6.0, list(words))
