"""Doubled spans, halved thicknesses, turned grain and moved masses, as statics says."""

import dataclasses

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.catalogue import load
from fitout.checks.bending import Bent, bent_panel
from fitout.checks.memory import Memory
from fitout.mechanics.slides import row_forces_n
from fitout.model.module import PlateDuty
from fitout.model.panel import Grain
from fitout.model.stock import Board

PLY = dataclasses.replace(load().sheets["birch ply 12"], density_kg_m3=1e-9)
"""Birch ply without weight, so that the load alone counts."""

SPANS = st.floats(300.0, 900.0)
LOADS = st.floats(5.0, 60.0)


def bent(board: Board, spans: tuple[float, float], load_kg: float, grain: Grain) -> Bent:
    duty = PlateDuty(panel="a/x", load_kg=load_kg, spans=spans, edges="u ends", purpose="its load")
    found = bent_panel(Memory(), board, duty, grain)
    assert found is not None
    return found


@settings(max_examples=15, deadline=None)
@given(span=SPANS, width=st.floats(300.0, 900.0), load_kg=LOADS)
def test_twice_the_span_and_width_under_four_times_the_load(
    span: float, width: float, load_kg: float
) -> None:
    """The same pressure over a plate twice as large: sag × 2⁴, stress × 2²."""
    one = bent(PLY, (span, width), load_kg, Grain.ALONG_U)
    two = bent(PLY, (2.0 * span, 2.0 * width), 4.0 * load_kg, Grain.ALONG_U)
    assert two.sag == pytest.approx(16.0 * one.sag, rel=1e-6)
    assert two.final == pytest.approx(16.0 * one.final, rel=1e-6)
    assert two.use == pytest.approx(4.0 * one.use, rel=1e-6)


@settings(max_examples=15, deadline=None)
@given(span=st.floats(300.0, 700.0), load_kg=LOADS)
def test_twice_the_span_of_a_strip(span: float, load_kg: float) -> None:
    """A strip so narrow that it bends as a beam: the same load over 2 L sags 2³, bends twice."""
    one = bent(PLY, (span, 60.0), load_kg, Grain.ALONG_U)
    two = bent(PLY, (2.0 * span, 60.0), load_kg, Grain.ALONG_U)
    assert two.sag == pytest.approx(8.0 * one.sag, rel=0.02)
    assert two.use == pytest.approx(2.0 * one.use, rel=0.02)


@settings(max_examples=15, deadline=None)
@given(span=SPANS, width=SPANS, load_kg=LOADS)
def test_half_the_thickness(span: float, width: float, load_kg: float) -> None:
    thin = dataclasses.replace(PLY, thickness=PLY.thickness / 2.0)
    whole, half = (bent(b, (span, width), load_kg, Grain.ALONG_U) for b in (PLY, thin))
    assert half.sag == pytest.approx(8.0 * whole.sag, rel=1e-6)
    assert half.use == pytest.approx(4.0 * whole.use, rel=1e-6)


@settings(max_examples=15, deadline=None)
@given(span=st.floats(400.0, 900.0), load_kg=LOADS)
def test_a_strip_turned_by_a_quarter(span: float, load_kg: float) -> None:
    """A beam sags by the ratio of the stiffnesses, its use grows by that of the strengths."""
    along, across = (bent(PLY, (span, 40.0), load_kg, g) for g in (Grain.ALONG_U, Grain.ALONG_V))
    stiff = (PLY.e_along_mpa or 0.0) / (PLY.e_across_mpa or 1.0)
    strong = (PLY.strength_along_mpa or 0.0) / (PLY.strength_across_mpa or 1.0)
    assert across.sag / along.sag == pytest.approx(stiff, rel=0.02)
    assert across.use / along.use == pytest.approx(strong, rel=0.02)


@settings(max_examples=25, deadline=None)
@given(
    load_n=st.floats(1.0, 2_000.0),
    at=st.floats(-1_000.0, 1_000.0),
    shift=st.floats(-500.0, 500.0),
    gaps=st.lists(st.floats(20.0, 200.0), min_size=1, max_size=6),
)
def test_a_mass_moved_along_its_slide(
    load_n: float, at: float, shift: float, gaps: list[float]
) -> None:
    """Screws balance the load wherever it is, and answer to a shift in proportion."""
    places = [35.0]
    for gap in gaps:
        places.append(places[-1] + gap)
    forces = row_forces_n(load_n, at, places)
    assert sum(forces) == pytest.approx(load_n, rel=1e-9, abs=1e-9)
    turned = sum(f * (x - at) for f, x in zip(forces, places, strict=True))
    assert turned == pytest.approx(0.0, abs=1e-7 * load_n * (1.0 + abs(at)))
    once, twice = (row_forces_n(load_n, at + k * shift, places) for k in (1, 2))
    for a, b, c in zip(forces, once, twice, strict=True):
        assert c - b == pytest.approx(b - a, rel=1e-6, abs=1e-6 * load_n)
