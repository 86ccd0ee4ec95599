"""What is held by which fasteners, and by what forces."""

import dataclasses
from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.ledger import Load
from fitout.checks.restraint_cases import crash, everyday
from fitout.checks.restraint_held import (
    bolted,
    forces_of,
    hull,
    on_module,
    screwed,
    used_by,
    worst,
)

Make = Callable[..., Any]
DRAWERS = "drawers: {kind: drawers, width: 800, stack: [{carries: 20 kg}]}"


def test_the_hull_of_points() -> None:
    square = [(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)]
    assert hull([*square, (2.0, 1.0), (2.0, 0.0)]) == tuple(square)


def test_a_module_on_its_bolts(evaluated: Make) -> None:
    subject = evaluated(DRAWERS).subject
    group = bolted(subject, subject.modules["drawers"])
    assert group is not None
    assert sorted(group.names) == ["a1", "a2", "a3", "a4"]
    assert group.load.mass_kg > 20.0
    case = everyday(subject)[0]
    forces = forces_of(subject, group, case)
    assert forces is not None
    push = group.load.mass_kg * 9.80665 * case.g
    assert sum(x for x, _ in forces.shear) == pytest.approx(push)


def test_twice_the_mass_is_twice_the_use_in_a_crash(evaluated: Make) -> None:
    subject = evaluated(DRAWERS).subject
    group = bolted(subject, subject.modules["drawers"])
    assert group is not None
    twice = dataclasses.replace(group, load=Load(2.0 * group.load.mass_kg, group.load.centre))
    for case in crash(subject):
        once, doubled = used_by(subject, group, case), used_by(subject, twice, case)
        assert once is not None
        assert doubled is not None
        assert doubled.share == pytest.approx(2.0 * once.share)


def test_base_and_sides(evaluated: Make) -> None:
    subject = evaluated(DRAWERS).subject
    module = subject.modules["drawers"]
    group, whole = screwed(subject, module), bolted(subject, module)
    assert group is not None
    assert whole is not None
    base = subject.loads["drawers/base"]
    assert group.load.mass_kg == pytest.approx(whole.load.mass_kg - base.mass_kg)
    assert len(group.points) >= 8
    used = worst(subject, group, crash(subject))
    assert used is not None
    assert used.part == "screws between base and sides"


def test_one_module_on_another(evaluated: Make) -> None:
    found = evaluated(
        "box: {kind: box, height: 200, width: 900, depth: 900}",
        "drawers: {kind: drawers, on: box, width: 700, stack: [{carries: 20 kg}]}",
    )
    subject = found.subject
    above = on_module(subject, subject.modules["drawers"])
    below = bolted(subject, subject.modules["box"])
    assert above is not None
    assert below is not None
    assert len(above.points) == 4
    assert below.load.mass_kg > above.load.mass_kg + 1.0


def test_bolted_nowhere(evaluated: Make) -> None:
    subject = evaluated("drawers: {kind: drawers, width: 500}").subject
    assert bolted(subject, subject.modules["drawers"]) is None
