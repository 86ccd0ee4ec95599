"""Redundant notes and the unknowns behind them, adjusted by weighted least squares.

A note is a reading, its standard uncertainty and how the reading follows from the unknowns.
Gauss-Newton with a numeric Jacobian; what no note determines is found from the singular
values of the weighted Jacobian, told in words and left where it was, while everything else
is adjusted. Lengths are mm, angles degrees; any other consistent unit will do.

Sources (from memory): Baarda, A testing procedure for use in geodetic networks, 1968
(redundancy numbers, the test of single notes, the smallest error it detects); Ghilani,
Adjustment Computations (global test, undetermined unknowns).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from fitout.model.fault import Path
from fitout.survey.uncertainty import chi_square_quantile

Array = npt.NDArray[np.float64]

ROUNDS = 20
"""Gauss-Newton steps at most."""

CONVERGED = 1e-9
"""The last step, relative to the unknown (or to NATURAL_SIZE if that is larger)."""

NATURAL_SIZE = 100.0
"""Unknowns smaller than this are stepped as if they had this size (mm, degrees)."""

DIFFERENCE = 1e-4
"""Relative half step of the numeric derivative: 0.1 mm on a metre, far above the 1e-6 mm to
which corners of solids are rounded, far below what bends a distance."""

REUSED = 1e-5
"""The Jacobian is worked out anew once an unknown has moved by more than this, relative."""

RANK = 1e-5
"""Singular values below this share of the largest, columns scaled alike, count as none: an
unknown known 100 000 times worse than its notes would let it be is not known. The notes'
uncertainties may therefore differ by some ten thousand times, not more."""

CHECKED = 1e-9
"""A note with a smaller redundancy number is checked by no other."""

DETECTED = 4.13
"""Non-centrality at which a test at α 0.001 finds an error in 80 % of cases (Baarda)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Observation:
    """One reading: what it said, how sure it is, and what it should be given the unknowns.

    `u` is the standard uncertainty in the unit of the value; `predict` takes the vector of all
    unknowns, of which only those listed in `on` (positions) matter. Readings of the same
    quantity bear the same `group`; `shared` is the part of `u` that all of a group have in
    common (the tape's own error), so that repeating never averages it away. `path` is where
    the note stands in the design file.
    """

    name: str
    path: Path
    value: float
    u: float
    predict: Callable[[Array], float]
    on: tuple[int, ...]
    group: str = ""
    shared: float = 0.0

    def __post_init__(self) -> None:
        if not (math.isfinite(self.value) and math.isfinite(self.u) and self.u > 0.0):
            raise ValueError(f"{self.name}: {self.value:g} ± {self.u:g} is no reading")
        if not 0.0 <= self.shared < self.u:
            raise ValueError(f"{self.name}: the shared part must be less than all of u")


@dataclass(frozen=True, slots=True, kw_only=True)
class Undetermined:
    """Unknowns that may change together, in these proportions, without any note noticing.

    `direction` has the size of the vector of unknowns, its largest number 1.
    """

    unknowns: tuple[int, ...]
    names: tuple[str, ...]
    direction: tuple[float, ...]
    combination: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Adjustment:
    """Adjusted unknowns, how sure they are, and how each note stands to the others.

    With n unknowns and m notes: `values` (n); `spread` (n × n), the covariance of what is
    determined, from the uncertainties given (a priori); `jacobian` (m × n); `weights` (m × m),
    the inverse covariance of the notes; `residuals` (m), adjusted minus read; `redundancy`
    (m), how far the others check each note, 0 to 1 without shared errors, in total the degrees
    of freedom; `standardised` (m), the residual over its own standard uncertainty, 0 where
    nothing checks the note; `detectable` (m), the smallest error of each note that the test
    finds in 80 % of cases at α 0.001, infinite where nothing checks it; `tests` (m × m), the
    covariance of the weighted residuals. `pvv` is the weighted sum of squares. `settled` is
    False if the steps did not come to rest.
    """

    observations: tuple[Observation, ...]
    names: tuple[str, ...]
    values: Array
    spread: Array
    jacobian: Array
    weights: Array
    residuals: Array
    redundancy: Array
    standardised: Array
    detectable: Array
    tests: Array
    freedom: int
    pvv: float
    undetermined: tuple[Undetermined, ...]
    settled: bool

    @property
    def covariance(self) -> Array:
        """Covariance of the unknowns (n × n), infinite on the diagonal for the undetermined."""
        covariance = self.spread.copy()
        for free in self.undetermined:
            for k in free.unknowns:
                covariance[k, k] = math.inf
        return covariance

    @property
    def m0(self) -> float:
        """How large errors were for the uncertainties given (a posteriori), 1 if unchecked."""
        return math.sqrt(self.pvv / self.freedom) if self.freedom else 1.0

    @property
    def limit(self) -> float:
        """What `pvv` stays below in 95 % of honest surveys."""
        return chi_square_quantile(0.95, self.freedom) if self.freedom else math.inf

    @property
    def consistent(self) -> bool:
        """Whether the notes as a whole agree as well as their uncertainties say."""
        return self.pvv <= self.limit

    def variance(self, gradients: Array) -> Array:
        """Variance of quantities with these gradients (k × n), infinite where undetermined."""
        wanted = np.atleast_2d(gradients)
        variance: Array = np.sum((wanted @ self.spread) * wanted, axis=1)
        for free in self.undetermined:
            direction = np.array(free.direction)
            reach = np.abs(wanted) @ np.abs(direction)
            variance[np.abs(wanted @ direction) > 1e-4 * reach + 1e-12] = math.inf
        return np.maximum(variance, 0.0)

    def likeness(self) -> Array:
        """Correlation (m × m) of the standardised residuals; 0 for unchecked notes.

        Two notes at 1 or −1 can't be told apart: an error in one looks like one in the other.
        """
        scale = np.where(self.detectable < math.inf, self.detectable / DETECTED, 0.0)
        likeness: Array = self.tests * np.outer(scale, scale)
        return likeness


def adjust(observations: Sequence[Observation], start: Array, names: Sequence[str]) -> Adjustment:
    """The unknowns that agree best with all notes, starting from `start`.

    `names` are the unknowns', in order. What is undetermined stays as near to `start` as the
    rest allows and is reported in `undetermined`; no set of notes is refused.

    Raises:
        ValueError: when a note can't be predicted from `start` (not a finite number).
    """
    weights = weights_of(observations)
    values = np.array(start, dtype=np.float64)
    misfit = _misfit(observations, values, demand=True)
    linear = _linear(observations, values, weights)
    worked_at = values
    settled = False
    for _ in range(ROUNDS):
        if _moved(worked_at, values) > REUSED:
            linear = _linear(observations, values, weights)
            worked_at = values
        step = -linear.spread @ (linear.jacobian.T @ (weights @ misfit))
        taken, following = _shortened(observations, values, step, misfit, weights)
        moved = _moved(values, taken)
        values, misfit = taken, following
        if moved <= CONVERGED:
            settled = _moved(values, values + step) <= 10.0 * CONVERGED
            break
    linear = replace(linear, settled=settled)
    return _judged(observations, names, values, misfit, linear)


def gradients_of(observations: Sequence[Observation], values: Array) -> Array:
    """How each note's prediction changes with each unknown (m × n), by central differences."""
    moved = np.array(values, dtype=np.float64)
    steps = DIFFERENCE * np.maximum(np.abs(moved), NATURAL_SIZE)
    gradients = np.zeros((len(observations), len(moved)))
    for i, note in enumerate(observations):
        for k in note.on:
            kept = moved[k]
            moved[k] = kept + steps[k]
            above = note.predict(moved)
            moved[k] = kept - steps[k]
            gradients[i, k] = (above - note.predict(moved)) / (2.0 * steps[k])
            moved[k] = kept
    return gradients


def weights_of(observations: Sequence[Observation]) -> Array:
    """The inverse covariance of the notes (m × m)."""
    covariance = np.diag([note.u**2 for note in observations])
    for members in groups_of(observations).values():
        shared = np.array([observations[i].shared for i in members])
        own = np.array([observations[i].u for i in members]) ** 2 - shared**2
        covariance[np.ix_(members, members)] = np.outer(shared, shared) + np.diag(own)
    weights: Array = np.linalg.inv(covariance)
    return weights


def groups_of(observations: Sequence[Observation]) -> Mapping[str, list[int]]:
    """Positions of the notes of each group whose readings have an error in common."""
    groups: dict[str, list[int]] = {}
    for i, note in enumerate(observations):
        if note.group and note.shared:
            groups.setdefault(note.group, []).append(i)
    return groups


def _misfit(observations: Sequence[Observation], values: Array, *, demand: bool = False) -> Array:
    misfit = np.array([note.predict(values) - note.value for note in observations])
    if demand and not np.all(np.isfinite(misfit)):
        first = observations[int(np.argmin(np.isfinite(misfit)))]
        raise ValueError(f"{first.name}: nothing to compare the reading with where we start")
    return misfit


def _moved(before: Array, after: Array) -> float:
    size = np.maximum(np.abs(before), NATURAL_SIZE)
    return float(np.max(np.abs(after - before) / size, initial=0.0))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Linear:
    """The notes as linear in the unknowns.

    With P the weights, `root` is L of P = L Lᵀ; `fitted` (m × rank) an orthonormal basis of
    what of the notes, so weighted, the unknowns can follow; `free` (d × n) the directions no
    note determines.
    """

    jacobian: Array
    weights: Array
    root: Array
    fitted: Array
    spread: Array
    free: Array
    settled: bool = False


def _linear(observations: Sequence[Observation], values: Array, weights: Array) -> _Linear:
    """The notes' decomposition, columns scaled alike first so that degrees and mm weigh alike."""
    jacobian = gradients_of(observations, values)
    root = np.asarray(np.linalg.cholesky(weights), dtype=np.float64)
    rows = root.T @ jacobian
    scale = np.sqrt(np.sum(rows**2, axis=0))
    scale[scale <= 1e-12 * np.max(scale, initial=0.0)] = 1.0
    # Rows of nothing make the decomposition speak of every unknown, however few the notes.
    padding = np.zeros((max(len(values) - len(rows), 0), len(values)))
    padded = np.vstack((rows / scale, padding))
    fitted, singular, turned = np.linalg.svd(padded, full_matrices=False)
    known = singular > RANK * max(np.max(singular, initial=0.0), 1e-300)
    sure = turned[known] / scale / singular[known, None]
    return _Linear(
        jacobian=jacobian,
        weights=weights,
        root=root,
        fitted=fitted[: len(rows), known],
        spread=sure.T @ sure,
        free=turned[~known] / scale,
    )


def _shortened(
    observations: Sequence[Observation],
    values: Array,
    step: Array,
    misfit: Array,
    weights: Array,
) -> tuple[Array, Array]:
    """The step, halved until the notes agree no worse than before; and the misfit there."""
    worst = misfit @ weights @ misfit * (1.0 + 1e-9) + 1e-9
    for _ in range(ROUNDS):
        taken = values + step
        following = _misfit(observations, taken)
        if following @ weights @ following <= worst:
            return taken, following
        step = step / 2.0
    return values, misfit


def _judged(
    observations: Sequence[Observation],
    names: Sequence[str],
    values: Array,
    misfit: Array,
    linear: _Linear,
) -> Adjustment:
    weights = linear.weights
    # With P the weights and Q the residuals' covariance this is PQP; from the orthonormal
    # basis, because the covariance of the unknowns would cost half the digits.
    left = np.eye(len(misfit)) - linear.fitted @ linear.fitted.T
    tests = linear.root @ left @ linear.root.T
    redundancy = np.sum(tests * np.linalg.inv(weights), axis=1)
    sure = np.diag(tests) > CHECKED * np.diag(weights)
    root = np.sqrt(np.where(sure, np.diag(tests), 1.0))
    return Adjustment(
        observations=tuple(observations),
        names=tuple(names),
        values=values,
        spread=linear.spread,
        jacobian=linear.jacobian,
        weights=weights,
        residuals=misfit,
        redundancy=np.where(sure, np.maximum(redundancy, 0.0), 0.0),
        standardised=np.where(sure, weights @ misfit / root, 0.0),
        detectable=np.where(sure, DETECTED / root, math.inf),
        tests=tests,
        freedom=len(observations) - linear.fitted.shape[1],
        pvv=float(misfit @ weights @ misfit),
        undetermined=tuple(_told(direction, names) for direction in _sparse(linear.free)),
        settled=linear.settled,
    )


def _sparse(free: Array) -> Array:
    """The same directions with as few unknowns in each as elimination can manage."""
    if not len(free):
        return free
    rows = free / np.max(np.abs(free), axis=1, keepdims=True)
    for i in range(len(rows)):
        pivot = int(np.argmax(np.abs(rows[i])))
        rows[i] /= rows[i, pivot]
        for other in range(len(rows)):
            if other != i:
                rows[other] -= rows[other, pivot] * rows[i]
    rows = rows / np.max(np.abs(rows), axis=1, keepdims=True)
    rows[np.abs(rows) < 1e-4] = 0.0
    order = sorted(range(len(rows)), key=lambda i: int(np.argmax(rows[i] != 0.0)))
    in_order: Array = rows[order]
    return in_order


def _told(direction: Array, names: Sequence[str]) -> Undetermined:
    unknowns = tuple(int(k) for k in np.flatnonzero(direction))
    first = direction[unknowns[0]]
    shares = direction / first if abs(first) > 0.5 else direction
    called = tuple(names[k] for k in unknowns)
    if len(unknowns) == 1:
        told = f"no note says what {called[0]} is"
    elif all(abs(shares[k] - 1.0) < 1e-3 for k in unknowns):
        told = f"{_listed(called)} may all change alike: no note holds any of them"
    else:
        amounts = [f"{name} by {shares[k]:.3g}" for k, name in zip(unknowns, called, strict=True)]
        told = f"{_listed(amounts)} may change together: no note would notice"
    return Undetermined(
        unknowns=unknowns,
        names=called,
        direction=tuple(direction.tolist()),
        combination=told,
    )


def _listed(parts: Sequence[str]) -> str:
    shown = list(parts) if len(parts) <= 6 else [*parts[:5], f"{len(parts) - 5} more"]
    return f"{', '.join(shown[:-1])} and {shown[-1]}"
