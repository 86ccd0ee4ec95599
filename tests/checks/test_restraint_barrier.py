"""The barrier on the road and in a crash, with posts held at foot alone or at their tops."""

import dataclasses
from collections.abc import Callable
from typing import Any

import pytest

from fitout import workflow
from fitout.checks.restraint_barrier import barrier_of, panel_used, uses
from fitout.mechanics.impact import BLOCKS
from fitout.model.finding import Severity

Make = Callable[..., Any]
SEAT = {"front": "seat_back: {foot: 1000, leans: 15 deg, top: 600}"}


@pytest.fixture
def fixed(evaluated: Make, only: Make, tmp_path: Any) -> Callable[..., Any]:
    """A design with a barrier bolted where it proposes, and at its tops if told."""

    def make(kind: str = "barrier: {kind: barrier}", tops: bool = False, more: str = "") -> Any:
        (found,) = only(evaluated(kind, **SEAT), "fixing points")
        lines = [x for x in found.sentence.splitlines() if x.startswith("- {name")]
        text = (tmp_path / "design.yaml").read_text("utf-8")
        head, _, rest = text.partition("  anchors:\n")
        usual, _, after = rest.partition("items:")
        if tops:
            lines += [
                f"- {{name: top {side}, at: [820, {y}], height: 820, below: clear}}"
                for side, y in (("left", 575), ("right", -575))
            ]
        listed = "".join(f"    {x.replace('below: unknown', 'below: clear')}\n" for x in lines)
        path = tmp_path / "fixed.yaml"
        path.write_text(
            f"{head}  anchors:\n{usual}{listed}{more}\nitems:{after}", "utf-8", newline="\n"
        )
        return workflow.evaluate(workflow.load(path))

    return make


def test_on_the_road_it_holds(fixed: Make, only: Make) -> None:
    (found,) = only(fixed(), "barrier")
    assert found.severity is Severity.PASS
    assert "No approval under UN R17, UN R126, ISO 27956 or AS/NZS 4034" in found.sentence


def test_held_at_its_feet_alone_it_is_a_caution_in_a_crash(fixed: Make, only: Make) -> None:
    (found,) = only(fixed(), "barrier in a crash")
    assert found.severity is Severity.CAUTION
    assert (
        "60 kg that fly against barrier at 20 g (5.3 kJ at 48 km/h) press with 11.8 kN"
        in found.sentence
    )
    assert "both posts bolted to points of the vehicle at their tops" in found.sentence
    assert "from memory" in found.source


def test_tops_carry_the_posts(fixed: Make) -> None:
    subject = fixed(tops=True).subject
    barrier = barrier_of(subject, subject.modules["barrier"])
    assert barrier is not None
    assert barrier.top_held
    free = dataclasses.replace(barrier, top_held=False, tops=())
    held = dict(uses(barrier, 0.0, 10_000.0, "ultimate"))
    alone = dict(uses(free, 0.0, 10_000.0, "ultimate"))
    assert held["posts"] < 0.6 * alone["posts"]
    assert "foot plates" in alone
    assert "foot plates" not in held
    twice = dict(uses(barrier, 0.0, 20_000.0, "ultimate"))
    assert twice["posts"] == pytest.approx(2.0 * held["posts"])


def test_a_thicker_panel_and_a_lighter_block_use_less(fixed: Make) -> None:
    subject = fixed().subject
    module = subject.modules["barrier"]
    sheets = subject.setting.catalogue.sheets
    heavy, light = BLOCKS
    thin, thick = (panel_used(subject, module, heavy, sheets[k]) for k in
                   ("birch ply 9", "birch ply 18"))  # fmt: skip
    assert thin is not None
    assert thick is not None
    assert thick < thin / 3.0
    lighter = panel_used(subject, module, dataclasses.replace(heavy, mass_kg=9.0))
    usual = panel_used(subject, module, heavy)
    assert usual is not None
    assert lighter == pytest.approx(usual / 2.0)
    assert light.mass_kg == 10.0


def test_bolted_nowhere_is_unchecked(evaluated: Make, only: Make) -> None:
    (found,) = only(evaluated("barrier: {kind: barrier}", **SEAT), "barrier")
    assert found.severity is Severity.UNCHECKED
