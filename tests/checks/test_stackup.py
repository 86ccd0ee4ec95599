"""Gaps as made of the demo designs, against bays built anew and fit-outs drawn by chance."""

import dataclasses
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import pytest
from dossiers import evaluated

from fitout import workflow
from fitout.checks import Subject
from fitout.checks.chain import Source, shifts_of
from fitout.checks.gaps import between_modules, check_gaps
from fitout.checks.stack import Stack, stack_of
from fitout.checks.stackup import left_out, stacks, tightest
from fitout.clearance.body import body_of_obstacle
from fitout.clearance.contact import contact
from fitout.clearance.witness import closest
from fitout.model.bay import Obstacle
from fitout.model.design import BaySpec, SectionSpec
from fitout.model.finding import Severity
from fitout.model.module import Joint, JointKind
from fitout.model.panel import Bar
from fitout.model.placement import flat
from fitout.model.spec import Measured
from fitout.model.stock import Section
from fitout.survey.adjusted import Survey, survey_of
from fitout.survey.adjustment import Observation
from fitout.survey.bay import build_bay
from fitout.survey.candidates import candidates
from fitout.survey.parameters import parameters, with_values
from fitout.survey.remeasure import Gap, Plan, need
from fitout.workflow import Evaluation

Array = npt.NDArray[np.float64]
Bay = Mapping[str, Obstacle]
Make = Callable[..., Any]

DESIGNS = ("touring-wagon", "small-hatch", "canopy-tub")
FOLDER = Path(__file__).parents[2] / "designs"
REACH = 300.0
"""How far gaps are looked for, mm."""

STEP = 0.05
"""By how much a number is moved for a slope, mm or degrees."""

ROUNDING = 0.005
"""Slopes may differ by this much besides: bodies are rounded, edges come near on a curve."""


@pytest.fixture(scope="module", params=DESIGNS)
def demo(request: pytest.FixtureRequest) -> Subject:
    return demo_of(request.param)


@pytest.fixture(scope="module")
def wagon() -> Subject:
    return demo_of("touring-wagon")


def demo_of(name: str) -> Subject:
    return evaluated(name).subject


def survey_in(subject: Subject) -> Survey:
    assert subject.survey is not None
    return subject.survey


def bay_of(survey: Survey, values: Sequence[float]) -> Bay:
    return {o.id: o for o in build_bay(with_values(survey.bay, list(values))).obstacles}


def gap_in(subject: Subject, part: str, solid: Obstacle) -> float:
    """The gap of a part to a surface that has moved; minus the depth where they clash."""
    found = contact(subject.bodies[part], body_of_obstacle(solid), REACH)
    return -found.depth if found.clashes else found.gap


def to_the_bay(subject: Subject, sigmas: float = 4.0) -> dict[tuple[str, str], Stack]:
    """Gaps to the vehicle that are not much wider than they are unsure, by the two ids."""
    found = {}
    for a, b in between_modules(subject):
        stack = stack_of(subject, a, b)
        if stack is not None and b in subject.obstacles and stack.gap < sigmas * stack.u:
            found[a, b] = stack
    return found


class Slopes:
    """By how much gaps really change: the bay built anew with one number moved, each way."""

    def __init__(self, subject: Subject) -> None:
        self.subject = subject
        survey = survey_in(subject)
        values = [p.value for p in parameters(survey.bay)]
        self.rest = bay_of(survey, values)
        self.sides: list[tuple[Bay, Bay]] = []
        for k in range(len(values)):
            ahead, back = (
                bay_of(survey, [*values[:k], values[k] + step, *values[k + 1 :]])
                for step in (STEP, -STEP)
            )
            self.sides.append((ahead, back))

    def of(self, part: str, surface: str) -> Array:
        """Slope backward and forward for each number, shape (numbers, 2)."""
        still = self.rest[surface]
        gap = gap_in(self.subject, part, still)
        slopes = np.zeros((len(self.sides), 2))
        for k, sides in enumerate(self.sides):
            for way, (bay, sign) in enumerate(zip(sides[::-1], (-1.0, 1.0), strict=True)):
                moved = bay[surface]
                if not np.array_equal(moved.vertices, still.vertices):
                    slopes[k, way] = sign * (gap_in(self.subject, part, moved) - gap) / STEP
        return slopes


def agree(a: Array, b: Array) -> npt.NDArray[np.bool_]:
    return np.abs(a - b) <= 0.01 * np.maximum(np.abs(a), np.abs(b)) + ROUNDING


def test_slopes_are_those_of_bays_built_anew(demo: Subject) -> None:
    """Within 1 %, whichever way a number is moved. But where a body is as near in another
    place, one way that place becomes the nearer: the gap then changes for the worse only."""
    slopes = Slopes(demo)
    found = to_the_bay(demo, sigmas=20.0)
    assert len(found) >= 4
    smooth = 0
    for (part, surface), stack in found.items():
        back, ahead = slopes.of(part, surface).T
        same = agree(stack.gradient, back) & agree(stack.gradient, ahead)
        smooth += bool(same.all())
        one_way = agree(stack.gradient, back) | agree(stack.gradient, ahead)
        assert one_way.all(), stack.name
        assert np.all(ahead <= stack.gradient + np.abs(stack.gradient) * 0.01 + ROUNDING)
        assert np.all(back >= stack.gradient - np.abs(stack.gradient) * 0.01 - ROUNDING)
    assert smooth >= 0.6 * len(found)


def drawn(survey: Survey, count: int, random: np.random.Generator) -> Array:
    """Numbers of the bay that may be the true ones, shape (count, numbers)."""
    values = np.array([p.value for p in parameters(survey.bay)])
    # By eigenvectors: numbers that are sure make the covariance singular.
    sizes, axes = np.linalg.eigh(survey.covariance)
    spread: Array = random.normal(size=(count, len(values))) * np.sqrt(sizes.clip(min=0.0))
    return values + spread @ axes.T


def made(sources: Mapping[Source, float], count: int, random: np.random.Generator) -> Array:
    """What the sources do to a gap, each evenly within its range."""
    total = np.zeros(count)
    for source, shift in sources.items():
        total -= shift * random.uniform(-source.half_width, source.half_width, count)
    return total


def sources_of(subject: Subject, part: str, surface: str) -> tuple[Mapping[Source, float], Array]:
    near = closest(subject.bodies[part], subject.bodies[surface])
    assert near.direction is not None
    return shifts_of(subject, part, near.point_a, near.direction), np.array(near.direction)


@pytest.mark.parametrize("count", [150, pytest.param(3000, marks=pytest.mark.thorough)])
def test_fit_outs_made_by_chance_agree(wagon: Subject, count: int) -> None:
    """Bays drawn from the survey's covariance and built anew, parts shifted by their sources.

    The linear gap of the same draws is compared with the real one, and 100 000 linear ones
    with what the stack-up says (JCGM 101 as the reference of JCGM 100).
    """
    random = np.random.default_rng(7)
    survey = survey_in(wagon)
    truths = drawn(survey, count, random)
    values = np.array([p.value for p in parameters(survey.bay)])
    bays = [bay_of(survey, truth) for truth in truths]
    errors = drawn(survey, 100_000, random) - values
    slopes = Slopes(wagon)
    compared = set()
    for (part, surface), stack in to_the_bay(wagon).items():
        back, ahead = slopes.of(part, surface).T
        if surface in compared or not agree(back, ahead).all():
            continue
        sources, direction = sources_of(wagon, part, surface)
        shifts = made(sources, count, random)
        linear = stack.gap + (truths - values) @ stack.gradient + shifts
        real = np.array(
            [
                gap_in(wagon, part, shifted(bay[surface], shift * direction))
                for bay, shift in zip(bays, shifts, strict=True)
            ]
        )
        assert real.std() == pytest.approx(linear.std(), rel=0.03), stack.name
        assert real.mean() == pytest.approx(linear.mean(), abs=0.1 * stack.u), stack.name
        assert abs(np.mean(real > 0.0) - np.mean(linear > 0.0)) < 0.02, stack.name
        many = stack.gap + errors @ stack.gradient + made(sources, len(errors), random)
        assert stack.u == pytest.approx(many.std(), rel=0.015), stack.name
        assert abs(stack.probability - np.mean(many > 0.0)) < 0.02, stack.name
        compared.add(surface)
    assert len(compared) >= 5


def shifted(solid: Obstacle, by: Array) -> Obstacle:
    return dataclasses.replace(solid, vertices=solid.vertices + by)


def test_every_gap_is_there_once_the_least_sure_first(demo: Subject) -> None:
    found = stacks(demo)
    assert [s.name for s in found] == [
        f"{a} – {b}" for a, b in between_modules(demo) if stack_of(demo, a, b) is not None
    ]
    assert len({s.name for s in found}) == len(found) > 5
    first = tightest(demo, 4)
    assert [s.name for s in first[:3]] == [s.name for s in tightest(demo)]
    told = [s.probability for s in first]
    assert told == sorted(told)
    chosen = {s.name for s in first}
    assert len(chosen) == 4
    assert told[-1] <= min(s.probability for s in found if s.name not in chosen)
    assert all(s.gap - s.worst >= s.rss > 0.0 for s in found)


def test_without_a_survey_there_are_none(demo: Subject) -> None:
    assert tightest(dataclasses.replace(demo, survey=None)) == ()


SECTION = SectionSpec(at=Measured(0.0), widths={0.0: Measured(1200.0)}, roof=Measured(900.0))
PLAIN = BaySpec(sections=(SECTION,), front_wall=Measured(1000.0))


def test_a_gap_nothing_can_change_comes_last(subject: Make, module: Make) -> None:
    """Bars either side of a third: its section is true, and it places both."""
    section = Section(
        key="bar", width=20.0, height=30.0, wall=None, density_kg_m3=7850.0, stock_length=6000.0
    )
    bars = [
        Bar(name="bar", module=name, section=section, length=400.0, placement=flat(100.0, y, 0.0))
        for name, y in (("left", 560.0), ("middle", 540.0), ("right", 520.0))
    ]
    modules = [module(bar.module, bars=(bar,)) for bar in bars]
    pairs = [("middle/bar", "bay/floor"), ("left/bar", "middle/bar"), ("right/bar", "middle/bar")]
    joints = [Joint(a, b, JointKind.BOLTED) for a, b in pairs]
    whole = subject(*modules, joints=joints)
    found = tightest(dataclasses.replace(whole, survey=survey_of(PLAIN)), 99)
    assert len(found) > 1
    assert [(s.name, s.gap, s.u) for s in found if not s.u] == [
        ("left/bar – right/bar", pytest.approx(20.0), 0.0)
    ]
    assert found[-1].u == 0.0
    assert found[-1].probability == 1.0


NOTES = {
    "depth to the seat back's foot, once more": "{{forward: 0, reads: {reading:.2f} ± 9}}",
    "depth 342 up": "{{forward: 342, reads: {reading:.2f}}}",
    "level on the seat back": "{{angle: seat_back, degrees: {reading:.3f} deg}}",
    "level on the floor": "{{angle: floor, degrees: {reading:.3f} deg}}",
}
"""How what the tank's gap hangs on would be noted, by what the candidates are called."""

TANK, SEAT = "tank/tank", "bay/seat back at 21°"


def advised(evaluation: Evaluation, allowed: Sequence[str]) -> tuple[Plan, list[Observation]]:
    """The readings that would settle the tank's gap, of those allowed."""
    stack = stack_of(evaluation.subject, TANK, SEAT)
    assert stack is not None
    found = evaluation.survey.adjustment
    gradient = np.zeros(len(found.values))
    gradient[: len(stack.gradient)] = stack.gradient
    further = [c for c in candidates(evaluation.survey.notebook, 342.0) if c.name in allowed]
    gap = Gap(nominal=stack.gap, gradient=gradient, other_u=stack.other_u)
    return need(further, found, gap), further


def measured(
    text: str, plan: Plan, further: Sequence[Observation], truth: Array, random: Any
) -> str:
    """The design with the readings taken of a bay whose true numbers are these."""
    notes = []
    for k, times in plan.readings:
        note = further[k]
        assert not note.shared or times == 1
        for _ in range(times):
            reading = note.predict(truth) + random.normal(0.0, note.u)
            notes.append(f"      - {NOTES[note.name].format(reading=reading)}\n")
    survey = "  survey:\n    notes:\n" + "".join(notes)
    return text.replace("items:\n", f"{survey}items:\n", 1)


def tank_gap(evaluation: Evaluation) -> Any:
    (found,) = (
        f for f in evaluation.findings if (f.code, f.where) == ("tank gap", f"{TANK} – {SEAT}")
    )
    return found


@pytest.mark.parametrize(
    ("allowed", "readings"),
    [
        (tuple(NOTES), ["depth 342 up"]),
        (tuple(name for name in NOTES if "342" not in name), None),
    ],
)
def test_a_doubtful_tank_is_settled_by_the_readings_advised(
    tmp_path: Path, allowed: tuple[str, ...], readings: list[str] | None
) -> None:
    """Seat backs drawn by chance, read with the errors the tape and the level have."""
    text = (Path(__file__).parent / "doubtful-tank.yaml").read_text(encoding="utf-8")
    before = evaluated_text(tmp_path, text)
    doubtful = tank_gap(before)
    assert doubtful.value > 0.0
    assert doubtful.probability < 0.90
    assert doubtful.severity is Severity.CAUTION
    # The depth where the tank's upper edge comes nearest, not anywhere.
    assert "measure: depth 342 up (then 99 %)" in doubtful.sentence
    plan, further = advised(before, allowed)
    assert plan.before == pytest.approx(doubtful.probability, abs=1e-3)
    assert plan.reached
    if readings is not None:
        assert [further[k].name for k, _ in plan.readings] == readings
    random = np.random.default_rng(21)
    numbers = before.survey.adjustment
    for _ in range(3):
        errors = random.multivariate_normal(np.zeros(len(numbers.values)), numbers.covariance)
        truth = numbers.values + errors
        after = evaluated_text(tmp_path, measured(text, plan, further, truth, random))
        settled = tank_gap(after)
        assert settled.probability > 0.95
        assert settled.probability == pytest.approx(plan.probability, abs=0.01)
        assert settled.severity is Severity.PASS
        assert [f for f in after.findings if f.severity is Severity.FAIL] == []


def evaluated_text(folder: Path, text: str) -> Evaluation:
    path = folder / "design.yaml"
    path.write_text(text, encoding="utf-8", newline="\n")
    return workflow.evaluate(workflow.load(path))


def test_gaps_too_narrow_are_told_and_where_there_is_none_it_says_so(
    subject: Make, module: Make, item: Make, plain_bay: Any
) -> None:
    """0.4 and 7 to the front wall, where 3 are wanted; then one block 5 into the wall."""
    section = SectionSpec(at=Measured(0.0), widths={0.0: Measured(1200.0)}, roof=Measured(900.0))
    survey = survey_of(BaySpec(sections=(section,), front_wall=Measured(1000.0)))

    def built(front: float, **more: Any) -> Subject:
        near = item("a/block", (500.0, front), (-300.0, -200.0), (100.0, 300.0))
        far = item("b/block", (500.0, 993.0), (200.0, 300.0), (100.0, 300.0))
        made_of = subject(module("a", near), module("b", far), bay=plain_bay, **more)
        return dataclasses.replace(made_of, survey=survey)

    narrow = built(999.6)
    assert [round(stack.gap, 1) for stack in tightest(narrow, None)] == [0.4, 7.0]
    found = tuple(check_gaps(narrow))
    assert Severity.FAIL in {f.severity for f in found}
    assert left_out(narrow, found) == ""
    clashing = built(1005.0)
    assert [stack.name for stack in stacks(clashing)] == ["b/block – bay/front wall"]
    assert left_out(clashing, check_gaps(clashing)).startswith("Where parts run into something")
    assert "nothing is built" in left_out(built(999.6, conflicts=("a and b",)), ())
