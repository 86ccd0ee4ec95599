"""What governs a module, told in one line."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.strength import check_strength
from fitout.model.finding import Severity
from fitout.model.module import PlateDuty
from fitout.model.panel import Grain

Make = Callable[..., Any]


@pytest.fixture
def shelves(subject: Make, module: Make, panel: Make) -> Callable[..., list[Any]]:
    """What is found on two shelves of the test board, carrying so much."""

    def make(*loads: float, **entries: Any) -> list[Any]:
        names = [f"a/shelf {n}" for n in range(len(loads))]
        parts = [panel(name, (0.0, 600.0), (0.0, 400.0), 100.0 * k, grain=Grain.ALONG_U, **entries)
                 for k, name in enumerate(names)]  # fmt: skip
        duties = tuple(
            PlateDuty(panel=name, load_kg=kg, spans=(600.0, 400.0), edges="u ends", purpose="goods")
            for name, kg in zip(names, loads, strict=True)
        )
        return list(check_strength(subject(module("a", *parts, plates=duties))))

    return make


def test_the_one_that_uses_most_governs(shelves: Make) -> None:
    summary, *details = shelves(5.0, 10.0)
    assert (summary.code, summary.where, summary.limit) == ("strength", "a", 100.0)
    worst = max(details, key=lambda f: f.value / f.limit)
    assert worst.where == "a/shelf 1"
    assert summary.value == pytest.approx(100.0 * worst.value / worst.limit, abs=1e-2)
    assert "final sag of shelf 1 governs" in summary.sentence
    assert "; next " in summary.sentence
    assert summary.severity is Severity.PASS


def test_what_fails_is_told_with_its_cure_once(shelves: Make) -> None:
    summary, *details = shelves(40.0)
    assert summary.severity is Severity.FAIL
    failing = [f for f in details if f.severity is Severity.FAIL]
    assert len(failing) > 1
    assert summary.sentence.count("would do") == failing[0].sentence.count("would do")


def test_what_could_not_be_checked_is_told(shelves: Make, board: Any) -> None:
    import dataclasses

    bare = dataclasses.replace(board, e_along_mpa=None)
    assert [f.severity for f in shelves(5.0, board=bare)] == [Severity.UNCHECKED]


def test_a_module_that_carries_nothing_has_no_line(subject: Make, module: Make) -> None:
    assert list(check_strength(subject(module("a")))) == []


@pytest.mark.parametrize("name", ["touring-wagon", "canopy-tub", "small-hatch"])
def test_each_example_tells_what_governs(demo: Make, name: str) -> None:
    found = list(check_strength(demo(name)))
    summaries = [f for f in found if f.code == "strength"]
    assert len(summaries) >= 2
    for summary in summaries:
        assert summary.severity is Severity.PASS
        mine = [f for f in found if f is not summary and f.where.startswith(f"{summary.where}/")]
        shares = [f.value / f.limit for f in mine if f.value is not None and f.limit]
        assert summary.value == pytest.approx(100.0 * max(shares), abs=0.01)
