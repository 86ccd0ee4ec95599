"""Foam: layers for a depth, tools from their entries, laid out with walls about them."""

import dataclasses
import itertools

import pytest
import shapely

from fitout.catalogue import load
from fitout.model.fault import DesignError
from fitout.model.outline import Loop
from fitout.model.stock import Board
from fitout.modules.foam import (
    WALL,
    ExtraShapeSpec,
    Laid,
    ToolSpec,
    body_pieces,
    choose_layers,
    lay_out,
    layers_for,
    tools_of,
)

FOAM = load().sheets["closed-cell foam 20"]
PATH = ("modules", "tools", "tools")

KIT = (
    ToolSpec(name="ring spanner", size=(240, 36), height=14, mass=0.3, quantity=3),
    ToolSpec(name="jack handle", size=(420, 20), height=20, mass=0.8),
    ToolSpec(
        name="hammer",
        size=(300, 30),
        height=30,
        mass=0.9,
        also=(ExtraShapeSpec(size=(30, 110), at=(140, 0)),),
    ),
    ToolSpec(name="tin", diameter=70, height=60, mass=0.4, quantity=2),
    ToolSpec(name="shears", points=((0, 0), (160, 0), (200, 40), (0, 40)), height=25, mass=0.5),
)


def foams(*thicknesses: float) -> list[Board]:
    return [dataclasses.replace(FOAM, key=f"foam {t:g}", thickness=t) for t in thicknesses]


@pytest.mark.parametrize(
    ("least", "stack"),
    [
        (0.0, []),
        (9.0, [20.0]),
        (20.0, [20.0]),
        (20.1, [30.0]),
        (31.0, [20.0, 20.0]),
        (45.0, [50.0]),
        (61.0, [20.0, 50.0]),
        (75.0, [30.0, 50.0]),
    ],
)
def test_layers_make_the_thinnest_stack_that_is_deep_enough(
    least: float, stack: list[float]
) -> None:
    assert [b.thickness for b in choose_layers(least, foams(20, 30, 50))] == stack


def test_layers_of_odd_foam_as_measured() -> None:
    assert [b.thickness for b in choose_layers(40.0, foams(18.6, 31.2))] == [18.6, 31.2]
    assert [b.thickness for b in choose_layers(37.0, foams(18.6, 31.2))] == [18.6, 18.6]


@pytest.mark.parametrize(
    ("height", "count"), [(5.0, 1), (33.0, 1), (33.4, 2), (66.0, 2), (67.0, 3), (500.0, 3)]
)
def test_a_pocket_goes_through_whole_layers_for_six_tenths_of_the_tool(
    height: float, count: int
) -> None:
    assert layers_for(height, foams(20, 20, 50)) == count


def test_tools_come_once_for_each_of_their_quantity() -> None:
    tools = tools_of(KIT, 2.0, 2, PATH)
    assert [t.name for t in tools] == [
        "ring spanner 1",
        "ring spanner 2",
        "ring spanner 3",
        "jack handle",
        "hammer",
        "tin 1",
        "tin 2",
        "shears",
    ]
    assert [t.index for t in tools] == [0, 0, 0, 1, 2, 3, 3, 4]


def test_every_pocket_keeps_the_play_to_its_tool() -> None:
    for tool in tools_of(KIT, 2.0, 2, PATH):
        shape, pocket = region(tool.shape), region(tool.pocket)
        assert pocket.contains(shape)
        assert pocket.exterior.distance(shape) == pytest.approx(2.0, abs=0.06)


def region(loop: Loop) -> shapely.Polygon:
    return shapely.Polygon(loop.chords(grows=False))


def test_bodies_fill_their_tools() -> None:
    for tool in tools_of(KIT, 2.0, 0, PATH):
        pieces = [shapely.MultiPoint(list(p)).convex_hull for p in body_pieces(tool)]
        assert sum(p.area for p in pieces) == pytest.approx(tool.shape.area, rel=0.02)
        assert shapely.union_all(pieces).area == pytest.approx(sum(p.area for p in pieces))
        assert {z for piece in body_pieces(tool) for _, _, z in piece} == {0.0, tool.height}


@pytest.mark.parametrize(
    ("tool", "place", "found"),
    [
        (ToolSpec(name="a", height=10), (), "no shape"),
        (ToolSpec(name="a", height=10, size=(9, 9), diameter=9), (), "size and diameter"),
        (
            ToolSpec(name="a", height=10, points=((0, 0), (9, 9), (9, 0), (0, 9))),
            ("points",),
            "4 points that enclose no room or cross themselves",
        ),
        (
            ToolSpec(name="a", height=10, size=(9, 9), also=(ExtraShapeSpec(at=(5, 0)),)),
            ("also", 0),
            "no shape",
        ),
        (
            ToolSpec(
                name="a",
                height=10,
                size=(90, 9),
                also=(ExtraShapeSpec(diameter=20, at=(80, 0)),),
            ),
            ("also",),
            "shapes that do not touch each other",
        ),
    ],
)
def test_shapes_at_fault_are_named_at_their_entry(
    tool: ToolSpec, place: tuple[str | int, ...], found: str
) -> None:
    good = ToolSpec(name="good", height=10, size=(50, 20))
    with pytest.raises(DesignError) as raised:
        tools_of((good, tool), 2.0, 2, PATH)
    (fault,) = raised.value.faults
    assert fault.path == (*PATH, 1, *place)
    assert fault.found == found


def pockets(laid: list[Laid]) -> list[shapely.Polygon]:
    return [region(one.placed(one.tool.pocket)) for one in laid]


@pytest.mark.parametrize("room", [(360.0, 820.0), (500.0, 560.0), (900.0, 330.0)])
def test_pockets_keep_their_walls(room: tuple[float, float]) -> None:
    laid = lay_out(tools_of(KIT, 2.0, 2, PATH), room, PATH, tall_ahead=True)
    assert sorted(one.tool.name for one in laid) == sorted(
        t.name for t in tools_of(KIT, 2.0, 2, PATH)
    )
    inside = shapely.box(WALL, WALL, room[0] - WALL, room[1] - WALL).buffer(0.01)
    for a, b in itertools.combinations(pockets(laid), 2):
        assert a.distance(b) >= WALL - 0.01
    assert all(inside.contains(pocket) for pocket in pockets(laid))


def test_tall_tools_lie_at_the_high_end() -> None:
    tools = tools_of(KIT, 2.0, 2, PATH)
    for ahead in (True, False):
        laid = lay_out(tools, (360.0, 820.0), PATH, tall_ahead=ahead)
        tins = [one.x for one in laid if one.tool.name.startswith("tin")]
        others = [one.x for one in laid if one.tool.name.startswith("ring")]
        assert (min(tins) > max(others)) is ahead


def test_what_does_not_fit_is_told_with_the_millimetres_that_are_missing() -> None:
    tools = tools_of(KIT[:2], 2.0, 0, PATH)
    # Walls of 12 mm; pockets 244 x 40 (three) and 424 x 24 in a room 524 wide: 3 rows.
    needed = 12 + 40 + 12 + 40 + 12 + 24 + 12
    assert len(lay_out(tools, (needed, 524.0), PATH, tall_ahead=True)) == 4
    with pytest.raises(DesignError) as raised:
        lay_out(tools, (needed - 7.0, 524.0), PATH, tall_ahead=True)
    (fault,) = raised.value.faults
    assert fault.path[:3] == PATH
    assert fault.hint == "All would go in if the tray were 7 mm deeper fore and aft."
    with pytest.raises(DesignError) as raised:
        lay_out(tools, (needed, 420.0), PATH, tall_ahead=True)
    handle = next(f for f in raised.value.faults if f.path == (*PATH, 1))
    assert handle.hint == "It alone is 28 mm too long or too wide."
    assert handle.found.startswith("jack handle, which takes 424 x 24 mm")
