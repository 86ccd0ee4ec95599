from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.subassemblies import sub_assemblies
from fitout.checks.tool_access import OWN_PANEL, Bolt, Way
from fitout.checks.ways_in import bolted_first, shortfall, smallest_split, way_in
from fitout.model.bay import Bay
from fitout.model.design import BaySpec, OpeningSpec, SectionSpec
from fitout.model.module import Joint, JointKind
from fitout.model.spec import Measured
from fitout.survey.bay import build_bay

Make = Callable[..., Any]


@pytest.fixture
def narrow() -> Bay:
    """1200 wide and 900 high behind an opening 700 wide and 500 high."""
    section = SectionSpec(at=Measured(0.0), widths={0.0: Measured(1200.0)}, roof=Measured(900.0))
    opening = OpeningSpec(height=Measured(500.0), widths={0.0: Measured(700.0)})
    return build_bay(BaySpec(sections=(section,), front_wall=Measured(1000.0), opening=opening))


def test_a_straight_way_keeps_room_for_hands(
    subject: Make, module: Make, item: Make, narrow: Bay
) -> None:
    cube = item("a/cube", (300.0, 600.0), (-200.0, 200.0), (0.0, 300.0))
    looked_at = subject(module("a", cube), bay=narrow)
    (sub,) = sub_assemblies(looked_at)
    entry = way_in(looked_at, sub)
    assert entry.way is not None
    assert entry.way.turn is None
    assert (entry.hand, entry.gap) == (15.0, pytest.approx(100.0))
    assert way_in(looked_at, sub) is entry


def test_two_boards_go_in_one_by_one(subject: Make, module: Make, panel: Make, narrow: Bay) -> None:
    """Two boards 600 by 600, one 600 above the other: each passes, both together do not."""
    boards = [
        panel(f"a/{n}", (300.0, 900.0), (-300.0, 300.0), z)
        for n, z in (("low", 0.0), ("high", 600.0))
    ]
    sides = panel("a/side", (300.0, 900.0), (300.0, 310.0), 0.0)
    joints = [Joint(f"a/{n}", "a/side", JointKind.SCREWED) for n in ("low", "high")]
    looked_at = subject(module("a", *boards, sides, joints=tuple(joints)), bay=narrow)
    (sub,) = sub_assemblies(looked_at)
    assert way_in(looked_at, sub).way is None
    assert shortfall(looked_at, sub).missing > 0.0
    parts = smallest_split(looked_at, sub)
    assert parts is not None
    left_open, pieces = parts
    assert len(left_open) == 1
    assert sorted(len(piece.parts) for piece in pieces) == [1, 2]


def test_one_part_can_not_be_split(subject: Make, module: Make, item: Make, narrow: Bay) -> None:
    cube = item("a/cube", (100.0, 900.0), (-400.0, 400.0), (0.0, 800.0))
    looked_at = subject(module("a", cube), bay=narrow)
    (sub,) = sub_assemblies(looked_at)
    assert way_in(looked_at, sub).gap < 0.0
    assert smallest_split(looked_at, sub) is None


def test_what_stands_on_a_panel_that_bars_bolts_waits_with_it(
    subject: Make, module: Make, panel: Make, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Base, two walls a board high and a top over both: the left wall bars the base's bolt.

    A rail hangs from the top by its screws alone, and stays on it.
    """
    parts = [
        panel("a/base", (0.0, 400.0), (0.0, 300.0), 0.0),
        panel("a/left", (0.0, 400.0), (290.0, 300.0), 10.0),
        panel("a/right", (0.0, 400.0), (0.0, 10.0), 10.0),
        panel("a/rail", (0.0, 400.0), (140.0, 160.0), 10.0),
        panel("a/top", (0.0, 400.0), (0.0, 300.0), 20.0),
    ]
    beneath = (("base", "left"), ("base", "right"))
    pairs = (*beneath, ("left", "top"), ("right", "top"), ("rail", "top"))
    joints = tuple(Joint(f"a/{a}", f"a/{b}", JointKind.SCREWED) for a, b in pairs)
    looked_at = subject(module("a", *parts, joints=joints))
    bolt = Bolt(name="eye", module="a", point=(200.0, 150.0, 10.0), diameter=8.0, through="a/base")

    def barred(by: str) -> list[tuple[str, ...]]:
        way = Way(bolt=bolt, words="", blockers=(by,), cost=OWN_PANEL, free=0.0)
        monkeypatch.setattr("fitout.checks.ways_in.ways_to_bolts", lambda *_: [way])
        (sub,) = sub_assemblies(looked_at)
        return sorted(piece.parts for piece in bolted_first(looked_at, sub))

    assert barred("a/left") == [("a/base", "a/right"), ("a/left",), ("a/rail", "a/top")]
    assert barred("a/top") == [("a/base", "a/left", "a/right"), ("a/rail", "a/top")]
