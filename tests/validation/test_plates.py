"""Plates against published tables, and against finite elements where no table reaches.

The published tables are for one material in all directions, Poisson's ratio 0.3.
"""

from __future__ import annotations

import numpy as np
import pytest

from fitout.mechanics.plates import Edges, Patch, Plate, isotropic_shear_mpa, plate_fields

SIDE, THICKNESS, E_MPA, PRESSURE_MPA, POISSON = 500.0, 5.0, 10_000.0, 0.001, 0.3


def alike_all_ways(ratio: float, edges: Edges = "all") -> Plate:
    """A plate of sides SIDE along u and `ratio` times that along v."""
    return Plate(
        span_u=SIDE,
        span_v=ratio * SIDE,
        thickness=THICKNESS,
        e_u_mpa=E_MPA,
        e_v_mpa=E_MPA,
        shear_mpa=isotropic_shear_mpa(E_MPA, POISSON),
        poisson=POISSON,
        edges=edges,
    )


def at(plate: Plate, u: float, v: float, patch: Patch | None = None) -> tuple[float, float, float]:
    """Deflection and both stresses at a point given as shares of the spans."""
    pressure = 0.0 if patch else PRESSURE_MPA
    place = np.array([u * plate.span_u]), np.array([v * plate.span_v])
    fields = plate_fields(plate, *place, pressure, patch)
    return (
        float(fields.deflection[0, 0]),
        float(fields.stress_u_mpa[0, 0]),
        float(fields.stress_v_mpa[0, 0]),
    )


def coefficients(ratio: float, edges: Edges = "all", v: float = 0.5) -> tuple[float, float, float]:
    """Timoshenko's α (w = α q a⁴ / D) and both β (M = β q a²) on the line u = a / 2."""
    w, stress_u, stress_v = at(alike_all_ways(ratio, edges), 0.5, v)
    rigidity = E_MPA * THICKNESS**3 / (12.0 * (1.0 - POISSON**2))
    moment = THICKNESS**2 / 6.0 / (PRESSURE_MPA * SIDE**2)
    return w * rigidity / (PRESSURE_MPA * SIDE**4), stress_u * moment, stress_v * moment


@pytest.mark.parametrize(
    ("ratio", "alpha", "beta_short", "beta_long"),
    [
        (1.0, 0.00406, 0.0479, 0.0479),
        (1.5, 0.00772, 0.0812, 0.0498),
        (2.0, 0.01013, 0.1017, 0.0464),
    ],
)
def test_timoshenko_table_8(
    ratio: float, alpha: float, beta_short: float, beta_long: float
) -> None:
    """Timoshenko & Woinowsky-Krieger, 2nd ed., Table 8: uniform load, four edges held.

    1 % because the book's own rounding is up to 0.4 % off.
    """
    assert coefficients(ratio) == pytest.approx((alpha, beta_short, beta_long), rel=0.01)


@pytest.mark.parametrize(
    ("ratio", "alpha", "beta_short", "beta_long"),
    [
        (1.2, 0.00564, 0.0627, 0.0501),
        (1.4, 0.00705, 0.0755, 0.0502),
        (1.6, 0.00830, 0.0862, 0.0492),
        (1.8, 0.00931, 0.0948, 0.0479),
        (3.0, 0.01223, 0.1189, 0.0406),
    ],
)
def test_timoshenko_table_8_from_memory(
    ratio: float, alpha: float, beta_short: float, beta_long: float
) -> None:
    """The same table's other rows, from memory."""
    assert coefficients(ratio) == pytest.approx((alpha, beta_short, beta_long), rel=0.01)


def test_a_very_long_plate_bends_as_a_strip() -> None:
    """Timoshenko & Woinowsky-Krieger, Table 8, last row: 5/384, 1/8 and 0.3/8."""
    assert coefficients(8.0) == pytest.approx((5 / 384, 0.1250, 0.0375), rel=0.001)


def test_two_opposite_edges_free_from_memory() -> None:
    """Timoshenko & Woinowsky-Krieger, § 48: square, uniform load, two edges free; from memory."""
    middle = coefficients(1.0, "u ends")
    assert middle == pytest.approx((0.01309, 0.1225, 0.0271), rel=0.01)
    edge = coefficients(1.0, "u ends", v=0.0)
    assert edge[:2] == pytest.approx((0.01509, 0.1318), rel=0.01)


@pytest.mark.parametrize(
    ("ratio", "beta", "alpha"),
    [
        (1.0, 0.2874, 0.0444),
        (1.2, 0.3762, 0.0616),
        (1.4, 0.4530, 0.0770),
        (1.6, 0.5172, 0.0906),
        (1.8, 0.5688, 0.1017),
        (2.0, 0.6102, 0.1110),
        (3.0, 0.7134, 0.1335),
        (4.0, 0.7410, 0.1400),
        (5.0, 0.7476, 0.1417),
    ],
)
def test_roark_table_11_4_case_1a(ratio: float, beta: float, alpha: float) -> None:
    """Roark's Formulas for Stress and Strain, 7th ed., Table 11.4 case 1a.

    σ = β q b² / t² and y = α q b⁴ / (E t³), b the short side. The printed α at 2.0 is itself
    0.4 % above the exact 0.1106.
    """
    w, stress, _ = at(alike_all_ways(ratio), 0.5, 0.5)
    assert stress * THICKNESS**2 / (PRESSURE_MPA * SIDE**2) == pytest.approx(beta, rel=0.005)
    rigid = E_MPA * THICKNESS**3
    assert w * rigid / (PRESSURE_MPA * SIDE**4) == pytest.approx(alpha, rel=0.005)


def test_roark_table_11_4_case_1c() -> None:
    """Roark, 7th ed., Table 11.4 case 1c: square, central patch of 0.2 × 0.2, σ = β W / t²."""
    load_n = 100.0
    _, stress, _ = at(alike_all_ways(1.0), 0.5, 0.5, Patch(load_n, 0.2 * SIDE, 0.2 * SIDE))
    assert stress * THICKNESS**2 / load_n == pytest.approx(1.28, rel=0.005)


# Finite elements: a quarter plate of rectangular twelve-term bending elements.

CORNERS = ((0, 0), (1, 0), (1, 1), (0, 1))
POWERS = (
    (0, 0),
    (1, 0),
    (0, 1),
    (2, 0),
    (1, 1),
    (0, 2),
    (3, 0),
    (2, 1),
    (1, 2),
    (0, 3),
    (3, 1),
    (1, 3),
)


def monomials(x: float, y: float, dx: int = 0, dy: int = 0) -> np.ndarray:
    """The twelve terms' derivative of order (dx, dy)."""

    def part(value: float, power: int, order: int) -> float:
        factor = 1.0
        for step in range(order):
            factor *= power - step
        return factor * value ** (power - order) if power >= order else 0.0

    return np.array([part(x, p, dx) * part(y, q, dy) for p, q in POWERS])


def curvatures(x: float, y: float) -> np.ndarray:
    """Rows w,xx, w,yy and 2 w,xy of the twelve terms."""
    return np.stack([monomials(x, y, 2), monomials(x, y, 0, 2), 2.0 * monomials(x, y, 1, 1)])


def bending_matrix(plate: Plate) -> np.ndarray:
    """Moments from curvatures; the smaller Poisson's ratio by reciprocity."""
    e_u, e_v, nu = plate.e_u_mpa, plate.e_v_mpa, plate.poisson
    nu_uv, nu_vu = (nu, nu * e_v / e_u) if e_u >= e_v else (nu * e_u / e_v, nu)
    shared = 1.0 - nu_uv * nu_vu
    elastic = np.array(
        [
            [e_u / shared, nu_vu * e_u / shared, 0],
            [nu_uv * e_v / shared, e_v / shared, 0],
            [0, 0, plate.shear_mpa],
        ]
    )
    return elastic * plate.thickness**3 / 12.0


def finite_elements(
    plate: Plate, count: int, pressure_mpa: float, patch: Patch | None
) -> tuple[float, float, float]:
    """Deflection and both stresses at the middle, by `count` × `count` elements of a quarter."""
    h, k = plate.span_u / 2.0 / count, plate.span_v / 2.0 / count
    to_nodes = np.concatenate(
        [
            [monomials(i * h, j * k), monomials(i * h, j * k, 1), monomials(i * h, j * k, 0, 1)]
            for i, j in CORNERS
        ]
    )
    to_terms = np.linalg.inv(to_nodes)
    elastic = bending_matrix(plate)
    stiffness, load = np.zeros((12, 12)), np.zeros(12)
    points, weights = np.polynomial.legendre.leggauss(4)
    for x, wx in zip((points + 1) * h / 2, weights * h / 2, strict=True):
        for y, wy in zip((points + 1) * k / 2, weights * k / 2, strict=True):
            bent = curvatures(x, y) @ to_terms
            stiffness += bent.T @ elastic @ bent * wx * wy
            load += monomials(x, y) @ to_terms * wx * wy
    size = 3 * (count + 1) ** 2
    whole, force = np.zeros((size, size)), np.zeros(size)
    for i in range(count):
        for j in range(count):
            nodes = [(i + a) * (count + 1) + j + b for a, b in CORNERS]
            places = np.concatenate([np.arange(3 * n, 3 * n + 3) for n in nodes])
            whole[np.ix_(places, places)] += stiffness
            force[places] += load * intensity(
                plate, ((i + 0.5) * h, (j + 0.5) * k), pressure_mpa, patch
            )
    free = np.ones(size, dtype=bool)
    grid = np.arange((count + 1) ** 2).reshape(count + 1, count + 1)
    free[3 * grid[-1] + 1] = False  # level along u on the middle line
    free[3 * grid[:, -1] + 2] = False
    if plate.edges in ("all", "u ends"):
        free[3 * grid[0]] = free[3 * grid[0] + 2] = False
    if plate.edges in ("all", "v ends"):
        free[3 * grid[:, 0]] = free[3 * grid[:, 0] + 1] = False
    w = np.zeros(size)
    w[free] = np.linalg.solve(whole[np.ix_(free, free)], force[free])
    last = [grid[-2 + a, -2 + b] for a, b in CORNERS]
    terms = to_terms @ np.concatenate([w[3 * n : 3 * n + 3] for n in last])
    moments = -elastic @ curvatures(h, k) @ terms
    stress = moments * 6.0 / plate.thickness**2
    return float(w[3 * grid[-1, -1]]), float(stress[0]), float(stress[1])


def intensity(
    plate: Plate, point: tuple[float, float], pressure_mpa: float, patch: Patch | None
) -> float:
    """The load per area at a point of the quarter."""
    if patch is None:
        return pressure_mpa
    inside = (
        abs(point[0] - plate.span_u / 2.0) < patch.size_u / 2.0
        and abs(point[1] - plate.span_v / 2.0) < patch.size_v / 2.0
    )
    return pressure_mpa + patch.load_n / (patch.size_u * patch.size_v) * inside


@pytest.mark.parametrize("edges", ["all", "u ends", "v ends"])
@pytest.mark.parametrize("patch", [None, Patch(300.0, 120.0, 180.0)], ids=["uniform", "patch"])
def test_orthotropic_plate_against_finite_elements(edges: Edges, patch: Patch | None) -> None:
    """Twelve-term rectangular elements (Zienkiewicz, The Finite Element Method, from memory).

    Values at two meshes, carried on by their quadratic convergence to a mesh without end.
    """
    plate = Plate(
        span_u=600.0,
        span_v=900.0,
        thickness=6.4,
        e_u_mpa=12_737.0,
        e_v_mpa=4_763.0,
        shear_mpa=620.0,
        poisson=0.1,
        edges=edges,
    )
    pressure = 0.0005
    coarse = np.array(finite_elements(plate, 10, pressure, patch))
    fine = np.array(finite_elements(plate, 20, pressure, patch))
    expected = fine + (fine - coarse) / 3.0
    fields = plate_fields(plate, np.array([300.0]), np.array([450.0]), pressure, patch)
    found = (fields.deflection, fields.stress_u_mpa, fields.stress_v_mpa)
    assert np.ravel(found) == pytest.approx(expected, rel=0.001)
