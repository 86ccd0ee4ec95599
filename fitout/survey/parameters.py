"""The bay as a parameter vector: every measured number, its tolerance, and its name.

The bay's surfaces are a pure function of this vector, so a survey can adjust it by least
squares and a stack-up can move it, without a second model of the bay.
"""

from __future__ import annotations

import dataclasses
import operator
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fitout.model.design import BaySpec
from fitout.model.fault import Path
from fitout.model.notes import SurveySpec
from fitout.model.spec import Measured

Steps = tuple[Any, ...]


@dataclass(frozen=True, slots=True)
class Parameter:
    """One measured number: its key path below `bay`, value and ± tolerance in mm.

    `steps` are the names, keys and positions that lead to it among the bay's records.
    """

    path: Path
    value: float
    tolerance: float | None
    about: bool = False
    steps: Steps = ()

    @property
    def name(self) -> str:
        """The path as a builder would write it, e.g. `sections[1].widths[240]`."""
        text = ""
        for step in self.path:
            if isinstance(step, int) or step[0].isdigit():
                text += f"[{step}]"
            else:
                text += f".{step}" if text else step
        return text


def parameters(bay: BaySpec) -> tuple[Parameter, ...]:
    """Every measured number of the bay, in the order of the design file."""
    return tuple(
        Parameter(path, found.value, found.tolerance, found.about, steps)
        for path, steps, found in _leaves(bay, (), ())
    )


def with_value(bay: BaySpec, number: Parameter, value: float) -> BaySpec:
    """The bay with one of its measured numbers replaced."""
    changed = _replaced(bay, number.steps, value)
    assert isinstance(changed, BaySpec)
    return changed


def with_values(bay: BaySpec, values: Sequence[float]) -> BaySpec:
    """The bay with its measured numbers replaced, in the order of `parameters`.

    Raises:
        ValueError: when the number of values is not the number of parameters.
    """
    remaining = iter(values)
    changed = _rebuilt(bay, remaining)
    if next(remaining, None) is not None:
        raise ValueError("more values than the bay has measured numbers")
    assert isinstance(changed, BaySpec)
    return changed


def _leaves(node: Any, path: Path, steps: Steps) -> Iterator[tuple[Path, Steps, Measured]]:
    if isinstance(node, Measured):
        yield path, steps, node
    elif dataclasses.is_dataclass(node):
        for entry in _entries(node):
            key, value = entry.metadata.get("key") or entry.name, getattr(node, entry.name)
            yield from _leaves(value, (*path, key), (*steps, entry.name))
    elif isinstance(node, Mapping):
        for key, value in node.items():
            written = key if isinstance(key, str) else f"{key:g}"
            yield from _leaves(value, (*path, written), (*steps, key))
    elif isinstance(node, tuple):
        for i, value in enumerate(node):
            yield from _leaves(value, (*path, i), (*steps, i))


def _replaced(node: Any, steps: Steps, value: float) -> Any:
    if not steps:
        return Measured(value, node.tolerance)
    step, *rest = steps
    if isinstance(node, Mapping):
        return {**node, step: _replaced(node[step], (*rest,), value)}
    if isinstance(node, tuple):
        return (*node[:step], _replaced(node[step], (*rest,), value), *node[step + 1 :])
    changed = _replaced(getattr(node, step), (*rest,), value)
    return dataclasses.replace(node, **{step: changed})


def _entries(node: Any) -> Iterator[dataclasses.Field[Any]]:
    """The entries that say what the bay is; notes of the survey say how that was found."""
    return (
        f for f in dataclasses.fields(node) if not isinstance(getattr(node, f.name), SurveySpec)
    )


def _rebuilt(node: Any, values: Iterator[float]) -> Any:
    if isinstance(node, Measured):
        value = next(values, None)
        if value is None:
            raise ValueError("fewer values than the bay has measured numbers")
        same = value == node.value and not node.about
        return node if same else Measured(value, node.tolerance)
    if dataclasses.is_dataclass(node) and not isinstance(node, type):
        changes = {
            entry.name: _rebuilt(getattr(node, entry.name), values) for entry in _entries(node)
        }
        same = all(getattr(node, name) is value for name, value in changes.items())
        return node if same else dataclasses.replace(node, **changes)
    if isinstance(node, Mapping):
        changed = {key: _rebuilt(value, values) for key, value in node.items()}
        return node if all(changed[key] is value for key, value in node.items()) else changed
    if isinstance(node, tuple):
        rebuilt = tuple(_rebuilt(value, values) for value in node)
        return node if all(map(operator.is_, rebuilt, node)) else rebuilt
    return node
