"""How long stack-ups take, and whether what they say of a gap is how it turns out.

Fit-outs are made by the thousand: the bay's true numbers drawn about the surveyed ones with
their covariance and the bay built anew, boards, cuts, joints and places drawn within their
ranges. Gaps are then measured between solids.
"""

from __future__ import annotations

import dataclasses
import time
from collections.abc import Mapping
from pathlib import Path
from statistics import NormalDist, median

import numpy as np
import numpy.typing as npt
import pytest

from fitout import workflow
from fitout.checks import Subject
from fitout.checks.chain import Source, shifts_of
from fitout.checks.stack import Stack, stack_of
from fitout.checks.stackup import stacks
from fitout.clearance.body import Body, body_of_obstacle
from fitout.clearance.contact import contact
from fitout.clearance.witness import closest
from fitout.model.bay import Obstacle
from fitout.survey.adjusted import Survey
from fitout.survey.bay import build_bay
from fitout.survey.candidates import candidates
from fitout.survey.parameters import parameters, with_values

pytestmark = pytest.mark.benchmark

Array = npt.NDArray[np.float64]
Bay = Mapping[str, Obstacle]

ROOT = Path(__file__).parents[2]
DESIGNS = ("touring-wagon", "small-hatch", "canopy-tub")
TANK, SEAT = "tank/tank", "bay/seat back at 21°"
TOP = 342.0
"""Height of the tank's top, mm."""

MAKES = 10_000
REACH = 200.0


def subject_in(path: Path) -> Subject:
    return workflow.evaluate(workflow.load(path)).subject


def survey_in(subject: Subject) -> Survey:
    assert subject.survey is not None
    return subject.survey


def test_all_stack_ups_of_a_design_are_quick() -> None:
    """Warm: the design was checked before, as it is while a builder changes it."""
    subject = subject_in(ROOT / "designs" / "touring-wagon.yaml")
    count = len(stacks(subject))
    took = []
    for _ in range(9):
        start = time.perf_counter()
        stacks(subject)
        took.append(time.perf_counter() - start)
    print(f"\n{count} gaps in {1000.0 * median(took):.0f} ms")
    assert median(took) < 0.1


def truths_drawn(survey: Survey, count: int, random: np.random.Generator) -> Array:
    """What the bay's numbers may truly be, shape (count, numbers)."""
    values = np.array([p.value for p in parameters(survey.bay)])
    # By eigenvectors: numbers that are sure make the covariance singular.
    sizes, axes = np.linalg.eigh(survey.covariance)
    spread = random.normal(size=(count, len(values))) * np.sqrt(sizes.clip(min=0.0))
    truths: Array = values + spread @ axes.T
    return truths


def bay_of(survey: Survey, truth: Array) -> Bay:
    return {o.id: o for o in build_bay(with_values(survey.bay, truth.tolist())).obstacles}


def made(sources: Mapping[Source, float], random: np.random.Generator) -> float:
    """What a part's sources do to its gap."""
    return -sum(
        shift * random.uniform(-source.half_width, source.half_width)
        for source, shift in sources.items()
    )


def gap_between(part: Body, solid: Obstacle, by: Array) -> float:
    """The gap once the surface is shifted by so much; minus the depth of a clash."""
    moved = dataclasses.replace(solid, vertices=solid.vertices + by)
    found = contact(part, body_of_obstacle(moved), REACH)
    return -found.depth if found.clashes else found.gap


def gaps_to_the_bay(subject: Subject) -> list[Stack]:
    """Those that hang on the bay's numbers and are less than 30 mm wide."""
    return [s for s in stacks(subject) if s.gradient.any() and s.gap < 30.0]


def gap_made(subject: Subject, bay: Bay, stack: Stack, random: np.random.Generator) -> float:
    """The gap a stack-up speaks of, once made in this bay, mm."""
    a, b = stack.name.split(" – ")
    near = closest(subject.bodies[a], subject.bodies[b])
    assert near.direction is not None
    off = made(shifts_of(subject, a, near.point_a, near.direction), random)
    return gap_between(subject.bodies[a], bay[b], np.array(near.direction) * off)


def test_probability_of_fit_is_how_often_it_fits() -> None:
    """Every gap of the three designs that hangs on the bay, all of them 10 000 times over.

    Had a gap been drawn narrower or wider, the same make would have it narrower or wider by
    as much. So each make tells of every probability from 0 to 1 whether a gap called so sure
    would be there; of those called 70 to 80 % sure so many are, and so on.
    """
    random = np.random.default_rng(31)
    errors = []
    for name in DESIGNS:
        subject = subject_in(ROOT / "designs" / f"{name}.yaml")
        gaps = gaps_to_the_bay(subject)
        survey = survey_in(subject)
        for k, truth in enumerate(truths_drawn(survey, MAKES // len(DESIGNS) + 1, random)):
            stack = gaps[k % len(gaps)]
            real = gap_made(subject, bay_of(survey, truth), stack, random)
            errors.append((real - stack.gap) / stack.u)
    print(f"\n{len(errors)} makes")
    apart = []
    for k in range(10):
        called = (k + (np.arange(50) + 0.5) / 50.0) / 10.0
        nominal = np.array([NormalDist().inv_cdf(p) for p in called])
        fits = np.mean(nominal[:, None] + np.array(errors) > 0.0)
        apart.append(fits - np.mean(called))
        print(f"said {np.mean(called):.3f}, so it is {fits:.3f}")
    assert np.max(np.abs(apart)) <= 0.02


def test_a_doubtful_tank_is_as_doubtful_as_said_and_settled_as_advised(tmp_path: Path) -> None:
    """The tank fits in as many bays as said; designed anew after one more reading, in more.

    Of each bay that reading is taken with the error the tape has, and the tank then placed by
    the bay as adjusted; whether it fits is told by the true one.
    """
    path = ROOT / "tests" / "checks" / "doubtful-tank.yaml"
    text, random = path.read_text(encoding="utf-8"), np.random.default_rng(32)
    before = workflow.evaluate(workflow.load(path))
    stack = stack_of(before.subject, TANK, SEAT)
    assert stack is not None
    assert stack.gap > 0.0
    assert stack.probability < 0.90
    truths = truths_drawn(before.survey, 3000, random)
    gaps = [gap_made(before.subject, bay_of(before.survey, t), stack, random) for t in truths]
    fits = np.mean(np.array(gaps) > 0.0)
    print(f"\nsaid {stack.probability:.3f}, so it is {fits:.3f}")
    assert abs(fits - stack.probability) <= 0.02
    (depth,) = (c for c in candidates(before.survey.notebook, TOP) if c.name == f"depth {TOP:g} up")
    told, fitting = [], 0
    for truth in truths[:200]:
        reading = depth.predict(np.array([*truth, 0.0, 0.0])) + random.normal(0.0, depth.u)
        note = f"  survey: {{notes: [{{forward: {TOP:g}, reads: {reading:.2f}}}]}}\nitems:\n"
        changed = tmp_path / "measured.yaml"
        changed.write_text(text.replace("items:\n", note, 1), encoding="utf-8", newline="\n")
        after = workflow.evaluate(workflow.load(changed)).subject
        settled = stack_of(after, TANK, SEAT)
        assert settled is not None
        told.append(settled.probability)
        fitting += gap_made(after, bay_of(before.survey, truth), settled, random) > 0.0
    print(f"measured: said {np.mean(told):.3f}, so it is {fitting / len(told):.3f}")
    assert min(told) > 0.95
    assert fitting / len(told) > 0.95
