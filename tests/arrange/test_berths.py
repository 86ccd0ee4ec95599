"""All three directions together, and modules wished for on both sides."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.arrange import expanded
from fitout.modules.drawers import DrawersSpec
from fitout.modules.side_bin import SideBinSpec

Make = Callable[..., Any]


def test_a_module_on_both_sides_becomes_two() -> None:
    drawers, both = DrawersSpec(width=400.0), SideBinSpec(sides="both", depth=500.0)
    result = expanded({"bins": both, "drawers": drawers, "one": SideBinSpec(sides="left")})
    assert list(result) == ["bins left", "bins right", "drawers", "one"]
    assert result["bins left"] == ("bins", SideBinSpec(sides="left", depth=500.0))
    assert result["bins right"] == ("bins", SideBinSpec(sides="right", depth=500.0))
    assert result["drawers"] == ("drawers", drawers)
    assert result["one"] == ("one", SideBinSpec(sides="left"))


def test_a_whole_arrangement_keeps_every_gap(arranged: Make) -> None:
    """Drawers and fridge side by side, a can before them, bins at the walls, one deck."""
    found = arranged(
        "drawers: {kind: drawers, width: 450}",
        "slide: {kind: fridge slide, item: fridge, right_of: drawers}",
        "can: {kind: water tank, item: can, between: [front_wall, drawers]}",
        "bins: {kind: side bin, sides: both}",
        "deck: {kind: deck}",
    )
    assert found.conflicts == ()
    assert set(found.berths) == {"drawers", "slide", "can", "bins left", "bins right"}
    boxes = list(found.berths.items())
    for i, (name, a) in enumerate(boxes):
        assert 0.0 <= a.z0 < a.z1 <= 900.0, name
        assert 0.0 < a.x0 < a.x1 < 1000.0, name
        assert -600.0 < a.y0 < a.y1 < 600.0, name
        for other, b in boxes[i + 1 :]:
            gaps = (
                max(a.x0 - b.x1, b.x0 - a.x1),
                max(a.y0 - b.y1, b.y0 - a.y1),
                max(a.z0 - b.z1, b.z0 - a.z1),
            )
            assert max(gaps) >= 2.0 - 1e-5, f"{name} and {other}"
    slide, drawers = found.berths["slide"], found.berths["drawers"]
    assert slide.y1 < drawers.y0
    assert found.berths["can"].x0 > drawers.x1
    assert drawers.z1 == found.result.deck
    assert drawers.y1 - drawers.y0 == pytest.approx(450.0)


def test_the_same_wishes_give_the_same_berths(arranged: Make) -> None:
    lines = (
        "a: {kind: drawers}",
        "b: {kind: drawers}",
        "bins: {kind: side bin}",
        "d: {kind: deck}",
    )
    assert arranged(*lines).result == arranged(*lines).result


def test_a_module_outside_the_bay_has_no_berth(arranged: Make) -> None:
    found = arranged("d: {kind: deck, level: 400}", "a: {kind: drawers}")
    assert set(found.berths) == {"a"}
