"""Rectangular plates, orthotropic (plywood) or isotropic, under pressure and a central patch.

Thin plates, small deflections (good while the deflection stays below about half the
thickness; beyond it a held plate is stiffer than reckoned here), bending only: no shear
deformation, no rolling shear, no twisting stress at the corners. Supports hold the edge
down but let it turn; corners are held down.

Source: Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed., §§ 28-34
(Navier's double series), § 48 (two opposite edges free) and §§ 85-87 (orthotropic plates).
Section numbers from memory.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

import numpy as np
import numpy.typing as npt

from fitout.model.stock import Board

Array = npt.NDArray[np.float64]
Edges = Literal["all", "u ends", "v ends"]

TERMS = 100
"""Odd terms of each sine series."""

POLYNOMIALS = 10
"""Even Legendre polynomials between two free edges."""

GRID = 13
"""Points from a support to the middle among which the largest stress is sought."""

POISSON: Mapping[str, float] = MappingProxyType({"plywood": 0.1, "mdf": 0.3, "metal": 0.33})
"""Poisson's ratio by kind of board: aluminium from a data sheet, the others common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    """A plate's free spans, thickness, elastic values and which edges are held.

    `edges`: "all" four, the two "u ends" (it spans along u, the other edges free) or the two
    "v ends". `poisson` is the larger of the two ratios: contraction across under a pull along
    the stiffer way; the other follows by reciprocity.
    """

    span_u: float
    span_v: float
    thickness: float
    e_u_mpa: float
    e_v_mpa: float
    shear_mpa: float
    poisson: float
    edges: Edges = "all"

    def __post_init__(self) -> None:
        for name in ("span_u", "span_v", "thickness", "e_u_mpa", "e_v_mpa", "shear_mpa"):
            value = getattr(self, name)
            if not value > 0.0:
                raise ValueError(f"{name}: {value:g}; must be above 0")
        if not 0.0 <= self.poisson < 0.5:
            raise ValueError(f"poisson: {self.poisson:g}; must be from 0 to 0.5")
        if self.edges not in ("all", "u ends", "v ends"):
            raise ValueError(f"edges: {self.edges!r}; must be 'all', 'u ends' or 'v ends'")


@dataclass(frozen=True, slots=True)
class Patch:
    """A load of `load_n` spread evenly over `size_u` × `size_v` mm at the plate's middle."""

    load_n: float
    size_u: float
    size_v: float


@dataclass(frozen=True, slots=True)
class PlateResult:
    """The largest deflection (mm) and bending stresses (N/mm²), anywhere on the plate.

    `stress_u_mpa` pulls along u, `stress_v_mpa` along v.
    """

    deflection: float
    stress_u_mpa: float
    stress_v_mpa: float


@dataclass(frozen=True, slots=True, eq=False)
class PlateFields:
    """Deflection (mm) and bending stresses (N/mm²) at a grid of points, shape (len(u), len(v))."""

    deflection: Array
    stress_u_mpa: Array
    stress_v_mpa: Array


@dataclass(frozen=True, slots=True)
class _Stiffness:
    """Bending stiffnesses per width, N·mm: along u, along v, coupling and twisting."""

    u: float
    v: float
    coupling: float
    twist: float


def isotropic_shear_mpa(e_mpa: float, poisson: float) -> float:
    """The shear modulus of a material alike in all directions, N/mm²: E / 2 (1 + ν)."""
    return e_mpa / (2.0 * (1.0 + poisson))


def plate_of_board(
    board: Board, spans: tuple[float, float], edges: Edges, *, grain_along_u: bool = True
) -> Plate | None:
    """The plate a panel of `board` makes over the free spans along its u and v.

    None where the board lacks the E (or, if it has grain, the shear modulus) to reckon with.
    Raises ValueError as `Plate` does.
    """
    along, across, shear = board.e_along_mpa, board.e_across_mpa, board.shear_mpa
    poisson = POISSON.get(board.kind)
    if along is None or across is None or poisson is None:
        return None
    if shear is None:
        if board.grain:
            return None
        shear = isotropic_shear_mpa(along, poisson)
    return Plate(
        span_u=spans[0],
        span_v=spans[1],
        thickness=board.thickness,
        e_u_mpa=along if grain_along_u else across,
        e_v_mpa=across if grain_along_u else along,
        shear_mpa=shear,
        poisson=poisson,
        edges=edges,
    )


def plate_response(
    plate: Plate, pressure_mpa: float = 0.0, patch: Patch | None = None
) -> PlateResult:
    """The largest deflection and bending stresses under pressure, a central patch, or both.

    Sought on a grid of GRID × GRID points of one quarter, the middle among them.
    Raises ValueError as `plate_fields` does.
    """
    u = np.linspace(0.0, plate.span_u / 2.0, GRID)
    v = np.linspace(0.0, plate.span_v / 2.0, GRID)
    fields = plate_fields(plate, u, v, pressure_mpa, patch)
    return PlateResult(
        float(np.abs(fields.deflection).max()),
        float(np.abs(fields.stress_u_mpa).max()),
        float(np.abs(fields.stress_v_mpa).max()),
    )


def plate_fields(
    plate: Plate, u: Array, v: Array, pressure_mpa: float = 0.0, patch: Patch | None = None
) -> PlateFields:
    """Deflection and bending stresses on the grid of `u` and `v`, mm from one corner of the spans.

    Pressure in N/mm² over the whole plate, and a patch at its middle; they add up. For spans
    from 1 : 8 to 8 : 1 the series are cut off within 0.1 % of their sum for pressure and for
    patches of a twentieth of either span or more, within 1.5 % down to 1/150 of the longer.

    Raises:
        ValueError: if the patch is larger than the plate or has no size.
    """
    if patch is not None and not (
        0.0 < patch.size_u <= plate.span_u and 0.0 < patch.size_v <= plate.span_v
    ):
        size, spans = f"{patch.size_u:g} × {patch.size_v:g}", f"{plate.span_u:g} × {plate.span_v:g}"
        raise ValueError(f"patch: {size}; must have a size and fit on the spans, {spans}")
    patches: Loads = []
    if patch is not None:
        intensity = patch.load_n / (patch.size_u * patch.size_v)
        patches.append((intensity, patch.size_u, patch.size_v))
    if plate.edges == "all":
        whole = (pressure_mpa, plate.span_u, plate.span_v)
        w, w_uu, w_vv = _held_all_round(plate, u, v, [whole, *patches])
    elif plate.edges == "u ends":
        w, w_uu, w_vv = _held_at_u_ends(plate, u, v, pressure_mpa, patches)
    else:
        turned = [(intensity, across, along) for intensity, along, across in patches]
        bent = _held_at_u_ends(_turned(plate), v, u, pressure_mpa, turned)
        w, w_vv, w_uu = bent[0].T, bent[1].T, bent[2].T
    d = _stiffness(plate)
    modulus = plate.thickness**2 / 6.0
    return PlateFields(
        w,
        -(d.u * w_uu + d.coupling * w_vv) / modulus,
        -(d.v * w_vv + d.coupling * w_uu) / modulus,
    )


Loads = list[tuple[float, float, float]]
"""Central rectangular loads: intensity (N/mm²), size along u, size along v."""

_Curved = tuple[Array, Array, Array]
"""Deflection and its second derivatives along u and along v, each of shape (len(u), len(v))."""


def _turned(plate: Plate) -> Plate:
    """The same plate with u and v exchanged, held at its u ends."""
    return Plate(
        span_u=plate.span_v,
        span_v=plate.span_u,
        thickness=plate.thickness,
        e_u_mpa=plate.e_v_mpa,
        e_v_mpa=plate.e_u_mpa,
        shear_mpa=plate.shear_mpa,
        poisson=plate.poisson,
        edges="u ends",
    )


def _stiffness(plate: Plate) -> _Stiffness:
    soft, stiff = sorted((plate.e_u_mpa, plate.e_v_mpa))
    per_e = plate.thickness**3 / (12.0 * (1.0 - plate.poisson**2 * soft / stiff))
    return _Stiffness(
        u=plate.e_u_mpa * per_e,
        v=plate.e_v_mpa * per_e,
        coupling=plate.poisson * soft * per_e,
        twist=plate.shear_mpa * plate.thickness**3 / 12.0,
    )


def _sine_load(wave_numbers: Array, span: float, size: float) -> Array:
    """Coefficients of sin(k x) for a load of 1 over `size` at the middle of `span`."""
    middle = np.sin(wave_numbers * span / 2.0)
    result: Array = 4.0 / (wave_numbers * span) * middle * np.sin(wave_numbers * size / 2.0)
    return result


def _wave_numbers(span: float) -> Array:
    return np.asarray(np.pi * np.arange(1, 2 * TERMS, 2) / span, dtype=np.float64)


def _held_all_round(plate: Plate, u: Array, v: Array, loads: Loads) -> _Curved:
    """Navier's double series; see the module's source."""
    k, n = _wave_numbers(plate.span_u), _wave_numbers(plate.span_v)
    w = _double_series(plate, loads)
    sines_u, sines_v = np.sin(np.outer(u, k)), np.sin(np.outer(n, v))
    return (
        sines_u @ w @ sines_v,
        -(sines_u @ (w * (k**2)[:, None]) @ sines_v),
        -(sines_u @ (w * n**2) @ sines_v),
    )


def _double_series(plate: Plate, loads: Loads) -> Array:
    """Coefficients of Navier's series, shape (terms along u, terms along v)."""
    d = _stiffness(plate)
    k, n = _wave_numbers(plate.span_u), _wave_numbers(plate.span_v)
    k2, n2 = (k**2)[:, None], (n**2)[None, :]
    load = np.zeros((len(k), len(n)))
    for intensity, size_u, size_v in loads:
        along_u = intensity * _sine_load(k, plate.span_u, size_u)
        load += np.outer(along_u, _sine_load(n, plate.span_v, size_v))
    mixed = d.coupling + 2.0 * d.twist
    result: Array = load / (d.u * k2**2 + 2.0 * mixed * k2 * n2 + d.v * n2**2)
    return result


def _held_at_u_ends(
    plate: Plate, u: Array, v: Array, pressure_mpa: float, patches: Loads
) -> _Curved:
    """Two solutions laid over each other, for a patch is too sharp for polynomials.

    First the patch on the plate held all round; then the plate with its v edges free, under
    the pressure and the edge forces with which the first solution was held. Along u both are
    sine series; along v the second takes least energy over Legendre polynomials, which meets
    the conditions of a free edge by itself.
    """
    d = _stiffness(plate)
    k, n = _wave_numbers(plate.span_u), _wave_numbers(plate.span_v)
    half = plate.span_v / 2.0
    degrees, mass, slope, bend, cross = _legendre_energies()
    k2 = (k**2)[:, None, None]
    energy = (
        d.u * k2**2 * half * mass
        + 4.0 * d.twist * k2 / half * slope
        - d.coupling * k2 / half * (cross + cross.T)
        + d.v / half**3 * bend
    )
    work = np.zeros((len(k), len(degrees)))
    # Over the whole width only the constant polynomial does work.
    work[:, 0] = pressure_mpa * _sine_load(k, plate.span_u, plate.span_u) * plate.span_v
    if patches:
        first = _double_series(plate, patches)
        held = (first * n) @ (d.v * n**2) + (first @ n) * (d.coupling + 4.0 * d.twist) * k**2
        work += 2.0 * held[:, None]
    w = np.linalg.solve(energy, work[:, :, None])[:, :, 0]
    sines = np.sin(np.outer(u, k))
    shapes = _even_polynomials(v / half - 1.0, len(degrees))
    bent = _second_derivatives(len(degrees)) @ shapes / half**2
    second = sines @ w @ shapes, -(sines @ (w * k2[:, :, 0]) @ shapes), sines @ w @ bent
    if not patches:
        return second
    one = _held_all_round(plate, u, v, patches)
    return one[0] + second[0], one[1] + second[1], one[2] + second[2]


def _legendre_energies() -> tuple[Array, Array, Array, Array, Array]:
    """Even degrees, and over −1 to 1 the integrals of P P, P' P', P'' P'' and P P''.

    From P'_j being the sum of (2 k + 1) P_k over k = j − 1, j − 3, ..., and P_k having the
    square norm 2 / (2 k + 1).
    """
    every = np.arange(2 * POLYNOMIALS - 1)
    lower, higher = every[:, None], every[None, :]
    once = np.where((lower < higher) & ((higher - lower) % 2 == 1), 2.0 * lower + 1.0, 0.0)
    norms = np.diag(2.0 / (2.0 * every + 1.0))
    twice = once @ once
    even = slice(None, None, 2)
    once, twice_even = once[:, even], twice[:, even]
    return (
        every[even].astype(np.float64),
        norms[even, even],
        once.T @ norms @ once,
        twice_even.T @ norms @ twice_even,
        (norms @ twice_even)[even],
    )


def _even_polynomials(at: Array, count: int) -> Array:
    """The first even Legendre polynomials, shape (count, places), by Bonnet's recursion."""
    values = [np.ones_like(at), at]
    for i in range(2, 2 * count):
        values.append((values[-1] * at * (2 * i - 1) - values[-2] * (i - 1)) / i)
    return np.array(values[::2])


def _second_derivatives(count: int) -> Array:
    """The matrix that turns the values of even Legendre polynomials into their P''."""
    degrees = 2.0 * np.arange(count)
    inner, outer = degrees[None, :], degrees[:, None]
    # P''_j is the sum of (k + 1/2)(j (j + 1) − k (k + 1)) P_k over k = j − 2, j − 4, ...
    terms = (inner + 0.5) * (outer * (outer + 1.0) - inner * (inner + 1.0))
    result: Array = np.where(inner < outer, terms, 0.0)
    return result
