"""Choosing sheets out of many filled ones: the covering problem and its linear relaxation.

Each column is a filled sheet, each row a kind that must be cut often enough. The relaxation
tells what a further blank of each kind would cost, which is what a sheet filled next should
be judged by; the covering problem itself combines what was found at different times
(Gilmore & Gomory, "A linear programming approach to the cutting-stock problem", Operations
Research 9 (1961); as a heuristic for bin packing: Monaci & Toth, "A set-covering-based
heuristic approach for bin-packing problems", INFORMS Journal on Computing 18 (2006)).
Solved by HiGHS, loaded when it is first needed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from fitout.cutting.beam import Pattern
from fitout.cutting.task import Task, Values

NODES = 10
"""How far the covering problem is searched."""

MOST_ENTRIES = 100_000
"""Rows times columns of the covering problem; the likeliest columns are kept."""

CLOSE = 1e-6


@dataclass(frozen=True, slots=True, eq=False)
class Relaxed:
    """The relaxation's cost, the worth of one of each kind, what each column costs beyond it."""

    cost: float
    worth: Values
    excess: Values


def relaxed(columns: Sequence[Pattern], task: Task) -> Relaxed:
    """Solve the linear relaxation; the columns must be able to cover the demand."""
    from scipy.optimize import linprog

    prices = _prices(columns, task)
    rows, limits = _rows(columns, task)
    result = linprog(prices, A_ub=rows, b_ub=limits, method="highs")
    if result.status != 0:
        raise ValueError("The sheets don't hold every part.")
    duals = np.asarray(result.ineqlin.marginals, dtype=np.float64)
    excess = prices - rows.T @ duals
    return Relaxed(float(result.fun), np.maximum(-duals[: len(task.demand)], 0.0), excess)


def covered(
    columns: Sequence[Pattern], task: Task, below: float
) -> list[tuple[Pattern, int]] | None:
    """The cheapest columns that hold every part, and how often each; None if none was found.

    Looks only for choices that cost less than `below`.
    """
    from scipy.optimize import Bounds, LinearConstraint, milp

    relax = relaxed(columns, task)
    if relax.cost >= below - CLOSE:
        return None
    # A column that costs as much beyond what is on it is in no such choice.
    order = np.argsort(np.round(relax.excess, 9), kind="stable")
    likely = order[: MOST_ENTRIES // len(task.demand)]
    kept = [columns[i] for i in likely if relax.cost + relax.excess[i] < below - CLOSE]
    rows, limits = _rows(kept, task)
    result = milp(
        _prices(kept, task),
        integrality=np.ones(len(kept)),
        bounds=Bounds(0, np.inf),
        constraints=LinearConstraint(rows, ub=limits),
        options={"node_limit": NODES},
    )
    if result.x is None:
        return None
    times = np.round(result.x).astype(int)
    chosen = [(column, int(n)) for column, n in zip(kept, times, strict=True) if n > 0]
    cost = sum(task.stocks[column.offer.stock].price * n for column, n in chosen)
    return chosen if cost < below - CLOSE else None


def _prices(columns: Sequence[Pattern], task: Task) -> Values:
    return np.array([task.stocks[column.offer.stock].price for column in columns])


def _rows(columns: Sequence[Pattern], task: Task) -> tuple[Any, Values]:
    """At least as many of each kind as are wanted, at most as many of each stock as there are."""
    from scipy.sparse import csr_array

    scarce = [(i, s.available) for i, s in enumerate(task.stocks) if s.available is not None]
    which = np.array([column.offer.stock for column in columns])
    kinds = -np.array([column.counts for column in columns], dtype=np.float64).T
    used = np.array([which == i for i, _ in scarce], dtype=np.float64).reshape(-1, len(columns))
    limits = [-task.demand.astype(np.float64), np.array([float(there) for _, there in scarce])]
    return csr_array(np.vstack([kinds, used])), np.concatenate(limits)
