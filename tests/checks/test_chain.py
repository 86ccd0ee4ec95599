"""What a part's place depends on, worked out by hand."""

import dataclasses
import math
from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.chain import (
    ASSEMBLY,
    BESIDE,
    CUT,
    HARDWARE,
    ITEM,
    PLACING,
    Source,
    shifts_of,
)
from fitout.model.cutting import CuttingSpec
from fitout.model.module import Joint, JointKind
from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Bar, Panel
from fitout.model.placement import Placement, X, Y, Z, along, opposite
from fitout.model.stock import Board, Section

Make = Callable[..., Any]

FLOOR = "bay/floor"
SHEET = Source("thickness of test ply 10", 0.3)


def met(*pairs: tuple[str, str]) -> list[Joint]:
    return [Joint(a, b, JointKind.SCREWED) for a, b in pairs]


@pytest.fixture
def upright(board: Board) -> Make:
    """A panel running fore and aft from x 0 to 500, its face A at y."""

    def make(id_: str, y: float, z: tuple[float, float], **rest: Any) -> Panel:
        module, name = id_.split("/")
        place = along(0.0, y + board.thickness, z[0])
        outline = Outline(rectangle(500.0, z[1] - z[0]))
        entries = {"board": board, "placement": place, **rest}
        return Panel(name=name, module=module, outline=outline, **entries)

    return make


@pytest.fixture
def carcass(subject: Make, module: Make, panel: Make, upright: Make) -> Any:
    """A base on the floor, 400 wide, two sides that stand on it, a top that lies on them."""
    parts = (
        panel("c/base", (0.0, 500.0), (-200.0, 200.0)),
        upright("c/left", 190.0, (10.0, 310.0)),
        upright("c/right", -200.0, (10.0, 310.0)),
        panel("c/top", (0.0, 500.0), (-200.0, 200.0), 310.0),
    )
    joints = met(
        ("c/base", FLOOR),
        ("c/left", "c/base"),
        ("c/right", "c/base"),
        ("c/top", "c/left"),
        ("c/top", "c/right"),
    )
    return subject(module("c", *parts), joints=joints)


def test_a_side_and_the_wall(carcass: Any) -> None:
    """From the wall inwards: half the side (it could slip on the base), half the base, placing."""
    found = shifts_of(carcass, "c/left", (250.0, 200.0, 160.0), Y)
    assert found == pytest.approx(
        {
            SHEET: 0.5,
            Source("how c/left and c/base are joined", ASSEMBLY, "y"): 1.0,
            Source("cut of c/base", CUT["router"], "v"): 1.0,
            Source("where c is fixed", PLACING[1], "y"): 1.0,
        }
    )


def test_the_other_side_moves_the_other_way_where_sizes_are_larger(carcass: Any) -> None:
    """Larger sizes push the right side to the right; slack and placing know no side."""
    found = shifts_of(carcass, "c/right", (250.0, -200.0, 160.0), Y)
    assert found[SHEET] == pytest.approx(-0.5)
    assert found[Source("cut of c/base", 0.3, "v")] == pytest.approx(-1.0)
    assert found[Source("where c is fixed", 1.5, "y")] == pytest.approx(1.0)


def test_a_top_and_the_floor(carcass: Any) -> None:
    """Base and top are of one sheet: a thicker sheet lifts the top twice."""
    assert shifts_of(carcass, "c/top", (250.0, 0.0, 320.0), Z) == pytest.approx(
        {
            SHEET: 2.0,
            Source("cut of c/left", 0.3, "v"): 1.0,
            Source("where c is fixed", PLACING[2], "z"): 1.0,
        }
    )


def test_sheets_of_their_own_are_apart(
    subject: Make, module: Make, panel: Make, upright: Make, board: Board
) -> None:
    other = dataclasses.replace(board, key="thin ply", thickness=6.0, thickness_tolerance=0.2)
    parts = (
        panel("c/base", (0.0, 500.0), (-200.0, 200.0)),
        upright("c/left", 190.0, (10.0, 310.0)),
        panel("c/top", (0.0, 500.0), (-200.0, 200.0), 310.0, board=other),
    )
    joints = met(("c/base", FLOOR), ("c/left", "c/base"), ("c/top", "c/left"))
    looked_at = subject(module("c", *parts), joints=joints)
    found = shifts_of(looked_at, "c/top", (250.0, 0.0, 316.0), Z)
    assert found[SHEET] == pytest.approx(1.0)
    assert found[Source("thickness of thin ply", 0.2)] == pytest.approx(1.0)


def test_within_a_sheet_only_what_is_passed_of_it_counts(carcass: Any) -> None:
    """A point 3 mm above the base's underside rises by three tenths of a thicker sheet."""
    assert shifts_of(carcass, "c/base", (0.0, 0.0, 3.0), Z)[SHEET] == pytest.approx(0.3)


def test_a_saw_cuts_less_true(carcass: Any) -> None:
    sawn = dataclasses.replace(carcass, cutting=CuttingSpec(by="saw"))
    found = shifts_of(sawn, "c/top", (250.0, 0.0, 320.0), Z)
    assert Source("cut of c/left", CUT["saw"], "v") in found
    assert CUT["saw"] > CUT["router"]


def test_a_bought_thing(subject: Make, module: Make, panel: Make, item: Make) -> None:
    """A fridge in the middle of a base: its depth, its slack on the base, their place."""
    base = panel("f/base", (100.0, 700.0), (0.0, 400.0))
    fridge = item("f/fridge", (150.0, 650.0), (20.0, 380.0), (10.0, 400.0))
    joints = met(("f/base", FLOOR), ("f/fridge", "f/base"))
    looked_at = subject(module("f", base, fridge), joints=joints)
    assert shifts_of(looked_at, "f/fridge", (650.0, 200.0, 100.0), X) == pytest.approx(
        {
            Source("size of f/fridge", ITEM, "u"): 1.0,
            Source("how f/fridge and f/base are joined", ASSEMBLY, "x"): 1.0,
            Source("where f is fixed", 1.5, "x"): 1.0,
        }
    )
    assert shifts_of(looked_at, "f/fridge", (400.0, 200.0, 400.0), Z) == pytest.approx(
        {
            Source("size of f/fridge", ITEM, "w"): 1.0,
            SHEET: 1.0,
            Source("where f is fixed", 1.0, "z"): 1.0,
        }
    )


def test_sizes_along_two_axes_are_two_sizes(carcass: Any) -> None:
    """Towards a corner, length and width of a panel count, each with its share; as does place."""
    slant = (0.6, 0.8, 0.0)
    found = shifts_of(carcass, "c/top", (500.0, 200.0, 320.0), slant)
    assert found[Source("cut of c/top", 0.3, "u")] == pytest.approx(0.6)
    assert found[Source("where c is fixed", 1.5, "x")] == pytest.approx(0.6)
    assert found[Source("where c is fixed", 1.5, "y")] == pytest.approx(0.8)
    assert not any(source.way in ("w", "z") for source in found)


@pytest.mark.parametrize("direction", [(0.6, 0.8, 0.0), (0.0, -0.28, 0.96), (0.48, 0.6, 0.64)])
def test_shifts_add_up_as_vectors(carcass: Any, direction: tuple[float, float, float]) -> None:
    point = (500.0, 200.0, 320.0)
    along_axes = [shifts_of(carcass, "c/top", point, axis) for axis in (X, Y, Z)]
    expected = {
        source: sum(
            share * found.get(source, 0.0)
            for share, found in zip(direction, along_axes, strict=True)
        )
        for source in {s for found in along_axes for s in found}
    }
    expected = {source: shift for source, shift in expected.items() if shift}
    assert shifts_of(carcass, "c/top", point, direction) == pytest.approx(expected)
    backwards = shifts_of(carcass, "c/top", point, opposite(direction))
    assert backwards == pytest.approx({source: -shift for source, shift in expected.items()})


POST = Section(
    key="tube", width=30.0, height=30.0, wall=2.0, density_kg_m3=2700.0, stock_length=6000.0
)


def test_bars_count_by_their_length(subject: Make, module: Make) -> None:
    """A post on a plate: its length upwards, nothing of its section across."""
    plate = Bar(name="plate", module="b", section=POST, length=200.0, placement=Placement())
    post = Bar(
        name="post",
        module="b",
        section=POST,
        length=800.0,
        placement=Placement((100.0, 0.0, 30.0), Z, X),
    )
    joints = met(("b/plate", FLOOR), ("b/post", "b/plate"))
    looked_at = subject(module("b", bars=(plate, post)), joints=joints)
    assert shifts_of(looked_at, "b/post", (115.0, 15.0, 830.0), Z) == pytest.approx(
        {Source("length of b/post", CUT["saw"]): 1.0, Source("where b is fixed", 1.0, "z"): 1.0}
    )
    assert shifts_of(looked_at, "b/post", (100.0, 30.0, 400.0), Y) == pytest.approx(
        {
            Source("how b/post and b/plate are joined", ASSEMBLY, "y"): 1.0,
            Source("where b is fixed", 1.5, "y"): 1.0,
        }
    )


def test_a_leaning_panel(subject: Make, module: Make, board: Board) -> None:
    """Its thickness counts by how far it faces that way, however far along it the point lies."""
    lean = math.radians(20.0)
    up = (-math.sin(lean), 0.0, math.cos(lean))
    leaning = Panel(
        name="panel",
        module="b",
        outline=Outline(rectangle(400.0, 600.0)),
        board=board,
        placement=Placement((500.0, -200.0, 0.0), Y, up),
    )
    looked_at = subject(module("b", leaning), joints=met(("b/panel", FLOOR)))
    top_front = leaning.placement.at(200.0, 600.0, 10.0)
    found = shifts_of(looked_at, "b/panel", top_front, X)
    assert 0.0 < found[SHEET] <= math.cos(lean)
    assert found[Source("cut of b/panel", 0.3, "v")] == pytest.approx(-math.sin(lean))
    assert Source("cut of b/panel", 0.3, "u") not in found


def test_what_is_joined_to_nothing_is_placed_by_its_module(
    subject: Make, module: Make, item: Make
) -> None:
    loose = item("m/loose", (100.0, 300.0), (0.0, 100.0), (0.0, 50.0))
    found = shifts_of(subject(module("m", loose)), "m/loose", (300.0, 50.0, 25.0), X)
    assert found == {
        Source("size of m/loose", ITEM, "u"): 1.0,
        Source("where m is fixed", 1.5, "x"): 1.0,
    }


@pytest.fixture
def stacked(subject: Make, module: Make, panel: Make, upright: Make) -> Any:
    """A box joined to the top of a carcass that is joined to the floor."""
    lower = (
        panel("low/base", (0.0, 500.0), (-200.0, 200.0)),
        upright("low/side", 190.0, (10.0, 310.0)),
        panel("low/top", (0.0, 500.0), (-200.0, 200.0), 310.0),
    )
    upper = panel("high/base", (0.0, 300.0), (-100.0, 100.0), 320.0)
    joints = met(
        ("low/base", FLOOR),
        ("low/side", "low/base"),
        ("low/top", "low/side"),
        ("high/base", "low/top"),
    )
    return subject(module("low", *lower), module("high", upper), joints=joints)


def test_a_module_on_a_module_stands_where_the_lower_stands(stacked: Any) -> None:
    found = shifts_of(stacked, "high/base", (150.0, 0.0, 330.0), Z)
    assert found == pytest.approx(
        {
            SHEET: 3.0,
            Source("cut of low/side", 0.3, "v"): 1.0,
            Source("where low is fixed", 1.0, "z"): 1.0,
        }
    )


def test_modules_set_to_each_other(stacked: Any) -> None:
    found = shifts_of(stacked, "low/base", (500.0, 0.0, 5.0), X, BESIDE)
    assert found[Source("where low is fixed", BESIDE, "x")] == 1.0


def test_a_drawer_hangs_on_its_slide(
    subject: Make, module: Make, panel: Make, upright: Make, item: Make
) -> None:
    """Drawer side, slide, carcass side, base: hardware is truer than other bought things."""
    parts = (
        panel("d/base", (0.0, 500.0), (-200.0, 200.0)),
        upright("d/side", 190.0, (10.0, 310.0)),
        item("d/slide", (0.0, 450.0), (177.0, 190.0), (100.0, 146.0), article="slide 450"),
        upright("d/drawer side", 167.0, (30.0, 250.0), moves="drawer"),
    )
    joints = met(("d/base", FLOOR), ("d/side", "d/base"))
    joints += [
        Joint("d/slide", "d/side", JointKind.SLIDES),
        Joint("d/slide", "d/drawer side", JointKind.SLIDES),
    ]
    looked_at = subject(module("d", *parts), joints=joints)
    found = shifts_of(looked_at, "d/drawer side", (250.0, 167.0, 100.0), Y)
    assert found == pytest.approx(
        {
            # A whole drawer side and half the carcass side, which stands on the base.
            SHEET: -1.5,
            Source("size of d/slide", HARDWARE, "v"): -1.0,
            Source("how d/side and d/base are joined", ASSEMBLY, "y"): 1.0,
            Source("cut of d/base", 0.3, "v"): 1.0,
            Source("where d is fixed", 1.5, "y"): 1.0,
        }
    )
    lengthwise = shifts_of(looked_at, "d/drawer side", (0.0, 172.0, 100.0), X)
    assert lengthwise[Source("how d/drawer side and d/slide are joined", ASSEMBLY, "x")] == 1.0


def test_the_shortest_way_to_the_floor_is_taken(
    subject: Make, module: Make, panel: Make, upright: Make
) -> None:
    """A top that rests on the side also hangs on a rail: the rail adds nothing."""
    parts = (
        upright("c/side", 190.0, (0.0, 300.0)),
        upright("c/rail", 150.0, (200.0, 300.0)),
        panel("c/top", (0.0, 500.0), (0.0, 200.0), 300.0),
    )
    joints = met(("c/side", FLOOR), ("c/rail", "c/top"), ("c/rail", "c/side"), ("c/top", "c/side"))
    looked_at = subject(module("c", *parts), joints=joints)
    found = shifts_of(looked_at, "c/top", (250.0, 100.0, 310.0), Z)
    assert {source.name for source in found} == {
        "thickness of test ply 10",
        "cut of c/side",
        "where c is fixed",
    }
