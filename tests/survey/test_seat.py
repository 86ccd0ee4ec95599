"""The seat's back: head restraints over it, and how far it turns from each notch."""

import dataclasses
import math
from collections.abc import Callable
from typing import Any

import pytest

from fitout.model.bay import Bay
from fitout.model.design import TrimSpec
from fitout.model.tailgate import HeadRestraintSpec
from fitout.survey.bay import build_bay

Make = Callable[..., Any]


@pytest.fixture
def seated(plain_bay: Make, seat: Make) -> Callable[..., Bay]:
    """A back 1000 ahead that leans by 15°, 10° or 20°."""

    def make(**rest: Any) -> Bay:
        trim = rest.pop("trim", TrimSpec())
        spec = dataclasses.replace(seat(notches=(10.0, 15.0, 20.0)), **rest)
        return build_bay(plain_bay(seat_back=spec, trim=trim))

    return make


def test_it_folds_forward_from_each_notch_till_level(seated: Make) -> None:
    bay = seated(folds=True)
    assert [(s.name, s.travel) for s in bay.swings] == [
        ("seat back from 10°", 100.0),
        ("seat back from 15°", 105.0),
        ("seat back from 20°", 110.0),
    ]
    assert {s.point for s in bay.swings} == {(1000.0, 0.0, 0.0)}


def test_one_that_does_not_fold_goes_as_far_as_its_most_upright_notch(seated: Make) -> None:
    bay = seated()
    assert [(s.name, s.travel) for s in bay.swings] == [
        ("seat back from 15°", 5.0),
        ("seat back from 20°", 10.0),
    ]


def test_its_foot_keeps_behind_the_lining(seated: Make) -> None:
    swing = seated(trim=TrimSpec(seat_back=8.0)).swings[0]
    assert swing.point[0] == pytest.approx(1000.0 - 8.0 / math.cos(math.radians(15.0)))


def test_head_restraints_stand_on_in_the_back_s_plane(seated: Make) -> None:
    spec = HeadRestraintSpec(raised=120.0, thickness=100.0, across=200.0, middles=(300.0, -300.0))
    bay = seated(head_restraints=spec)
    found = [o for o in bay.obstacles if o.name.startswith("head restraint")]
    assert len(found) == 6
    assert all(o.kind == "seat" for o in found)
    one = next(o for o in found if o.name == "head restraint 1 at 20°")
    assert one.states == ("seat at 20°, tailgate shut", "seat at 20°, tailgate open")
    lean = math.radians(20.0)
    top = bay.seat_length + 120.0
    rear = one.vertices[:, 0].min()
    assert rear == pytest.approx(1000.0 - top * math.sin(lean))
    at_rear = one.vertices[one.vertices[:, 0] == rear]
    assert at_rear[:, 2] == pytest.approx(top * math.cos(lean))
    assert (one.vertices[:, 1].min(), one.vertices[:, 1].max()) == (200.0, 400.0)
    assert len(bay.swings[0].leaves) == 3


def test_without_middles_they_stand_right_across(seated: Make) -> None:
    bay = seated(head_restraints=HeadRestraintSpec(raised=120.0))
    one = next(o for o in bay.obstacles if o.name == "head restraint 1 at 15°")
    assert one.vertices[:, 1].max() - one.vertices[:, 1].min() >= 1200.0
