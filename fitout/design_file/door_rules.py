"""What can't be true of a tailgate: one that does not open, or carries more than itself."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from fitout.design_file.parts import Parts
from fitout.model.design import OpeningSpec, Sides
from fitout.model.fault import Fault, Path
from fitout.model.tailgate import DoorLoadSpec, HeadRestraintSpec, TailgateSpec
from fitout.survey.doors import Leaf, hangs_on, leaves_of

TAILGATE: Path = ("bay", "tailgate")
RESTRAINTS: Path = ("bay", "seat_back", "head_restraints")


def doors(parts: Parts) -> Iterator[Fault]:
    """A tailgate opens; its leaves part within the opening; what hangs on one is no larger."""
    spec = parts.record(TailgateSpec, *TAILGATE)
    opening = parts.record(OpeningSpec, "bay", "opening")
    if spec is None:
        return
    if spec.angle is not None and spec.angle <= 0.0:
        hint = "Leave it out for a tailgate that opens until it is level."
        yield _fault((*TAILGATE, "angle"), f"{spec.angle:g} deg", "an angle above 0", hint)
    if opening is None or not opening.widths:
        return
    low, high = opening.lip.value, opening.height.value
    if spec.splits_at is not None and low < high and not low < spec.splits_at < high:
        found = f"leaves that part {spec.splits_at:g} up"
        expected = f"a height between {low:g} and {high:g}, where the opening is"
        yield _fault((*TAILGATE, "splits_at"), found, expected)
    elif low < high:
        leaves = leaves_of(spec, ((low, 0.0, 0.0), (high, 0.0, 0.0)))
        wide = max(
            w.left.value + w.right.value if isinstance(w, Sides) else w.value
            for w in opening.widths.values()
        )
        yield from _loads(spec, leaves, wide)


def _loads(spec: TailgateSpec, leaves: tuple[Leaf, ...], wide: float) -> Iterator[Fault]:
    for index, load in enumerate(spec.carries):
        path: Path = (*TAILGATE, "carries", index)
        leaf = next((one for one in leaves if hangs_on(one, load)), None)
        if leaf is None:
            found = f"{load.name}, whose middle is {load.above + load.size.height / 2.0:g} up"
            expected = f"a middle between {leaves[-1].low:g} and {leaves[0].high:g}"
            yield _fault((*path, "above"), found, expected, "There is no tailgate there.")
        else:
            yield from _too_big(load, leaf, wide, path)


def _too_big(load: DoorLoadSpec, leaf: Leaf, wide: float, path: Path) -> Iterator[Fault]:
    tall = leaf.high - leaf.low
    for word, size, most in (("wide", load.size.width, wide), ("high", load.size.height, tall)):
        if size > most:
            found = f"{load.name}, {size:g} {word}, on a leaf {most:g} {word}"
            hint = "Give its size as: how far it stands out x width x height."
            yield _fault((*path, "size"), found, "a load no larger than the leaf it hangs on", hint)


def restraints(parts: Parts) -> Iterator[Fault]:
    """Head restraints stand beside each other."""
    spec = parts.record(HeadRestraintSpec, *RESTRAINTS)
    if spec is None:
        return
    middles = sorted(spec.middles)
    for first, second in itertools.pairwise(middles):
        if second - first < spec.across:
            found = f"middles {second - first:g} apart of head restraints {spec.across:g} across"
            yield _fault((*RESTRAINTS, "middles"), found, "head restraints beside each other")


RULES = (doors, restraints)


def _fault(path: Path, found: str, expected: str, hint: str = "") -> Fault:
    return Fault(path=path, found=found, expected=expected, hint=hint)
