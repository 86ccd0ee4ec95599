"""What loads do to a panel: the duration that governs, the worse way of the grain, what adds up."""

import dataclasses
from typing import Any

import pytest

from fitout.checks.bending import Bent, bent_panel, load_of_duty, most_final, most_sag, span_of
from fitout.checks.memory import Memory
from fitout.mechanics.boards import STANDARD_GRAVITY, knee_on
from fitout.mechanics.plates import plate_of_board, plate_response
from fitout.model.module import PlateDuty
from fitout.model.panel import Grain


def duty(**entries: Any) -> PlateDuty:
    usual = {"panel": "a/shelf", "load_kg": 40.0, "spans": (600.0, 400.0), "edges": "u ends"}
    return PlateDuty(**{"purpose": "its load", **usual, **entries})


def bent(board: Any, grain: Grain = Grain.ALONG_U, **entries: Any) -> Bent:
    found = bent_panel(Memory(), board, duty(**entries), grain)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("load_kg", "patch", "duration"),
    [(0.0, False, "permanent"), (0.0, True, "short"), (40.0, False, "instant"),
     (5.0, True, "short"), (400.0, True, "instant")],
)  # fmt: skip
def test_which_load_governs(board: Any, load_kg: float, patch: bool, duration: str) -> None:
    assert bent(board, load_kg=load_kg, patch=patch).duration == duration


def test_a_knee_uses_twice_its_share_of_the_strength(board: Any) -> None:
    """k_mod 0.9 / γ_M 1.2 / loads × 1.5 leaves a half of it."""
    plate = plate_of_board(board, (600.0, 400.0), "u ends")
    assert plate is not None
    pressure = board.thickness * board.density_kg_m3 * 1e-9 * STANDARD_GRAVITY
    stress = plate_response(plate, pressure, knee_on((600.0, 400.0)))
    share = max(stress.stress_u_mpa / 40.0, stress.stress_v_mpa / 30.0)
    assert bent(board, load_kg=0.0, patch=True).use == pytest.approx(2.0 * share)


def test_either_grain_is_the_worse_of_both(board: Any) -> None:
    ways = [bent(board, grain) for grain in (Grain.ALONG_U, Grain.ALONG_V)]
    either = bent(board, Grain.EITHER)
    assert either.sag == max(w.sag for w in ways)
    assert either.use == max(w.use for w in ways)


def test_a_kind_of_board_without_factors_is_not_known(board: Any) -> None:
    other = dataclasses.replace(board, kind="straw")
    assert bent_panel(Memory(), other, duty(), Grain.ALONG_U) is None


def test_one_lying_on_the_other() -> None:
    both = Bent(1.0, 2.0, 0.4, "long").plus(Bent(0.5, 0.6, 0.7, "short"))
    assert both == Bent(1.5, 2.6, 0.7, "short")


@pytest.mark.parametrize("what", ["sag", "final", "use"])
def test_each_can_fail_by_itself(what: str) -> None:
    good = {"sag": 3.0, "final": 4.0, "use": 1.0}
    assert Bent(**good, duration="long").passes(duty())
    assert not Bent(**{**good, what: good[what] * 1.01}, duration="long").passes(duty())


def test_spans_and_limits() -> None:
    assert span_of(duty(edges="all")) == 400.0
    assert (most_sag(duty()), most_final(duty())) == (3.0, 4.0)
    assert most_sag(duty(patch=True)) == 6.0
    assert (most_sag(duty(most_sag=8.0)), most_final(duty(most_sag=8.0))) == (8.0, 14.0)
    assert load_of_duty(duty()) == "40 kg spread"


def test_a_load_in_pounds_is_told_to_a_tenth() -> None:
    assert load_of_duty(duty(load_kg=90.0 * 0.45359237)) == "40.8 kg spread"
