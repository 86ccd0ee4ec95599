"""The bay as solids: closed, in their places, and there in the states they belong to."""

import math
from collections.abc import Callable, Iterator
from typing import Any

import manifold3d
import numpy as np
import pytest

from fitout.clearance.body import Body, body_of_obstacle, body_of_pieces
from fitout.clearance.contact import contact
from fitout.model.bay import Bay, Obstacle
from fitout.model.design import BaySpec, KeepClearSpec, TrimSpec
from fitout.model.free_places import StrapSpec
from fitout.model.item import block
from fitout.model.placement import Placement
from fitout.model.restraint import AnchorSpec
from fitout.model.spec import Measured
from fitout.survey.bay import FRAME_DEPTH, build_bay

Make = Callable[..., Any]


def box(x: tuple[float, float], y: tuple[float, float], z: tuple[float, float]) -> Body:
    size = (x[1] - x[0], y[1] - y[0], z[1] - z[0])
    return body_of_pieces("box", [block(*size, (x[0], y[0], z[0]))], Placement())


def named(bay: Bay, name: str) -> Obstacle:
    (found,) = (o for o in bay.obstacles if o.name == name)
    return found


def gap(bay: Bay, name: str, body: Body) -> float:
    """The gap to an obstacle, negative where the body runs into it."""
    found = contact(body, body_of_obstacle(named(bay, name)), 2000.0)
    return -found.depth if found.clashes else found.gap


@pytest.fixture
def bays(
    plain_bay: Make,
    sections: Make,
    arches: Make,
    seat: Make,
    tailgate: Make,
    tour_bay: BaySpec,
) -> dict[str, BaySpec]:
    """Bays of every form the entries allow."""
    profile = ((300.0, 0.0), (380.0, 210.0), (520.0, 262.0), (700.0, 210.0), (790.0, 0.0))
    bulging = {0.0: (600.0, 560.0), 200.0: (640.0, 585.0), 500.0: (620.0, 590.0), 800.0: 1080.0}
    return {
        "plain": plain_bay(),
        "touring": tour_bay,
        "sides that differ": plain_bay(
            sections=sections((0.0, bulging), (700.0, {0.0: 1240.0, 350.0: (650.0, 570.0)}, 900.0))
        ),
        "arch profile": plain_bay(
            wheel_arches=arches(profile=profile, start=None, end=None, height=None)
        ),
        "lined": plain_bay(
            wheel_arches=arches(),
            trim=TrimSpec(walls=4.0, floor=6.0, roof=3.0, seat_back=5.0),
            tailgate=tailgate({0.0: 10.0, 500.0: -20.0, 800.0: 60.0}),
        ),
        "folding seat": plain_bay(seat_back=seat(notches=(10.0, 20.0), folds=True)),
        "sloping tailgate": plain_bay(tailgate=tailgate({100.0: 20.0, 300.0: 25.0, 900.0: 300.0})),
        "no height measured": plain_bay(sections=sections((50.0, {300.0: 1200.0}))),
    }


def solids(bays: dict[str, BaySpec]) -> Iterator[tuple[str, Obstacle]]:
    for name, spec in bays.items():
        for obstacle in build_bay(spec).obstacles:
            yield f"{name}: {obstacle.name}", obstacle


def test_every_obstacle_is_closed_and_turned_outwards(bays: dict[str, BaySpec]) -> None:
    checked = 0
    for name, obstacle in solids(bays):
        mesh = manifold3d.Mesh64(
            obstacle.vertices, obstacle.triangles.astype(np.uint64), tolerance=1e-9
        )
        solid = manifold3d.Manifold(mesh)
        assert solid.status() == manifold3d.Error.NoError, name
        assert solid.volume() > 1e4, name
        assert len(solid.decompose()) == 1, name
        checked += 1
    assert checked > 60


def test_names_are_unique(bays: dict[str, BaySpec]) -> None:
    for spec in bays.values():
        names = [o.id for o in build_bay(spec).obstacles]
        assert len(names) == len(set(names))


def test_a_box_bay_stands_where_the_tape_says(plain_bay: Make) -> None:
    bay = build_bay(plain_bay())
    inside = box((10.0, 980.0), (-590.0, 595.0), (1.0, 840.0))
    assert gap(bay, "left wall", inside) == pytest.approx(5.0)
    assert gap(bay, "right wall", inside) == pytest.approx(10.0)
    assert gap(bay, "roof", inside) == pytest.approx(10.0)
    assert gap(bay, "floor", inside) == pytest.approx(1.0)
    assert gap(bay, "front wall", inside) == pytest.approx(20.0)
    assert gap(bay, "tailgate", inside) == pytest.approx(10.0)
    assert bay.front == 1000.0
    assert bay.front_kind == "front_wall"
    assert bay.stations == (0.0,)


def test_a_leaning_wall_between_two_heights(plain_bay: Make, sections: Make) -> None:
    """The wall runs in by 60 over 600: its plane is 1/√1.01 of the level distance away."""
    widths = {0.0: (600.0, 600.0), 600.0: (540.0, 600.0)}
    bay = build_bay(plain_bay(sections=sections((0.0, widths), (900.0, widths))))
    inside = box((100.0, 200.0), (0.0, 500.0), (100.0, 300.0))
    assert gap(bay, "left wall", inside) == pytest.approx(70.0 / math.sqrt(1.01))
    assert gap(bay, "right wall", inside) == pytest.approx(600.0)


def test_lining_takes_room_from_every_surface(plain_bay: Make, arches: Make) -> None:
    trim = TrimSpec(walls=4.0, floor=6.0, roof=3.0, seat_back=5.0)
    bay = build_bay(plain_bay(wheel_arches=arches(), trim=trim))
    inside = box((310.0, 790.0), (-480.0, 480.0), (10.0, 840.0))
    assert gap(bay, "left wall", inside) == pytest.approx(600.0 - 4.0 - 480.0)
    assert gap(bay, "right wheel arch", inside) == pytest.approx(500.0 - 4.0 - 480.0)
    assert gap(bay, "floor", inside) == pytest.approx(4.0)
    assert gap(bay, "roof", inside) == pytest.approx(7.0)
    assert gap(bay, "front wall", inside) == pytest.approx(1000.0 - 5.0 - 790.0)
    above = box((400.0, 500.0), (500.0, 590.0), (270.0, 300.0))
    assert gap(bay, "left wheel arch", above) == pytest.approx(270.0 - 264.0)
    behind = box((100.0, 280.0), (500.0, 590.0), (10.0, 100.0))
    assert gap(bay, "left wheel arch", behind) == pytest.approx(300.0 - 4.0 - 280.0)


def test_an_arch_profile_is_followed_and_lined(plain_bay: Make, arches: Make) -> None:
    """The slope from (300, 0) to (400, 200) falls to one side by 1/√5 of the level distance."""
    profile = ((300.0, 0.0), (400.0, 200.0), (700.0, 200.0), (800.0, 0.0))
    shape = arches(profile=profile, start=None, end=None, height=None)
    behind = box((200.0, 320.0), (500.5, 590.0), (100.0, 120.0))
    bay = build_bay(plain_bay(wheel_arches=shape))
    assert gap(bay, "left wheel arch", behind) == pytest.approx(30.0 * 2.0 / math.sqrt(5.0))
    lined = build_bay(plain_bay(wheel_arches=shape, trim=TrimSpec(walls=5.0)))
    assert lined.arches["left"] == (
        (
            (295.0, 5.0),
            (305.0, 25.0),
            (395.0, 205.0),
            (405.0, 205.0),
            (695.0, 205.0),
            (705.0, 205.0),
            (795.0, 25.0),
            (805.0, 5.0),
        ),
        495.0,
    )
    above = box((450.0, 500.0), (500.0, 590.0), (212.0, 300.0))
    assert gap(lined, "left wheel arch", above) == pytest.approx(7.0)


def test_each_notch_of_the_seat_has_its_own_back(plain_bay: Make, seat: Make) -> None:
    """The back keeps its length: the more it leans, the lower its upper edge."""
    bay = build_bay(plain_bay(seat_back=seat(notches=(10.0, 20.0))))
    length = 600.0 / math.cos(math.radians(15.0))
    assert bay.seat_length == pytest.approx(length)
    assert bay.seat_lean_deg == {"10°": 10.0, "15°": 15.0, "20°": 20.0}
    for notch, degrees in bay.seat_lean_deg.items():
        lean = math.radians(degrees)
        back = named(bay, f"seat back at {notch}")
        top = float(back.vertices[:, 2].max())
        assert top == pytest.approx(length * math.cos(lean))
        at_top = back.vertices[back.vertices[:, 2] == top]
        assert at_top[:, 0].min() == pytest.approx(1000.0 - length * math.sin(lean))
        upright = box((500.0, 700.0), (-10.0, 10.0), (100.0, 200.0))
        level = 1000.0 - 200.0 * math.tan(lean) - 700.0
        assert gap(bay, back.name, upright) == pytest.approx(level * math.cos(lean))


def test_seat_states(plain_bay: Make, seat: Make) -> None:
    """A back stands in the states of its own notch; none stands when it is folded."""
    bay = build_bay(plain_bay(seat_back=seat(notches=(10.0,), folds=True)))
    states = {s.name: s for s in bay.states}
    assert list(states) == [
        "seat at 10°, tailgate shut",
        "seat at 15°, tailgate shut",
        "seat folded, tailgate shut",
        "seat at 15°, tailgate open",
        "seat at 10°, tailgate open",
        "seat folded, tailgate open",
    ]
    assert named(bay, "seat back at 10°").states == (
        "seat at 10°, tailgate shut",
        "seat at 10°, tailgate open",
    )
    assert named(bay, "seat back at 15°").states == (
        "seat at 15°, tailgate shut",
        "seat at 15°, tailgate open",
    )
    seats = [o for o in bay.obstacles if o.kind == "seat"]
    assert not any("folded" in state for o in seats for state in o.states)
    assert set(named(bay, "tailgate").states) == {n for n in states if n.endswith("shut")}
    assert bay.front_kind == "seat_back"


def test_a_fixed_wall_ahead_knows_two_states(plain_bay: Make) -> None:
    bay = build_bay(plain_bay())
    assert [(s.name, s.tailgate_open) for s in bay.states] == [
        ("tailgate shut", False),
        ("tailgate open", True),
    ]
    assert named(bay, "tailgate").states == ("tailgate shut",)
    assert bay.seat_length == 0.0


def test_the_lining_of_the_seat_is_square_to_it(plain_bay: Make, seat: Make) -> None:
    upright = box((500.0, 700.0), (-10.0, 10.0), (100.0, 200.0))
    bare = build_bay(plain_bay(seat_back=seat()))
    lined = build_bay(plain_bay(seat_back=seat(), trim=TrimSpec(seat_back=8.0)))
    name = "seat back at 15°"
    assert gap(bare, name, upright) - gap(lined, name, upright) == pytest.approx(8.0)


def test_the_tailgate_follows_its_inner_face(plain_bay: Make, tailgate: Make) -> None:
    """From 30 at 400 up to 130 at 800 it runs in by a quarter."""
    bay = build_bay(plain_bay(tailgate=tailgate({0.0: 0.0, 400.0: 30.0, 800.0: 130.0})))
    low = box((100.0, 200.0), (-10.0, 10.0), (10.0, 400.0))
    assert gap(bay, "tailgate", low) == pytest.approx(70.0 * 4.0 / math.sqrt(17.0), abs=2.0)
    high = box((200.0, 300.0), (-10.0, 10.0), (500.0, 600.0))
    assert gap(bay, "tailgate", high) == pytest.approx(120.0 * 4.0 / math.sqrt(17.0))


def test_the_openings_frame_stands_at_the_tailgate(
    plain_bay: Make, tailgate: Make, opening: Make
) -> None:
    face = tailgate({0.0: 0.0, 400.0: 40.0, 800.0: 120.0})
    hole = opening(20.0, 700.0, {0.0: 1000.0, 400.0: (520.0, 500.0), 700.0: 900.0})
    bay = build_bay(plain_bay(tailgate=face, opening=hole))
    assert bay.opening == (
        (20.0, 500.0, 501.0),
        (400.0, 500.0, 520.0),
        (700.0, 450.0, 450.0),
    )
    assert bay.lip == 20.0
    # Drawn out through the opening: towards the top the jambs run in by 70 and 50 over 300.
    drawn = box((-300.0, 300.0), (-440.0, 445.0), (25.0, 690.0))
    left = (5.0 + 70.0 / 30.0) / math.hypot(1.0, 70.0 / 300.0)
    right = (10.0 + 50.0 / 30.0) / math.hypot(1.0, 50.0 / 300.0)
    assert gap(bay, "left jamb of the opening", drawn) == pytest.approx(left)
    assert gap(bay, "right jamb of the opening", drawn) == pytest.approx(right)
    assert gap(bay, "upper edge of the opening", drawn) == pytest.approx(10.0)
    assert gap(bay, "sill", drawn) == pytest.approx(5.0)
    for side in ("left", "right"):
        jamb = named(bay, f"{side} jamb of the opening").vertices
        at_head = jamb[jamb[:, 2] == 700.0][:, 0]
        assert sorted(set(at_head.round(9))) == [100.0 - FRAME_DEPTH, 100.0]


def test_without_an_opening_the_bay_is_open_over_its_rearmost_section(
    plain_bay: Make, sections: Make
) -> None:
    """One width measured at the floor opens the bay up to the roof, not up to the floor."""
    bay = build_bay(plain_bay())
    assert bay.opening == ((0.0, 600.0, 600.0), (850.0, 600.0, 600.0))
    drawn = box((-300.0, 300.0), (-590.0, 590.0), (1.0, 845.0))
    assert gap(bay, "upper edge of the opening", drawn) == pytest.approx(5.0)
    assert gap(bay, "left jamb of the opening", drawn) == pytest.approx(10.0)
    low = plain_bay(
        sections=sections(
            (0.0, {0.0: 1200.0, 400.0: 1100.0}, 700.0), (600.0, {0.0: 1300.0}, 900.0)
        ),
        trim=TrimSpec(roof=5.0),
    )
    assert build_bay(low).opening == (
        (0.0, 600.0, 600.0),
        (400.0, 550.0, 550.0),
        (695.0, 550.0, 550.0),
    )


def kept(**entries: Any) -> KeepClearSpec:
    usual = {"name": "jack", "side": "left", "start": 100.0, "end": 300.0, "up_to": 200.0}
    return KeepClearSpec(**{**usual, **entries})


@pytest.mark.parametrize(
    ("zone", "low", "high"),
    [
        (kept(reach=80.0), (100.0, 520.0, 0.0), (300.0, 610.0, 200.0)),
        (
            kept(side="right", reach=60.0, above=50.0),
            (100.0, -610.0, 50.0),
            (300.0, -541.25, 200.0),
        ),
        (
            kept(side="floor", left=120.0, right=-30.0),
            (100.0, -30.0, 0.0),
            (300.0, 120.0, 200.0),
        ),
    ],
)
def test_kept_clear(
    plain_bay: Make,
    sections: Make,
    zone: KeepClearSpec,
    low: tuple[float, float, float],
    high: tuple[float, float, float],
) -> None:
    """Against a wall it comes out from where that is nearest: 600 from the middle, 601.25 at 50."""
    rows = sections((0.0, {0.0: 1200.0, 400.0: 1220.0}), (900.0, {0.0: 1200.0, 400.0: 1220.0}))
    obstacle = named(build_bay(plain_bay(sections=rows, keep_clear=(zone,))), "jack")
    assert obstacle.kind == "keep clear"
    assert tuple(obstacle.vertices.min(axis=0)) == pytest.approx(low)
    assert tuple(obstacle.vertices.max(axis=0)) == pytest.approx(high)
    assert obstacle.states == ()


def test_anchors_are_taken_over_with_their_rating_as_a_force(plain_bay: Make) -> None:
    anchors = (
        AnchorSpec(name="eye", at=(150.0, -380.0), height=4.0, below="clear", rating=400.0),
        AnchorSpec(name="bolt", at=(10.0, 20.0), thread="M6"),
    )
    first, second = build_bay(plain_bay(anchors=anchors)).anchors
    assert (first.x, first.y, first.z, first.below) == (150.0, -380.0, 4.0, "clear")
    assert first.rating_n == pytest.approx(3922.66)
    assert (second.thread, second.below, second.rating_n) == ("M6", "unknown", None)


def test_the_roof_goes_level_beyond_its_first_and_last_station(
    plain_bay: Make, sections: Make
) -> None:
    rows = sections((200.0, {0.0: 1200.0}, 800.0), (600.0, {0.0: 1200.0}, 840.0))
    bay = build_bay(plain_bay(sections=rows, front_wall=Measured(900.0)))
    assert bay.roof == ((0.0, 800.0), (200.0, 800.0), (600.0, 840.0), (1300.0, 840.0))


def test_the_path_of_a_belt_is_kept_clear(plain_bay: Make) -> None:
    """A bar of 60 by 60 from the seat's upper edge to the floor."""
    path = StrapSpec(name="tether", start=(900.0, 0.0, 600.0), end=(500.0, 0.0, 0.0), width=60.0)
    obstacle = named(build_bay(plain_bay(straps=(path,))), "tether")
    assert (obstacle.kind, obstacle.reached) == ("keep clear", "")
    low, high = obstacle.vertices.min(axis=0), obstacle.vertices.max(axis=0)
    assert high[1] - low[1] == pytest.approx(60.0)
    across = 30.0 * 600.0 / math.hypot(400.0, 600.0)
    assert (low[0], high[0]) == pytest.approx((500.0 - across, 900.0 + across))


@pytest.mark.parametrize(("comes_out", "reached"), [(True, "out"), (False, "hand")])
def test_a_kept_place_says_how_it_is_reached(
    plain_bay: Make, comes_out: bool, reached: str
) -> None:
    zone = KeepClearSpec(
        name="jack", side="left", start=100.0, end=200.0, reach=50.0, up_to=90.0,
        comes_out=comes_out,
    )  # fmt: skip
    assert named(build_bay(plain_bay(keep_clear=(zone,))), "jack").reached == reached
