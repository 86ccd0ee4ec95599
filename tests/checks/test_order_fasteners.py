"""Which hardware goes into which joint."""

from collections import Counter
from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.order_fasteners import UnusedHardware
from fitout.model.module import JointKind


@pytest.mark.parametrize("design", ["touring-wagon", "canopy-tub", "small-hatch"])
def test_every_screw_of_the_joints_finds_its_joint(design: str, demo: Callable[[str], Any]) -> None:
    there = demo(design)
    for module in there.fitout.modules:
        stock = UnusedHardware(there, module)
        used: Counter[str] = Counter()
        for joint in module.joints:
            used.update(dict(stock.for_joints([joint])))
        bought: Counter[str] = Counter()
        for line in module.hardware:
            if line.purpose in ("joints", "slides", "front to drawer", "column to column"):
                bought[line.article] += line.quantity
        assert not bought - used, module.name


def test_a_joint_takes_as_many_screws_as_it_has_holes(demo: Callable[[str], Any]) -> None:
    there = demo("touring-wagon")
    module = there.modules["drawers"]
    joint = next(j for j in module.joints if {j.a, j.b} == {"drawers/base", "drawers/left side"})
    base = there.parts["drawers/base"]
    left = [h for h in base.holes if h.purpose == "screw" and base.placement.at(h.x, h.y)[1] > 0]
    assert dict(UnusedHardware(there, module).for_joints([joint])) == {
        "wood screw 4 x 40": len(left)
    }


def test_straps_and_hoses_wait_for_the_vehicle(demo: Callable[[str], Any]) -> None:
    there = demo("touring-wagon")
    stock = UnusedHardware(there, there.modules["tank"])
    bench = dict(stock.for_bench(whole=True))
    floor = dict(stock.for_floor(1.0))
    assert "felt strip" in bench
    assert set(floor.values()) == {4}
    assert set(floor) == {
        "countersunk bolt M8 x 40",
        "let-in plate 40 x 40 x 3 M8",
        "floor plate 60 x 60 x 3 M8",
        "lock nut M8",
    }
    assert {"cam strap 25", "hose 12"} <= set(dict(stock.for_vehicle()))
    assert not any(stock.left.values())


def test_what_joins_pieces_is_kept_when_they_are_carried_apart(
    demo: Callable[[str], Any],
) -> None:
    there = demo("touring-wagon")
    module = there.modules["barrier"]
    assert any(joint.kind is JointKind.BOLTED for joint in module.joints)
    assert "bolt M6 x 70" in dict(UnusedHardware(there, module).for_bench(whole=True))
    assert "bolt M6 x 70" not in dict(UnusedHardware(there, module).for_bench(whole=False))


def test_each_step_takes_a_nut_and_two_washers_for_each_of_its_bolts(
    demo: Callable[[str], Any],
) -> None:
    there = demo("touring-wagon")
    stock = UnusedHardware(there, there.modules["barrier"])
    bolted = [j for j in there.modules["barrier"].joints if "barrier/panel" in (j.a, j.b)]
    steps = [dict(stock.for_joints([joint])) for joint in bolted]
    taken = [step for step in steps if "bolt M6 x 70" in step]
    assert len(taken) > 2
    for step in taken:
        assert step["lock nut M6"] == step["bolt M6 x 70"]
        assert step["large washer M6"] == 2 * step["bolt M6 x 70"]
