"""Gaps as made: worked out by hand, and what a finding says of them."""

import dataclasses
import math
from collections.abc import Callable
from statistics import NormalDist
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.checks import Subject
from fitout.checks.stack import (
    SURE,
    UNKNOWN_VARIANCE,
    Stack,
    leave_told,
    stack_of,
    with_certainty,
)
from fitout.model.bay import Bay
from fitout.model.design import BaySpec, SectionSpec
from fitout.model.finding import Finding, Severity
from fitout.model.module import Joint, JointKind
from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Panel
from fitout.model.placement import along
from fitout.model.spec import Measured
from fitout.model.stock import Board
from fitout.survey.adjusted import survey_of
from fitout.survey.bay import build_bay
from fitout.survey.parameters import parameters

Make = Callable[..., Any]

WALL, ROOF, FRONT, FLOOR = "bay/left wall", "bay/roof", "bay/front wall", "bay/floor"


def spec_of(width: float = 2.0, roof: float = 3.0) -> BaySpec:
    """A box 1200 ± width wide, 900 ± roof high at both ends, a wall ahead at 1000 ± 4."""
    return BaySpec(
        sections=tuple(
            SectionSpec(
                at=Measured(at), widths={0.0: Measured(1200.0, width)}, roof=Measured(900.0, roof)
            )
            for at in (0.0, 800.0)
        ),
        front_wall=Measured(1000.0, 4.0),
    )


def surveyed(subject: Subject, spec: BaySpec) -> Subject:
    return dataclasses.replace(subject, survey=survey_of(spec))


@pytest.fixture(scope="module")
def spec() -> BaySpec:
    return spec_of()


@pytest.fixture
def bay(spec: BaySpec) -> Bay:
    return build_bay(spec)


@pytest.fixture
def loose(subject: Make, module: Make, item: Make, bay: Bay, spec: BaySpec) -> Subject:
    """A bought block 5 from the left wall, 6 below the roof in the middle, 7 from the front."""
    block = item("m/block", (393.0, 993.0), (395.0, 595.0), (594.0, 894.0))
    return surveyed(subject(module("m", block), bay=bay), spec)


def covered(subject: Subject, covariance: Any) -> Subject:
    """The same, the bay's numbers as sure as a covariance says."""
    assert subject.survey is not None
    survey = dataclasses.replace(subject.survey, covariance=np.asarray(covariance, dtype=float))
    return dataclasses.replace(subject, survey=survey)


def names_of(subject: Subject) -> list[str]:
    assert subject.survey is not None
    return list(subject.survey.notebook.names[: len(parameters(subject.survey.bay))])


def u_of(stack: Stack, name: str) -> float:
    return next((d.u for d in stack.drivers if d.name == name), 0.0)


def test_a_gap_to_a_wall_by_hand(loose: Subject) -> None:
    """Gap to the front wall: wall ± 4, the block's length ± 2, its place ± 1.5, all even."""
    stack = stack_of(loose, "m/block", FRONT)
    assert stack is not None
    assert stack.name == f"m/block – {FRONT}"
    assert stack.gap == pytest.approx(7.0)
    assert stack.worst == pytest.approx(7.0 - 4.0 - 2.0 - 1.5)
    assert stack.rss == pytest.approx(math.sqrt(16.0 + 4.0 + 2.25))
    assert stack.u == pytest.approx(math.sqrt((16.0 + 4.0 + 2.25) / 3.0))
    assert stack.other_u == pytest.approx(math.sqrt((4.0 + 2.25) / 3.0))
    assert stack.probability == pytest.approx(NormalDist().cdf(7.0 / stack.u))
    told = [(d.name, d.u) for d in stack.drivers]
    assert told == [
        ("depth to the front wall", pytest.approx(4.0 / math.sqrt(3.0))),
        ("size of m/block", pytest.approx(2.0 / math.sqrt(3.0))),
        ("where m is fixed", pytest.approx(1.5 / math.sqrt(3.0))),
    ]


def test_what_is_told_of_a_gap(loose: Subject) -> None:
    """Shares of the variance, height and plain name; the block stands 594 to 894 up."""
    stack = stack_of(loose, "m/block", FRONT)
    assert stack is not None
    assert stack.plain_name == "m/block – front wall"
    assert 594.0 <= stack.up <= 894.0
    assert stack.shares == tuple(
        (name, pytest.approx(width**2 / 22.25))
        for name, width in (
            ("depth to the front wall", 4.0),
            ("size of m/block", 2.0),
            ("where m is fixed", 1.5),
        )
    )


def test_half_a_width_and_shares_of_two_sections(loose: Subject) -> None:
    """The centre line halves a width's error; between two sections each has its share."""
    names = names_of(loose)
    wall = stack_of(loose, "m/block", WALL)
    assert wall is not None
    at_393_to_800 = wall.gradient[[names.index(f"width at section {i}, 0 up") for i in (1, 2)]]
    assert sum(at_393_to_800) == pytest.approx(0.5, abs=1e-6)
    roof = stack_of(loose, "m/block", ROOF)
    assert roof is not None
    shares = roof.gradient[[names.index(f"roof height at section {i}") for i in (1, 2)]]
    assert sum(shares) == pytest.approx(1.0, abs=1e-6)
    assert all(0.0 <= share <= 1.0 for share in shares)


@pytest.mark.parametrize("correlation", [-0.9, 0.0, 0.9])
def test_numbers_of_the_bay_count_with_their_covariance(loose: Subject, correlation: float) -> None:
    """JCGM 100, equation 13: the roof's two heights are wrong alike, or make up for each other."""
    names = names_of(loose)
    i, j = (names.index(f"roof height at section {k}") for k in (1, 2))
    covariance = np.zeros((len(names), len(names)))
    covariance[i, i] = covariance[j, j] = 4.0
    covariance[i, j] = covariance[j, i] = 4.0 * correlation
    stack = stack_of(covered(loose, covariance), "m/block", ROOF)
    assert stack is not None
    a, b = stack.gradient[[i, j]]
    variance = 4.0 * (a * a + b * b + 2.0 * correlation * a * b)
    assert stack.u**2 - stack.other_u**2 == pytest.approx(variance)
    # Worst case and drivers know single inputs only.
    assert u_of(stack, "roof height at section 1") == pytest.approx(2.0 * abs(a))


def test_what_no_note_determines_makes_a_gap_unsure_not_infinite(loose: Subject) -> None:
    assert loose.survey is not None
    covariance = loose.survey.covariance.copy()
    k = names_of(loose).index("depth to the front wall")
    covariance[k, k] = math.inf
    stack = stack_of(covered(loose, covariance), "m/block", FRONT)
    assert stack is not None
    assert stack.drivers[0].name == "depth to the front wall"
    assert stack.drivers[0].u == pytest.approx(math.sqrt(UNKNOWN_VARIANCE))
    assert stack.probability == pytest.approx(0.5, abs=0.05)


def test_without_a_survey_or_a_gap_there_is_no_stack(
    loose: Subject, subject: Make, module: Make, item: Make, bay: Bay, spec: BaySpec
) -> None:
    assert stack_of(dataclasses.replace(loose, survey=None), "m/block", FRONT) is None
    for reach in (1000.0, 1010.0):
        meeting = item("m/block", (393.0, reach), (0.0, 100.0), (0.0, 100.0))
        looked_at = surveyed(subject(module("m", meeting), bay=bay), spec)
        assert stack_of(looked_at, "m/block", FRONT) is None


def test_modules_are_set_to_each_other(
    subject: Make, module: Make, item: Make, bay: Bay, spec: BaySpec
) -> None:
    """Two blocks 3 apart: their sizes ± 2 and how each is set ± 0.5; of the bay, nothing."""
    a = item("a/block", (100.0, 300.0), (0.0, 100.0), (100.0, 200.0))
    b = item("b/block", (303.0, 500.0), (0.0, 100.0), (100.0, 200.0))
    looked_at = surveyed(subject(module("a", a), module("b", b), bay=bay), spec)
    stack = stack_of(looked_at, "a/block", "b/block")
    assert stack is not None
    assert not stack.gradient.any()
    assert stack.u == stack.other_u == pytest.approx(math.sqrt(2.0 * (4.0 + 0.25) / 3.0))
    assert stack.worst == pytest.approx(3.0 - 2.0 * (2.0 + 0.5))


def test_parts_of_one_module_share_its_place(
    subject: Make, module: Make, item: Make, bay: Bay, spec: BaySpec
) -> None:
    a = item("m/one", (100.0, 300.0), (0.0, 100.0), (100.0, 200.0))
    b = item("m/two", (303.0, 500.0), (0.0, 100.0), (100.0, 200.0))
    stack = stack_of(surveyed(subject(module("m", a, b), bay=bay), spec), "m/one", "m/two")
    assert stack is not None
    assert "where m is fixed" not in {driver.name for driver in stack.drivers}


@pytest.fixture
def pile(subject: Make, module: Make, panel: Make, bay: Bay, spec: BaySpec, board: Board) -> Make:
    """A top on a side on a base, over three boards flat on the floor; all of one sheet."""

    def make(tolerance: float) -> Subject:
        sheet = dataclasses.replace(board, thickness_tolerance=tolerance)
        side = Panel(
            name="side",
            module="p",
            outline=Outline(rectangle(500.0, 90.0)),
            board=sheet,
            placement=along(0.0, 10.0, 10.0),
        )
        base = panel("p/base", (0.0, 500.0), (0.0, 90.0), board=sheet)
        top = panel("p/top", (0.0, 500.0), (-300.0, 90.0), 100.0, sheet)
        q = [
            panel(f"q/board {k}", (0.0, 500.0), (-300.0, -10.0), 10.0 * k, sheet) for k in range(3)
        ]
        pairs = [("p/base", FLOOR), ("p/side", "p/base"), ("p/top", "p/side")]
        pairs += [("q/board 0", FLOOR), ("q/board 1", "q/board 0"), ("q/board 2", "q/board 1")]
        joints = [Joint(a, b, JointKind.SCREWED) for a, b in pairs]
        modules = module("p", base, side, top), module("q", *q)
        return surveyed(subject(*modules, joints=joints, bay=bay), spec)

    return make


def test_one_sheets_thickness_is_one_variable(pile: Make) -> None:
    """Under the top one thickness, in the pile three: a thicker sheet closes the gap by two."""
    stack = stack_of(pile(0.3), "p/top", "q/board 2")
    assert stack is not None
    assert stack.gap == pytest.approx(70.0)
    assert u_of(stack, "thickness of test ply 10") == pytest.approx(2.0 * 0.3 / math.sqrt(3.0))
    # The side's cut and how both modules are set: ± 0.3 and twice ± 0.5.
    assert stack.u == pytest.approx(math.sqrt((0.6**2 + 0.3**2 + 2.0 * 0.5**2) / 3.0))
    assert stack.worst == pytest.approx(70.0 - 0.6 - 0.3 - 1.0)


def test_places_along_two_axes_do_not_make_up_for_each_other(
    subject: Make, module: Make, item: Make, bay: Bay, spec: BaySpec
) -> None:
    """Two corners opposite each other: the gap is as sure whichever way the slant goes."""
    found = []
    for sign in (1.0, -1.0):
        a = item("a/block", (100.0, 300.0), (-50.0, 50.0), (100.0, 200.0))
        y = sorted((sign * 54.0, sign * 150.0))
        b = item("b/block", (303.0, 500.0), (y[0], y[1]), (100.0, 200.0))
        looked_at = surveyed(subject(module("a", a), module("b", b), bay=bay), spec)
        stack = stack_of(looked_at, "a/block", "b/block")
        assert stack is not None
        assert stack.gap == pytest.approx(5.0)
        found.append(stack.u)
    assert found[0] == pytest.approx(found[1])
    assert found[0] == pytest.approx(math.sqrt(2.0 * (4.0 + 0.25) / 3.0))


def made_up(gap: float, u: float) -> Stack:
    return Stack("a – b", gap, np.zeros(1), gap - 2.0 * u, u, u, u, (), 0.0)


def test_probability() -> None:
    assert made_up(0.0, 1.5).probability == 0.5
    assert made_up(1.645, 1.0).probability == pytest.approx(0.95, abs=1e-4)
    assert made_up(-1.0, 1.0).probability == pytest.approx(0.1587, abs=1e-4)
    assert (made_up(1.0, 0.0).probability, made_up(0.0, 0.0).probability) == (1.0, 0.0)


def test_how_much_wider() -> None:
    stack = made_up(2.0, 3.0)
    assert made_up(2.0 + stack.wider, 3.0).probability == pytest.approx(SURE)
    assert made_up(20.0, 3.0).wider == 0.0


def finding_of(value: float | None, severity: Severity = Severity.PASS) -> Finding:
    return Finding(
        code="gap to the vehicle",
        severity=severity,
        where=f"m/block – {FRONT}",
        value=value,
        limit=3.0,
        unit="mm",
        sentence="m/block keeps 7.0 mm from bay/front wall.",
        source="common practice",
    )


@pytest.fixture
def doubtful(loose: Subject) -> Subject:
    """The front wall's place known to ± 9 only."""
    assert loose.survey is not None
    spec = dataclasses.replace(loose.survey.bay, front_wall=Measured(1000.0, 9.0))
    return dataclasses.replace(loose, survey=survey_of(spec))


def test_a_gap_that_may_not_be_there_is_a_caution(doubtful: Subject) -> None:
    u = math.sqrt((81.0 + 4.0 + 2.25) / 3.0)
    probability = NormalDist().cdf(7.0 / u)
    assert probability < SURE
    found = with_certainty(doubtful, finding_of(7.0), "m/block", FRONT)
    assert found.severity is Severity.CAUTION
    assert found.u == pytest.approx(u, abs=1e-3)
    assert found.probability == pytest.approx(probability, abs=1e-4)
    wider = NormalDist().inv_cdf(SURE) * u - 7.0
    assert found.sentence.startswith("m/block keeps 7.0 mm from bay/front wall. Once made there")
    for words in (
        f"only {100.0 * probability:.1f} %",
        f"standard uncertainty {u:.1f} mm",
        "for depth to the front wall and size of m/block",
        f"leave {wider:.1f} mm more, or measure",
        "(then 99 %)",
    ):
        assert words in found.sentence


def test_a_gap_that_is_hardly_too_small_is_to_be_a_tenth_wider() -> None:
    wanted = made_up(2.0, 3.0).wider + 2.0
    assert leave_told(made_up(wanted - 0.01, 3.0)) == "leave 0.1 mm more"
    assert leave_told(made_up(wanted - 1.3, 3.0)) == "leave 1.3 mm more"


def test_what_no_reading_settles_is_set_with_a_spacer(
    subject: Make, module: Make, item: Make, bay: Bay, spec: BaySpec
) -> None:
    """Size ± 2 and place ± 1.5 alone leave 2 mm to chance: 1.645 × 1.443 is more."""
    block = item("m/block", (398.0, 998.0), (395.0, 595.0), (594.0, 894.0))
    near = surveyed(subject(module("m", block), bay=bay), spec)
    found = with_certainty(near, finding_of(2.0), "m/block", FRONT)
    assert found.severity is Severity.CAUTION
    assert "set it with a spacer: measuring does not settle" in found.sentence


def test_readings_that_are_not_enough_are_not_advised(
    subject: Make, module: Make, item: Make, bay: Bay, spec: BaySpec
) -> None:
    """Were the wall known, 2.4 mm would be just sure; eight readings leave it too unsure."""
    block = item("m/block", (397.6, 997.6), (395.0, 595.0), (594.0, 894.0))
    near = surveyed(subject(module("m", block), bay=bay), spec)
    found = with_certainty(near, finding_of(2.4), "m/block", FRONT)
    assert found.severity is Severity.CAUTION
    assert "set it with a spacer: no few readings would settle it" in found.sentence


def test_a_sure_gap_says_how_sure(loose: Subject) -> None:
    before = finding_of(7.0)
    found = with_certainty(loose, before, "m/block", FRONT)
    assert (found.severity, found.sentence) == (Severity.PASS, before.sentence)
    assert found.probability is not None
    assert found.probability >= SURE
    assert found.u == pytest.approx(math.sqrt(22.25 / 3.0), abs=1e-3)


@pytest.mark.parametrize("severity", [Severity.FAIL, Severity.CAUTION])
def test_what_is_found_already_stays(doubtful: Subject, severity: Severity) -> None:
    before = finding_of(7.0, severity)
    found = with_certainty(doubtful, before, "m/block", FRONT)
    assert (found.severity, found.sentence) == (severity, before.sentence)
    assert found.probability is not None


@pytest.mark.parametrize("value", [None, -1.0, 0.0, 60.0, 400.0])
def test_what_is_no_gap_or_wide_is_left_as_it_is(doubtful: Subject, value: float | None) -> None:
    before = finding_of(value)
    assert with_certainty(doubtful, before, "m/block", FRONT) is before


def test_without_a_survey_nothing_is_said(doubtful: Subject) -> None:
    before = finding_of(7.0)
    unknown = dataclasses.replace(doubtful, survey=None)
    assert with_certainty(unknown, before, "m/block", FRONT) is before


SEAT = "seat_back: {{foot: 1000 ± {foot}, leans: 12 deg ± 0.3 deg, top: 600}}"


@pytest.mark.parametrize(("foot", "severity"), [("1", Severity.PASS), ("12", Severity.CAUTION)])
def test_a_designs_findings_say_it(
    evaluated: Make, only: Make, foot: str, severity: Severity
) -> None:
    """The seat back's foot read to ± 1 or ± 12 mm; the tank keeps 5 either way."""
    tank = "tank: {kind: water tank, item: tank, between: [seat_back, drawers]}"
    found = evaluated(
        "drawers: {kind: drawers, depth: 500, width: 700}", tank, front=SEAT.format(foot=foot)
    )
    (finding,) = [f for f in only(found, "tank gap") if "seat back" in f.where]
    assert finding.severity is severity
    assert finding.value == pytest.approx(5.0, abs=0.1)
    assert (finding.probability >= SURE) == (severity is Severity.PASS)
    assert ("depth to the seat back's foot" in finding.sentence) == (severity is Severity.CAUTION)


numbers = st.floats(-3.0, 3.0, allow_nan=False)


@st.composite
def covariances(draw: st.DrawFn, size: int) -> Any:
    root = np.array([draw(st.lists(numbers, min_size=size, max_size=size)) for _ in range(2)])
    return root.T @ root


@pytest.fixture(scope="module")
def count(spec: BaySpec) -> int:
    return len(parameters(spec))


@pytest.mark.parametrize("other", [FRONT, WALL, ROOF])
def test_doubt_added_makes_no_gap_surer(loose: Subject, count: int, other: str) -> None:
    @settings(max_examples=25, deadline=None)
    @given(covariances(count), covariances(count), st.floats(0.1, 10.0))
    def holds(first: Any, more: Any, times: float) -> None:
        stack = stack_of(covered(loose, first), "m/block", other)
        doubted = stack_of(covered(loose, first + more), "m/block", other)
        scaled = stack_of(covered(loose, times**2 * first), "m/block", other)
        assert stack is not None
        assert doubted is not None
        assert scaled is not None
        assert doubted.u >= stack.u - 1e-9
        assert doubted.worst <= stack.worst + 1e-9
        assert abs(doubted.probability - 0.5) <= abs(stack.probability - 0.5) + 1e-12
        assert scaled.u**2 - scaled.other_u**2 == pytest.approx(
            times**2 * (stack.u**2 - stack.other_u**2), rel=1e-6, abs=1e-9
        )
        assert stack.gap - stack.worst >= stack.rss - 1e-9
        assert stack.u >= stack.other_u

    holds()


@pytest.mark.parametrize("tolerance", [0.0, 0.2, 0.5, 1.5])
def test_a_less_true_sheet_makes_the_gap_less_sure(pile: Make, tolerance: float) -> None:
    exact, stack = (stack_of(pile(t), "p/top", "q/board 2") for t in (0.0, tolerance))
    assert exact is not None
    assert stack is not None
    assert stack.u**2 - exact.u**2 == pytest.approx((2.0 * tolerance) ** 2 / 3.0)
    assert exact.worst - stack.worst == pytest.approx(2.0 * tolerance)
