"""Pull at slides, lift at lids and reach of stays, by hand-made modules."""

import dataclasses
from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.opening_force import check_opening_force
from fitout.mechanics.slides import ROLLING_SHARE
from fitout.model.finding import Severity
from fitout.model.hardware import Article
from fitout.model.module import Motion, MotionKind, SlideDuty, Stay

Make = Callable[..., Any]
G = 9.80665


def lid_motion(travel: float = 90.0) -> Motion:
    """Hinged along y at 500 forward, 112 up; its free edge lies to the rear."""
    return Motion(
        name="lid",
        module="a",
        kind=MotionKind.HINGE,
        direction=(0.0, 1.0, 0.0),
        point=(500.0, 0.0, 110.0),
        travel=travel,
    )


def with_stay(subject: Any, article: Article) -> Any:
    rows = subject.setting.catalogue
    more = dataclasses.replace(rows, articles={**rows.articles, article.key: article})
    return dataclasses.replace(
        subject, setting=dataclasses.replace(subject.setting, catalogue=more)
    )


def stay(article: str, out: float, aside: float, down: float) -> Stay:
    return Stay(
        motion="lid",
        article=article,
        lid="a/lid",
        side="a/side",
        on_lid=(500.0 - out, 10.0, 110.0),
        on_side=(500.0 - aside, 10.0, 110.0 - down),
    )


@pytest.fixture
def lid(panel: Make) -> Any:
    """400 long, 500 wide, 10 thick, 700 kg/m³: 1.4 kg."""
    return panel("a/lid", (100.0, 500.0), (0.0, 500.0), 100.0, moves="lid")


def test_a_drawer_is_pulled_with_the_share_of_what_it_weighs(
    subject: Make, module: Make, item: Make, only: Make
) -> None:
    drawer = item("a/drawer", (100.0, 500.0), (0.0, 300.0), (50.0, 150.0), moves="drawer")
    made = subject(module("a", drawer))
    slide = made.setting.catalogue.slides["full extension 500"]
    duty = SlideDuty(name="a/drawer", slide=slide, moving=("a/drawer",), contents_kg=36.0)
    again = subject(module("a", drawer, slides=(duty,)))
    (found,) = only(check_opening_force(again), "drawer pull")
    assert found.value == pytest.approx(40.0 * G * ROLLING_SHARE, abs=1e-3)
    assert found.severity is Severity.PASS
    assert found.limit == 100.0


@pytest.mark.parametrize(
    ("share", "severity"),
    [(0.12, Severity.PASS), (0.14, Severity.CAUTION), (0.3, Severity.FAIL)],
)
def test_the_slides_own_share_is_taken_and_a_hard_pull_told(
    subject: Make, module: Make, item: Make, only: Make, share: float, severity: Severity
) -> None:
    drawer = item("a/drawer", (100.0, 500.0), (0.0, 300.0), (50.0, 150.0), moves="drawer")
    row = subject(module("a", drawer)).setting.catalogue.slides["full extension 500"]
    slide = dataclasses.replace(row, rolling_share=share, source="a maker")
    duty = SlideDuty(name="a/drawer", slide=slide, moving=("a/drawer",), contents_kg=36.0)
    (found,) = only(
        check_opening_force(subject(module("a", drawer, slides=(duty,)))), "drawer pull"
    )
    assert found.severity is severity
    assert "a maker" in found.source


def test_a_lid_is_lifted_with_half_its_weight(
    subject: Make, module: Make, lid: Any, only: Make
) -> None:
    """Taken at its free edge, since it has no finger hole."""
    found = check_opening_force(subject(module("a", lid, motions=(lid_motion(),))))
    (force,) = only(found, "lid force")
    assert force.value == pytest.approx(1.4 * G / 2.0, rel=1e-3)
    assert "falls shut unless" in force.sentence


def test_a_lid_that_leans_back_stays_open(
    subject: Make, module: Make, lid: Any, only: Make
) -> None:
    """Its centre lies 200 out and 5 down: at 110° it is 18.6° beyond upright."""
    found = check_opening_force(subject(module("a", lid, motions=(lid_motion(110.0),))))
    (force,) = only(found, "lid force")
    assert "until the floor tips 19° against it" in force.sentence


@pytest.mark.parametrize(
    ("mass", "severity"),
    [(8.0, Severity.PASS), (15.0, Severity.CAUTION), (25.0, Severity.FAIL)],
)
def test_a_heavy_lid_is_a_caution_then_a_fail(
    subject: Make,
    module: Make,
    panel: Make,
    only: Make,
    board: Any,
    mass: float,
    severity: Severity,
) -> None:
    heavy = dataclasses.replace(board, density_kg_m3=mass / 0.002)
    lid = panel("a/lid", (100.0, 500.0), (0.0, 500.0), 100.0, moves="lid", board=heavy)
    (force,) = only(
        check_opening_force(subject(module("a", lid, motions=(lid_motion(),)))), "lid force"
    )
    assert force.value == pytest.approx(mass * G / 2.0, rel=1e-3)
    assert force.severity is severity


def test_a_gas_stay_takes_weight_off_and_is_pressed_shut(
    subject: Make, module: Make, lid: Any, only: Make
) -> None:
    """60 N straight up at 100 out is 6000 N mm; the weight is 2746 N mm: 8.1 N to press at 400."""
    article = Article(key="gas push", kind="gas stay", mass_kg=0.1, rating_n=60.0, length=400.0)
    made = module("a", lid, motions=(lid_motion(),), stays=(stay("gas push", 100.0, 100.0, 80.0),))
    (force,) = only(check_opening_force(with_stay(subject(made), article)), "lid force")
    assert force.value == pytest.approx((6000.0 - 1.4 * G * 200.0) / 400.0, rel=0.02)
    assert "pressed shut" in force.sentence


@pytest.mark.parametrize(
    ("length", "stroke", "severity"),
    [
        (190.0, 150.0, Severity.PASS),
        (170.0, 150.0, Severity.FAIL),
        (190.0, 60.0, Severity.FAIL),
    ],
)
def test_a_stay_reaches_from_shut_to_open(
    subject: Make,
    module: Make,
    lid: Any,
    only: Make,
    length: float,
    stroke: float,
    severity: Severity,
) -> None:
    """Pivots 100 out, and 20 out 60 down: √(80² + 60²) = 100 shut, √(20² + 160²) = 161 open."""
    article = Article(key="arm", kind="lid stay", mass_kg=0.1, length=length - 20.0, stroke=stroke)
    made = module("a", lid, motions=(lid_motion(),), stays=(stay("arm", 100.0, 20.0, 60.0),))
    (found,) = only(check_opening_force(with_stay(subject(made), article)), "lid stay")
    assert found.severity is severity
    longest, shortest = length - 20.0, length - 20.0 - stroke
    lengths = (100.0, (20.0**2 + 160.0**2) ** 0.5)
    assert found.value == pytest.approx(min(longest - lengths[1], lengths[0] - shortest), abs=1e-3)


def test_every_lid_of_the_demo_has_a_stay_that_reaches(demo: Make, only: Make) -> None:
    found = list(check_opening_force(demo("touring-wagon")))
    assert len(only(found, "lid stay", Severity.PASS)) == 2
    assert len(only(found, "drawer pull", Severity.PASS)) == 3
    assert len(only(found, "lid force", Severity.PASS)) == len(only(found, "lid force"))
