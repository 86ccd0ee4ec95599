"""Cures are reckonings run again: what is proposed holds when it is done."""

import dataclasses
import re
from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.ledger import Load
from fitout.checks.restraint_cases import crash
from fitout.checks.restraint_cure import schedule, stronger_joint
from fitout.checks.restraint_held import bolted, screwed, worst

Make = Callable[..., Any]
DRAWERS = "drawers: {kind: drawers, width: 800, stack: [{carries: 20 kg}]}"


@pytest.fixture
def loaded(evaluated: Make) -> Callable[..., Any]:
    """A group of the usual drawers with a mass of one's choice, and its subject."""

    def make(of: Callable[..., Any], mass_kg: float) -> Any:
        subject = evaluated(DRAWERS, more="restraint: {floor: {sheet: 1.0}}").subject
        group = of(subject, subject.modules["drawers"])
        heavy = dataclasses.replace(group, load=Load(mass_kg, group.load.centre))
        return subject, heavy

    return make


def test_the_proposal_holds_when_it_is_done(loaded: Make) -> None:
    subject, group = loaded(bolted, 150.0)
    cases = crash(subject)
    before = worst(subject, group, cases)
    assert before is not None
    assert before.share > 1.0
    told = schedule(subject, group, cases)
    assert told.startswith("It would hold with")
    percent = re.search(r"\((\d+) %\)", told)
    assert percent is not None
    assert int(percent[1]) <= 100


def test_washers_alone_when_washers_alone_do(loaded: Make) -> None:
    subject, group = loaded(bolted, 60.0)
    lifted = [case for case in crash(subject) if case.way[2]]
    grips = tuple(dataclasses.replace(g, washer=14.0, plate=60.0) for g in group.grips)
    small = dataclasses.replace(group, grips=grips)
    told = schedule(subject, small, lifted)
    assert told.startswith("It would hold with 40 mm washers (")
    changed = tuple(dataclasses.replace(g, washer=40.0) for g in grips)
    used = worst(subject, dataclasses.replace(group, grips=changed), lifted)
    assert used is not None
    assert f"({100.0 * used.share:.0f} %)" in told


def test_what_nothing_holds_is_said(loaded: Make) -> None:
    subject, group = loaded(bolted, 20_000.0)
    assert "carry less in it" in schedule(subject, group, crash(subject))
    subject, group = loaded(screwed, 20_000.0)
    assert "carry less in it" in stronger_joint(subject, group, crash(subject))


def test_more_screws(loaded: Make) -> None:
    subject, group = loaded(screwed, 10.0)
    used = worst(subject, group, crash(subject))
    assert used is not None
    heavier = dataclasses.replace(group, load=Load(10.0 * 1.5 / used.share, group.load.centre))
    told = stronger_joint(subject, heavier, crash(subject))
    assert told == "It would hold with twice as many screws (75 %)."
