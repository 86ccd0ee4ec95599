"""In plain words, what each kind of finding means and how it is reckoned."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType

import yaml


@dataclass(frozen=True, slots=True)
class Reckoning:
    """What a finding means to a builder, and the formula or way it is reckoned by."""

    means: str
    formula: str


def reckoning(code: str) -> Reckoning | None:
    """The words for a finding's code; None for a code that has none."""
    return _table().get(code)


def codes() -> tuple[str, ...]:
    """Every code that has words."""
    return tuple(_table())


@lru_cache(maxsize=1)
def _table() -> Mapping[str, Reckoning]:
    text = files("fitout.answers").joinpath("reckonings.yaml").read_text(encoding="utf-8")
    rows = yaml.safe_load(text)
    return MappingProxyType(
        {code: Reckoning(row["means"], row["formula"]) for code, row in rows.items()}
    )
