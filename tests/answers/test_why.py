"""What a number hangs on, by formulas of our own that know their derivative."""

import dataclasses
import itertools
from types import SimpleNamespace

import pytest

from fitout import workflow
from fitout.answers.numbers import changed, figures
from fitout.answers.why import finding_values, influences, part_values
from fitout.checks import Memory
from fitout.checks.tank import check_tank
from fitout.model.fault import DesignError, Fault
from fitout.model.trips import EnergySpec, TripSpec

NO_BOARDS = SimpleNamespace(setting=SimpleNamespace(boards={}))


def answer(design, formula, most=None):
    """All that a formula of the design hangs on, and how often it was worked out."""
    calls = itertools.count()

    def prepare(other, memory):
        next(calls)
        if most is not None and other.items["slim tank"].size.height > most:
            raise DesignError((Fault(path=("items",), found="too high", expected="less"),))
        return SimpleNamespace(**vars(NO_BOARDS), design=other)

    found = influences(design, prepare, lambda s: formula(s.design), lambda *_: None)
    return found, next(calls)


def gap(design):
    size, rules = design.items["slim tank"].size, design.clearances
    return {"margin": design.bay.seat_back.foot.value - 2.0 * size.length - rules.tank}


def test_each_number_is_told_with_its_change(design) -> None:
    found, _ = answer(design, gap)
    told = {one.figure.name: (one.up["margin"], one.down["margin"]) for one in found.influences}
    assert told == {
        "items.slim tank.size.length": pytest.approx((-2.0, 2.0)),
        "bay.seat_back.foot": pytest.approx((1.0, -1.0)),
        "clearances.tank": pytest.approx((-1.0, 1.0)),
    }
    assert found.influences[0].figure.name == "items.slim tank.size.length"
    assert found.tried == len(figures(design))


def test_numbers_without_bearing_cost_few_evaluations(design) -> None:
    found, calls = answer(design, gap)
    assert calls < found.tried / 2


def test_numbers_that_would_cancel_are_not_missed(design) -> None:
    found, _ = answer(
        design, lambda d: {"margin": d.clearances.tank - d.clearances.seat - d.clearances.wall}
    )
    names = {one.figure.name for one in found.influences}
    assert names == {"clearances.tank", "clearances.seat", "clearances.wall"}


def test_a_share_that_is_full_is_made_less(design) -> None:
    """A battery that starts full can't start fuller; its start is found all the same."""
    trips = {"away": TripSpec(days=1, energy=EnergySpec(battery=1000.0))}
    travelling = dataclasses.replace(design, trips=trips)
    found, _ = answer(travelling, lambda d: {"value": 10.0 * d.trips["away"].energy.start})
    (one,) = found.influences
    assert one.figure.name == "trips.away.energy.start"
    assert (one.up, one.down) == ({"value": 0.0}, {"value": pytest.approx(-0.1)})


def test_what_can_t_be_built_is_told_as_none(design) -> None:
    height = design.items["slim tank"].size.height
    found, _ = answer(design, gap, most=height)
    told = {one.figure.name: one for one in found.influences}
    assert told["items.slim tank.size.height"].up is None
    assert told["items.slim tank.size.height"].down == {"margin": 0.0}


def test_a_finding_s_margin_follows_the_check(design) -> None:
    measure = finding_values(check_tank, "tank gap", "tank/slim tank – bay/left wall")
    memory = Memory()
    before = measure(workflow.prepared(design, memory))
    reach = next(f for f in figures(design) if f.name == "items.slim tank.size.width")
    after = measure(workflow.prepared(changed(design, reach, 2.0), memory))
    assert after["margin"] - before["margin"] == pytest.approx(-1.0, abs=0.02)


def test_a_panel_is_measured(design) -> None:
    subject = workflow.prepared(design, Memory())
    told = part_values("drawers/base")(subject)
    assert set(told) == {"length", "width", "thickness", "mass"}
    assert told["mass"] == subject.loads["drawers/base"].mass_kg
    assert part_values("nothing/here")(subject) == {}
