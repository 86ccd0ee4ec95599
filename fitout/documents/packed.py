"""What documents are made from, and what is made, as bytes for another process."""

from __future__ import annotations

import io
import pickle
from dataclasses import fields, replace
from types import MappingProxyType
from typing import Any, TypeVar, get_args

from fitout.checks.memory import Memory
from fitout.clearance.shape import Shape
from fitout.documents.dossier import Dossier
from fitout.survey.adjusted import survey_of

SHAPES = get_args(Shape)

Key = TypeVar("Key")


def packed(thing: object) -> bytes:
    """A thing as bytes for `unpacked`. Raises what `pickle` raises where that can't be.

    A dossier goes without the memory of its checks, which spares time and changes no result,
    and without its survey, which is sooner made again.
    """
    if isinstance(thing, Dossier):
        thing = replace(thing, subject=replace(thing.subject, memory=Memory(), survey=None))
    stream = io.BytesIO()
    _Pickler(stream, pickle.HIGHEST_PROTOCOL).dump(thing)
    return stream.getvalue()


def unpacked(content: bytes) -> Any:
    """What was packed: by a process of our own only, for unpacking may run what it says."""
    thing = pickle.loads(content)  # noqa: S301 - see above
    if isinstance(thing, Dossier):
        thing = replace(thing, subject=replace(thing.subject, survey=survey_of(thing.design.bay)))
    return thing


class _Pickler(pickle.Pickler):
    """Read-only mappings go as what they show, shapes without the solids built of them."""

    def reducer_override(self, thing: object) -> Any:
        if isinstance(thing, MappingProxyType):
            return _read_only, (dict(thing),)
        if isinstance(thing, SHAPES):
            return type(thing), tuple(getattr(thing, field.name) for field in fields(thing))
        return NotImplemented


def _read_only(shown: dict[Key, object]) -> MappingProxyType[Key, object]:
    return MappingProxyType(shown)
