"""What the survey answers about room holds against the bay's solids, whatever the bay."""

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from fitout.clearance.body import body_of_obstacle, body_of_pieces
from fitout.clearance.contact import contact
from fitout.model.bay import Bay
from fitout.model.design import ArchSpec, BaySpec, SeatBackSpec, SectionSpec, Sides
from fitout.model.item import block
from fitout.model.placement import Placement
from fitout.model.spec import Measured
from fitout.model.tailgate import TailgateSpec
from fitout.survey.bay import build_bay
from fitout.survey.room import clear_width, front_face, half_width, rear_face, roof_height

FRONT = 1100.0
ROUNDING = 1e-6
"""Bodies are kept to this, and a gap to a leaning face may lose a little more."""

Span = tuple[float, float]


def numbers(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high).map(lambda v: round(v, 1))


def gap(bay: Bay, kinds: tuple[str, ...], x: Span, y: Span, z: Span) -> float:
    """The least gap of a block to the obstacles whose names hold one of the words."""
    size = (x[1] - x[0], y[1] - y[0], z[1] - z[0])
    body = body_of_pieces("block", [block(*size, (x[0], y[0], z[0]))], Placement())
    gaps = []
    for obstacle in bay.obstacles:
        if any(kind in obstacle.name for kind in kinds):
            found = contact(body, body_of_obstacle(obstacle), 3000.0)
            gaps.append(-found.depth if found.clashes else found.gap)
    return min(gaps)


@st.composite
def curved(draw: st.DrawFn) -> BaySpec:
    """Walls that bulge, lean and taper, arches of a box or a hump, a roof that slopes."""
    stations = [0.0, *sorted(draw(st.sets(numbers(150.0, 1000.0), min_size=1, max_size=2)))]
    sections = tuple(
        SectionSpec(
            at=Measured(at),
            widths={
                z: Sides(
                    left=Measured(draw(numbers(520.0, 640.0))),
                    right=Measured(draw(numbers(520.0, 640.0))),
                )
                for z in (0.0, draw(numbers(200.0, 300.0)), 620.0)
            },
            roof=Measured(draw(numbers(800.0, 900.0))),
        )
        for at in stations
    )
    start, length = draw(numbers(150.0, 500.0)), draw(numbers(300.0, 550.0))
    height, rise = draw(numbers(150.0, 300.0)), draw(numbers(0.1, 0.4))
    hump = (
        (start, 0.0),
        (start + rise * length, height),
        (start + 0.6 * length, height),
        (start + length, 0.0),
    )
    between = Sides(
        left=Measured(draw(numbers(440.0, 515.0))), right=Measured(draw(numbers(440.0, 515.0)))
    )
    arches = (
        ArchSpec(between=between, profile=hump)
        if draw(st.booleans())
        else ArchSpec(
            between=between,
            start=Measured(start),
            end=Measured(start + length),
            height=Measured(height),
        )
    )
    return BaySpec(
        sections=sections,
        wheel_arches=arches,
        seat_back=SeatBackSpec(
            foot=Measured(FRONT), leans=Measured(15.0), notches=(8.0, 22.0), top=Measured(600.0)
        ),
        tailgate=TailgateSpec(
            inner_face={
                0.0: Measured(0.0),
                draw(numbers(200.0, 500.0)): Measured(draw(numbers(0.0, 60.0))),
                800.0: Measured(draw(numbers(60.0, 250.0))),
            }
        ),
    )


@st.composite
def spans(draw: st.DrawFn, low: float, high: float) -> Span:
    size = draw(numbers(10.0, (high - low) * 0.7))
    start = draw(numbers(low, high - size))
    return start, start + size


@settings(max_examples=40, deadline=None)
@given(curved(), spans(0.0, 1000.0), spans(0.0, 700.0), numbers(0.0, 12.0))
def test_a_block_that_fills_the_answer_keeps_what_was_asked(
    spec: BaySpec, x: Span, z: Span, clear: float
) -> None:
    bay = build_bay(spec)
    y = clear_width(bay, x, z, clear=clear)
    assert gap(bay, ("wall", "arch"), x, y, z) >= clear - ROUNDING
    front, rear = front_face(bay, *z, clear=clear), rear_face(bay, *z, clear=clear)
    assume(front - rear > 1.0)
    narrow = (-300.0, 300.0)
    assert gap(bay, ("seat back",), (front - 1.0, front), narrow, z) >= clear - ROUNDING
    assert gap(bay, ("tailgate", "sill"), (rear, rear + 1.0), narrow, z) >= clear - ROUNDING
    top = roof_height(bay, *x, clear=clear)
    assert gap(bay, ("roof",), x, narrow, (top - 10.0, top)) >= clear - ROUNDING


@settings(max_examples=40, deadline=None)
@given(curved(), spans(0.0, 1000.0), spans(0.0, 700.0))
def test_without_a_clearance_the_answer_goes_right_to_the_wall(
    spec: BaySpec, x: Span, z: Span
) -> None:
    """Half a millimetre more on either side is in the wall or the arch."""
    bay = build_bay(spec)
    y = clear_width(bay, x, z)
    assert gap(bay, ("left w",), x, (0.0, y[1] + 0.5), z) < 0.0
    assert gap(bay, ("right w",), x, (y[0] - 0.5, 0.0), z) < 0.0


@settings(max_examples=40, deadline=None)
@given(
    st.tuples(numbers(560.0, 640.0), numbers(-60.0, 60.0), numbers(-60.0, 60.0)),
    spans(0.0, 1000.0),
    spans(0.0, 700.0),
    numbers(0.0, 12.0),
)
def test_against_a_plane_wall_the_answer_is_just_what_was_asked(
    wall: tuple[float, float, float], x: Span, z: Span, clear: float
) -> None:
    """The tapes at 0 and 1000 forward and at 0 and 800 up lie in one plane."""
    assume(z[0] > 15.0)
    assume(15.0 < x[0] < x[1] < 985.0)
    foot, taper, lean = wall
    rows = tuple(
        SectionSpec(
            at=Measured(at),
            widths={
                h: Measured(2.0 * (foot + at / 1000.0 * taper + h / 800.0 * lean))
                for h in (0.0, 800.0)
            },
            roof=Measured(850.0),
        )
        for at in (0.0, 1000.0)
    )
    bay = build_bay(BaySpec(sections=rows, front_wall=Measured(1000.0)))
    y = half_width(bay, "left", x, z, clear=clear)
    assert gap(bay, ("left wall",), x, (0.0, y), z) == pytest.approx(clear, abs=2e-5)
    wider = gap(bay, ("left wall",), x, (0.0, y + 0.5), z)
    square = math.sqrt(1.0 + (taper / 1000.0) ** 2 + (lean / 800.0) ** 2)
    if clear > 0.5:
        assert wider == pytest.approx(clear - 0.5 / square, abs=2e-5)
    else:
        assert wider < clear


@settings(max_examples=40, deadline=None)
@given(curved(), spans(0.0, 590.0), numbers(0.0, 12.0), st.sampled_from(["8°", "15°", "22°"]))
def test_against_one_notch_the_answer_is_just_what_was_asked(
    spec: BaySpec, z: Span, clear: float, notch: str
) -> None:
    """Below its upper edge the seat back is one plane."""
    bay = build_bay(spec)
    length = 600.0 / math.cos(math.radians(15.0))
    lean = math.radians(bay.seat_lean_deg[notch])
    assume(z[1] < length * math.cos(lean) - clear * math.sin(lean))
    front = front_face(bay, *z, notch, clear)
    name = f"seat back at {notch}"
    found = gap(bay, (name,), (front - 5.0, front), (-50.0, 50.0), z)
    assert found == pytest.approx(clear, abs=2e-5)
