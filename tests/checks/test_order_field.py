"""What a shifted sub-assembly runs into, against poses close to each other."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from fitout.checks.order_field import Mover, field_of, parked, shifted
from fitout.checks.subassemblies import sub_assemblies
from fitout.clearance.contact import contact
from fitout.clearance.sweep import sweep

HOME = (0.0, 0.0, 0.0)


def swept(mover: Mover, shift: tuple[float, float, float]) -> set[str]:
    """Whose bodies clash with a sweep, each pair by itself and by nothing but its solids."""
    length = float(np.linalg.norm(shift))
    x, y, z = (np.array(shift) / length).tolist()
    found: set[str] = set()
    for body in mover.sub.bodies:
        passed = sweep(body, (x, y, z), length)
        for other, group in zip(mover.field.bodies, mover.field.groups, strict=True):
            if group not in (mover.sub.id, *found) and contact(passed, other, 0.0).clashes:
                found.add(group)
    return found


def met_in_poses(mover: Mover, shift: tuple[float, float, float], poses: int) -> set[str]:
    """Whose bodies clash with any of so many poses."""
    found: set[str] = set()
    for share in np.linspace(0.0, 1.0, poses):
        for body in mover.sub.bodies:
            moved = shifted(body, share * np.array(shift))
            for other, group in zip(mover.field.bodies, mover.field.groups, strict=True):
                near = np.all(moved.lo < other.hi) and np.all(moved.hi > other.lo)
                if near and group not in (mover.sub.id, *found):
                    found |= {group} if contact(moved, other, 0.0).clashes else set()
    return found


@pytest.mark.parametrize("seed", range(12))
def test_what_is_told_is_what_each_pair_says(seed: int, demo: Callable[[str], Any]) -> None:
    there = demo("small-hatch")
    subs = [s for s in sub_assemblies(there) if there.modules[s.module].berth is not None]
    field = field_of(there, subs)
    chance = np.random.default_rng(seed)
    mover = Mover(there, field, subs[int(chance.integers(len(subs)))])
    ways = [(float(chance.uniform(-400.0, 400.0)), 0.0, 0.0) for _ in range(2)]
    ways += [(0.0, float(chance.uniform(-200.0, 200.0)), 0.0)]
    ways += [(0.0, 0.0, float(chance.uniform(0.0, 300.0)))]
    for shift in ways:
        exact = swept(mover, shift)
        assert mover.hits(HOME, shift) == ({""} if "" in exact else exact)
        assert mover.hits(HOME, shift, vehicle=False) == exact - {""}
        assert met_in_poses(mover, shift, 7) <= exact


def test_blocks_that_touch_do_not_bar_each_other(
    subject: Callable[..., Any], module: Callable[..., Any], item: Any
) -> None:
    left = module("left", item("left/x", (100, 300), (0, 100), (0, 100)))
    right = module("right", item("right/x", (100, 300), (-100, 0), (0, 100)))
    there = subject(left, right)
    subs = sub_assemblies(there)
    mover = Mover(there, field_of(there, subs), subs[0])
    assert mover.hits(HOME, (-400.0, 0.0, 0.0)) == frozenset()
    assert mover.hits(HOME, (0.0, -1.0, 0.0)) == {"right: x"}
    assert mover.hits((0.0, 0.0, 100.0), (0.0, -200.0, 0.0)) == frozenset()
    assert mover.hits(HOME, (0.0, 600.0, 0.0)) == {""}


def test_the_vehicle_stands_with_its_tailgate_open(demo: Callable[[str], Any]) -> None:
    there = demo("touring-wagon")
    state = parked(there)
    assert state is not None
    assert state.tailgate_open
    kinds = {there.obstacles[b.id].kind for b in field_of(there, ()).bodies}
    assert "keep clear" not in kinds
