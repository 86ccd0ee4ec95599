from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.catalogue import load
from fitout.mechanics.beams import bending_stress_mpa, second_moment, uniform_load
from fitout.mechanics.plates import (
    Edges,
    Patch,
    Plate,
    PlateResult,
    isotropic_shear_mpa,
    plate_fields,
    plate_of_board,
    plate_response,
)

PLY = Plate(
    span_u=600.0,
    span_v=900.0,
    thickness=12.0,
    e_u_mpa=9_600.0,
    e_v_mpa=7_600.0,
    shear_mpa=620.0,
    poisson=0.1,
)
PRESSURE_MPA = 0.002
EDGES: tuple[Edges, ...] = ("all", "u ends", "v ends")

plates = st.builds(
    Plate,
    span_u=st.floats(200.0, 1_000.0),
    span_v=st.floats(200.0, 1_000.0),
    thickness=st.floats(4.0, 24.0),
    e_u_mpa=st.floats(1_000.0, 16_500.0),
    e_v_mpa=st.floats(1_000.0, 16_500.0),
    shear_mpa=st.floats(300.0, 1_000.0),
    poisson=st.floats(0.0, 0.3),
    edges=st.sampled_from(EDGES),
)
patches = st.builds(
    Patch,
    load_n=st.floats(10.0, 1_000.0),
    size_u=st.floats(60.0, 200.0),
    size_v=st.floats(60.0, 200.0),
)


def at_middle(plate: Plate, patch: Patch | None = None) -> tuple[float, float, float]:
    u, v = np.array([plate.span_u / 2.0]), np.array([plate.span_v / 2.0])
    pressure = 0.0 if patch else PRESSURE_MPA
    fields = plate_fields(plate, u, v, pressure, patch)
    return (
        float(fields.deflection[0, 0]),
        float(fields.stress_u_mpa[0, 0]),
        float(fields.stress_v_mpa[0, 0]),
    )


def as_tuple(result: PlateResult) -> tuple[float, float, float]:
    return result.deflection, result.stress_u_mpa, result.stress_v_mpa


def turned(plate: Plate) -> Plate:
    other: dict[str, Edges] = {"all": "all", "u ends": "v ends", "v ends": "u ends"}
    return replace(
        plate,
        span_u=plate.span_v,
        span_v=plate.span_u,
        e_u_mpa=plate.e_v_mpa,
        e_v_mpa=plate.e_u_mpa,
        edges=other[plate.edges],
    )


def test_an_orthotropic_panel_reckoned_beforehand() -> None:
    assert at_middle(PLY) == pytest.approx((2.238, 3.558, 1.290), abs=6e-4)


def test_the_same_panel_with_its_grain_the_other_way() -> None:
    crosswise = replace(PLY, e_u_mpa=PLY.e_v_mpa, e_v_mpa=PLY.e_u_mpa)
    assert at_middle(crosswise)[0] == pytest.approx(2.574, abs=6e-4)


def test_a_panel_alike_all_ways_reckoned_beforehand() -> None:
    plain = replace(
        PLY, e_u_mpa=7e3, e_v_mpa=7e3, shear_mpa=isotropic_shear_mpa(7e3, 0.3), poisson=0.3
    )
    w, stress, _ = at_middle(plain)
    assert (w, stress) == pytest.approx((1.807, 2.435), abs=6e-4)


@pytest.mark.parametrize("edges", ["u ends", "v ends"])
def test_without_poisson_s_ratio_two_held_edges_make_a_beam(edges: Edges) -> None:
    plate = replace(PLY, poisson=0.0, edges=edges)
    span, width = (600.0, 900.0) if edges == "u ends" else (900.0, 600.0)
    e_mpa = plate.e_u_mpa if edges == "u ends" else plate.e_v_mpa
    inertia = second_moment(width, plate.thickness)
    beam = uniform_load(span, PRESSURE_MPA * 600.0 * 900.0, e_mpa * inertia)
    stress = bending_stress_mpa(beam.moment_nmm, plate.thickness, inertia)
    result = plate_response(plate, PRESSURE_MPA)
    along, across = result.stress_u_mpa, result.stress_v_mpa
    if edges == "v ends":
        along, across = across, along
    assert result.deflection == pytest.approx(beam.deflection, rel=1e-5)
    assert along == pytest.approx(stress, rel=1e-4)
    assert across == pytest.approx(0.0, abs=1e-4)


def test_a_patch_of_the_whole_plate_is_a_pressure() -> None:
    whole = Patch(PRESSURE_MPA * 600.0 * 900.0, 600.0, 900.0)
    for edges in EDGES:
        plate = replace(PLY, edges=edges)
        w, *stresses = at_middle(plate, whole)
        expected_w, *expected = at_middle(plate)
        assert w == pytest.approx(expected_w, rel=2e-3)
        assert stresses == pytest.approx(expected, abs=2e-3 * max(expected))


def test_free_edges_bend_and_carry_no_stress_across() -> None:
    plate = replace(PLY, edges="u ends")
    u, v = np.array([0.0, 300.0]), np.array([0.0, 450.0, 900.0])
    fields = plate_fields(plate, u, v, PRESSURE_MPA, Patch(300.0, 100.0, 100.0))
    assert fields.deflection[0] == pytest.approx(0.0, abs=1e-9)
    assert fields.deflection[1, 0] == pytest.approx(fields.deflection[1, 2])
    assert fields.deflection[1, 0] > 0.5 * fields.deflection[1, 1]
    assert fields.stress_v_mpa[1, 0] == pytest.approx(0.0, abs=1e-3 * fields.stress_v_mpa[1, 1])


def test_the_largest_stress_may_lie_away_from_the_middle() -> None:
    # A long plate's stress along its length peaks towards the ends.
    long = replace(PLY, span_v=2_400.0)
    assert plate_response(long, PRESSURE_MPA).stress_v_mpa > 1.02 * at_middle(long)[2]


def test_a_small_patch_is_worse_than_the_same_load_spread() -> None:
    for edges in EDGES:
        plate = replace(PLY, edges=edges)
        spread = as_tuple(plate_response(plate, 300.0 / (600.0 * 900.0)))
        knee = as_tuple(plate_response(plate, patch=Patch(300.0, 100.0, 100.0)))
        assert all(b > a for a, b in zip(spread, knee, strict=True))


@settings(max_examples=25, deadline=None)
@given(plate=plates, patch=patches)
def test_turning_the_plate_turns_the_stresses(plate: Plate, patch: Patch) -> None:
    there = plate_response(plate, PRESSURE_MPA, patch)
    back = plate_response(
        turned(plate), PRESSURE_MPA, Patch(patch.load_n, patch.size_v, patch.size_u)
    )
    expected = (there.deflection, there.stress_v_mpa, there.stress_u_mpa)
    assert as_tuple(back) == pytest.approx(expected, rel=1e-9)


@settings(max_examples=25, deadline=None)
@given(plate=plates)
def test_holding_more_edges_never_lets_the_load_sink_further(plate: Plate) -> None:
    # The work of the load, not the middle alone: a far-off held edge can push the middle down.
    def mean(edges: Edges) -> float:
        shares = (np.arange(40) + 0.5) / 40.0
        u, v = shares * plate.span_u, shares * plate.span_v
        fields = plate_fields(replace(plate, edges=edges), u, v, PRESSURE_MPA)
        return float(fields.deflection.mean())

    held = mean("all")
    assert mean("u ends") >= held * 0.999
    assert mean("v ends") >= held * 0.999


@settings(max_examples=25, deadline=None)
@given(plate=plates, patch=patches, factor=st.floats(1.1, 3.0))
def test_loads_add_up_and_stiffness_divides(plate: Plate, patch: Patch, factor: float) -> None:
    u, v = np.array([plate.span_u / 3.0]), np.array([plate.span_v / 2.0])
    pressed = plate_fields(plate, u, v, PRESSURE_MPA).deflection[0, 0]
    patched = plate_fields(plate, u, v, 0.0, patch).deflection[0, 0]
    both = plate_fields(plate, u, v, PRESSURE_MPA, patch).deflection[0, 0]
    assert both == pytest.approx(pressed + patched, rel=1e-9)
    thicker = replace(plate, thickness=plate.thickness * factor)
    thinner = plate_fields(thicker, u, v, PRESSURE_MPA, patch).deflection[0, 0]
    assert thinner == pytest.approx(both / factor**3, rel=1e-9)


def test_the_plate_of_a_board_turns_with_its_grain() -> None:
    board = load().sheets["birch ply 6.5"]
    along = plate_of_board(board, (300.0, 400.0), "all")
    across = plate_of_board(board, (300.0, 400.0), "all", grain_along_u=False)
    assert along is not None
    assert across is not None
    assert (along.e_u_mpa, along.e_v_mpa) == (board.e_along_mpa, board.e_across_mpa)
    assert (across.e_u_mpa, across.e_v_mpa) == (board.e_across_mpa, board.e_along_mpa)
    assert along.thickness == 6.4


def test_a_board_without_grain_needs_no_shear_modulus() -> None:
    plate = plate_of_board(load().sheets["mdf 12"], (300.0, 400.0), "u ends")
    assert plate is not None
    assert plate.shear_mpa == pytest.approx(2_500.0 / 2.6)
    assert plate.edges == "u ends"


@pytest.mark.parametrize("sheet", ["pine ply 12", "closed-cell foam 30"])
def test_a_board_without_bending_values_gives_no_plate(sheet: str) -> None:
    assert plate_of_board(load().sheets[sheet], (300.0, 400.0), "all") is None


def test_plywood_without_a_shear_modulus_gives_no_plate() -> None:
    board = replace(load().sheets["birch ply 12"], shear_mpa=None)
    assert plate_of_board(board, (300.0, 400.0), "all") is None


@pytest.mark.parametrize(
    ("field", "value"),
    [("span_u", 0.0), ("thickness", -1.0), ("e_v_mpa", float("nan")), ("poisson", 0.5)],
)
def test_a_plate_that_cannot_be_is_refused(field: str, value: float) -> None:
    with pytest.raises(ValueError, match=field):
        replace(PLY, **{field: value})


def test_edges_must_be_known() -> None:
    with pytest.raises(ValueError, match="'left'"):
        replace(PLY, edges="left")  # type: ignore[arg-type]


@pytest.mark.parametrize("patch", [Patch(1.0, 700.0, 100.0), Patch(1.0, 0.0, 100.0)])
def test_a_patch_must_fit(patch: Patch) -> None:
    with pytest.raises(ValueError, match="600 × 900"):
        plate_response(PLY, patch=patch)
