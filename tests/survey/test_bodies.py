"""The usual bays of each kind of body."""

import pytest

from fitout.model.design import BaySpec
from fitout.survey.bay import build_bay
from fitout.survey.bodies import BODIES
from fitout.survey.parameters import parameters
from fitout.survey.room import front_face

each_body = pytest.mark.parametrize("bay", BODIES.values(), ids=BODIES)


@each_body
def test_a_usual_bay_is_all_guesses(bay: BaySpec) -> None:
    assert all(number.about for number in parameters(bay))


@each_body
def test_a_usual_bay_can_be_built(bay: BaySpec) -> None:
    built = build_bay(bay)
    assert built.front > 500.0
    assert len(built.stations) == 3
    assert {"left", "right"} == set(built.arches)


def test_a_tub_ends_at_a_wall_the_others_at_a_seat() -> None:
    ends = {name: build_bay(bay).front_kind for name, bay in BODIES.items()}
    assert ends == {"wagon": "seat_back", "hatch": "seat_back", "tub": "front_wall"}


@each_body
def test_the_tape_gets_past_the_seat_back_at_every_height(bay: BaySpec) -> None:
    last = bay.sections[-1].at.value
    top = max(bay.sections[-1].widths)
    assert last <= front_face(build_bay(bay), 0.0, top)
