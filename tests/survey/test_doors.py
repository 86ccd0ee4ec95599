"""The tailgate's leaves: where they part, how far they open, where they then stand."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from fitout.model.bay import Bay
from fitout.model.design import BaySpec, OpeningSpec
from fitout.model.spec import Measured, Size
from fitout.model.tailgate import DoorLoadSpec, LedgeSpec, TailgateSpec
from fitout.survey.bay import build_bay

Make = Callable[..., Any]

FACE = {0.0: Measured(0.0), 450.0: Measured(30.0), 800.0: Measured(165.0)}


@pytest.fixture
def gated(plain_bay: Make) -> Callable[..., Bay]:
    """A lip of 20, an upper edge at 800, 1000 wide, more at 400 up on the left."""
    widths: dict[float, Any] = {0.0: Measured(1000.0), 400.0: Measured(1040.0)}
    opening = OpeningSpec(lip=Measured(20.0), height=Measured(800.0), widths=widths)

    def make(ledge: LedgeSpec | None = None, **rest: Any) -> Bay:
        tailgate = TailgateSpec(inner_face=rest.pop("face", FACE), **rest)
        spec: BaySpec = plain_bay(tailgate=tailgate, opening=opening, ledge=ledge)
        return build_bay(spec)

    return make


def span(bay: Bay, name: str) -> tuple[list[float], list[float]]:
    """Least and greatest corner of an obstacle."""
    points = next(o.vertices for o in bay.obstacles if o.name == name)
    return np.round(points.min(axis=0), 6).tolist(), np.round(points.max(axis=0), 6).tolist()


def test_without_a_tailgate_nothing_opens(plain_bay: Make) -> None:
    bay = build_bay(plain_bay())
    assert bay.swings == ()
    assert not any(o.kind == "door" for o in bay.obstacles)


def test_upwards_until_its_edges_are_level(gated: Make) -> None:
    bay = gated()
    (swing,) = bay.swings
    assert (swing.point, swing.direction) == ((165.0, 0.0, 800.0), (0.0, 1.0, 0.0))
    leaf = next(o for o in bay.obstacles if o.name == "open tailgate")
    assert leaf.kind == "door"
    assert leaf.states == ("tailgate open",)
    # Inner edges: where the leaf is hinged and where it ended at the lip.
    level = leaf.vertices[np.isclose(leaf.vertices[:, 2], 800.0, atol=1e-6)]
    assert level[:, 0].max() == pytest.approx(165.0)
    assert level[:, 0].min() == pytest.approx(165.0 - np.hypot(165.0 - 20.0 / 15.0, 780.0))


def test_by_the_angle_given_about_an_axis_behind_its_face(gated: Make) -> None:
    bay = gated(face={0.0: Measured(0.0)}, angle=90.0, turns_behind=50.0, thickness=70.0)
    low, high = span(bay, "open tailgate")
    # Upright, its face 50 ahead of the axis: opened it lies 50 below it, its back 20 above.
    assert (low[0], high[0]) == (-50.0 - 780.0, -50.0)
    assert (low[2], high[2]) == (750.0, 820.0)
    assert (low[1], high[1]) == (-520.0, 520.0)


@pytest.mark.parametrize(("hinged", "sign"), [("left", 1.0), ("right", -1.0)])
def test_sideways_square_to_the_bay(gated: Make, hinged: str, sign: float) -> None:
    bay = gated(face={0.0: Measured(0.0)}, opens="sideways", hinged=hinged)
    low, high = span(bay, "open tailgate")
    assert (low[0], high[0]) == (-1040.0, 0.0)
    inner, outer = (low[1], high[1]) if sign > 0.0 else (high[1], low[1])
    assert (inner, outer) == (sign * 520.0, sign * 580.0)


def test_downwards_it_lies_behind_the_sill(gated: Make) -> None:
    bay = gated(face={0.0: Measured(0.0)}, opens="downwards", thickness=60.0)
    low, high = span(bay, "open tailgate")
    assert (low[0], high[0]) == (-780.0, 0.0)
    assert (low[2], high[2]) == (-40.0, 20.0)


def test_a_split_one_parts_at_its_height(gated: Make) -> None:
    bay = gated(face={0.0: Measured(0.0)}, opens="split", splits_at=320.0, angle=90.0)
    assert [s.name for s in bay.swings] == ["upper tailgate", "lower tailgate"]
    assert span(bay, "open lower tailgate")[0][0] == -300.0
    assert span(bay, "open upper tailgate")[0][0] == -480.0
    half = gated(face={0.0: Measured(0.0)}, opens="split")
    assert span(half, "open lower tailgate")[0][0] == pytest.approx(-390.0)


def test_what_hangs_on_a_leaf_swings_with_it(gated: Make) -> None:
    wheel = DoorLoadSpec(name="wheel", size=Size(200.0, 640.0, 300.0), middle=-50.0, above=420.0)
    shelf = DoorLoadSpec(name="shelf", size=Size(150.0, 400.0, 30.0), face="inner", above=100.0)
    bay = gated(face={0.0: Measured(0.0)}, opens="split", splits_at=320.0, angle=90.0,
                carries=(wheel, shelf))  # fmt: skip
    upper, lower = bay.swings
    assert [leaf.name for leaf in upper.leaves] == ["upper tailgate", "wheel on the tailgate"]
    assert [leaf.name for leaf in lower.leaves] == ["lower tailgate", "shelf on the tailgate"]
    low, high = span(bay, "wheel on the tailgate")
    # Hung 420 to 720 up, 60 to 260 behind the face; level it stands as far over it.
    assert (low[0], high[0]) == (-380.0, -80.0)
    assert (low[1], high[1]) == (-370.0, 270.0)
    assert (low[2], high[2]) == (860.0, 1060.0)
    low, high = span(bay, "shelf on the tailgate")
    assert (low[0], high[0]) == (-110.0, -80.0)
    assert (low[2], high[2]) == (20.0, 170.0)


def test_a_load_lies_on_the_face_where_that_stands_out_most(gated: Make) -> None:
    shelf = DoorLoadSpec(name="shelf", size=Size(50.0, 400.0, 300.0), face="inner", above=300.0)
    (swing,) = gated(carries=(shelf,)).swings
    points = swing.leaves[1].vertices
    at = 30.0 + 135.0 * 150.0 / 350.0
    assert (points[:, 0].min(), points[:, 0].max()) == pytest.approx((at, at + 50.0))


def test_the_bumper_stands_behind_the_sill(gated: Make) -> None:
    low, high = span(gated(LedgeSpec(depth=120.0, top=-35.0)), "bumper")
    assert (low[0], high[0], high[2]) == (-120.0, 0.0, -35.0)
