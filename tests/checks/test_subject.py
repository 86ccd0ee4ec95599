"""Everything a check may ask, by id; the memory of an earlier call changes nothing."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks import Memory, subject_of
from fitout.model.cutting import CuttingSpec
from fitout.model.module import Joint, JointKind

Make = Callable[..., Any]


def test_parts_obstacles_bodies_and_joints_by_id(subject: Make, module: Make, panel: Make) -> None:
    board = panel("a/board", (100.0, 300.0), (0.0, 200.0), 100.0)
    tray = panel("tray/base", (0.0, 100.0), (0.0, 200.0), 100.0)
    joint = Joint("a/board", "bay/floor", JointKind.RESTS)
    looked_at = subject(module("a", board, joints=(joint,)), module("tray", tray, in_bay=False))
    assert set(looked_at.parts) == {"a/board", "tray/base"}
    assert {"bay/floor", "bay/left wall", "bay/front wall"} < set(looked_at.obstacles)
    assert set(looked_at.bodies) == {*looked_at.parts, *looked_at.obstacles}
    assert looked_at.joined == {("a/board", "bay/floor"), ("bay/floor", "a/board")}
    assert looked_at.in_bay("a/board")
    assert not looked_at.in_bay("tray/base")
    assert looked_at.bodies["a/board"].lo.tolist() == pytest.approx([100.0, 0.0, 100.0])


def test_a_memory_gives_the_same_bodies(subject: Make, module: Make, panel: Make) -> None:
    board = panel("a/board", (100.0, 300.0), (0.0, 200.0), 100.0)
    first = subject(module("a", board))
    memory = Memory()
    for _ in range(2):
        again = subject_of(first.fitout, first.setting, CuttingSpec(), (), memory)
        assert {i: b.key for i, b in again.bodies.items()} == {
            i: b.key for i, b in first.bodies.items()
        }
        assert again.memory is memory
