"""A vehicle under loads: the lever rule, heights, sides, limits."""

import dataclasses
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitout.checks.ledger import Known, LedgerLine
from fitout.checks.vehicle_state import VehicleState, kerb_of, track_of, vehicle_state
from fitout.mechanics.boards import STANDARD_GRAVITY
from fitout.model.spec import Measured
from fitout.model.vehicle import (
    AirbagRow,
    AirbagSpec,
    CarriedSpec,
    KerbSpec,
    LimitsSpec,
    SpringSpec,
    SpringsSpec,
    TrackSpec,
    VehicleSpec,
)

BASE = 2850.0
AXLE = 420.0


def vehicle(**entries: Any) -> VehicleSpec:
    usual: dict[str, Any] = {
        "rear_axle": AXLE,
        "wheelbase": BASE,
        "kerb": KerbSpec(front=Measured(1150.0, 6.0), rear=Measured(1050.0, 8.0)),
        "limits": LimitsSpec(gross=2700.0, front=1300.0, rear=1500.0),
    }
    return VehicleSpec(**{**usual, **entries})


def line(mass: float, x: float, y: float = 0.0, z: float = 0.0, **entries: Any) -> LedgerLine:
    usual: dict[str, Any] = {
        "name": "box", "group": "test", "kind": "contents", "known": Known.ENTERED, "u_kg": 0.0,
        "basis": "", "mass_kg": mass, "centre": (x, y, z),
    }  # fmt: skip
    return LedgerLine(**{**usual, **entries})


def test_a_vehicle_alone_is_as_weighed() -> None:
    state = vehicle_state(vehicle(), ())
    assert (state.axles.front_kg, state.axles.rear_kg) == (1150.0, 1050.0)
    assert state.total_kg == 2200.0
    assert state.ahead == pytest.approx(1150.0 * BASE / 2200.0)
    assert state.exceeded == ()
    assert (state.left_share, state.height, state.front, state.pitch_deg) == (None,) * 4


@given(st.floats(0.1, 300.0), st.floats(-900.0, 3500.0), st.floats(-800.0, 800.0))
def test_moving_a_mass_forward_shifts_weight_by_the_lever(
    mass: float, x: float, shift: float
) -> None:
    before, after = (vehicle_state(vehicle(), [line(mass, at)]) for at in (x, x + shift))
    moved = mass * shift / BASE
    assert after.axles.front_kg - before.axles.front_kg == pytest.approx(moved, abs=1e-6)
    assert after.axles.rear_kg - before.axles.rear_kg == pytest.approx(-moved, abs=1e-6)
    assert after.total_kg == pytest.approx(before.total_kg)


@given(st.floats(0.1, 300.0), st.floats(-900.0, 3500.0))
def test_twice_the_mass_has_twice_the_effect(mass: float, x: float) -> None:
    alone = vehicle_state(vehicle(), ())
    once, twice = (vehicle_state(vehicle(), [line(m, x)]) for m in (mass, 2.0 * mass))
    for end in ("front_kg", "rear_kg"):
        own = getattr(alone.axles, end)
        effect = getattr(once.axles, end) - own
        assert getattr(twice.axles, end) - own == pytest.approx(2.0 * effect, abs=1e-6)


@pytest.mark.parametrize(
    ("kerb", "front", "rear"),
    [
        (KerbSpec(mass=Measured(2200.0), front=Measured(1150.0)), 1150.0, 1050.0),
        (KerbSpec(mass=Measured(2200.0), rear=Measured(1050.0)), 1150.0, 1050.0),
        (KerbSpec(mass=Measured(2210.0), front=Measured(1150.0), rear=Measured(1050.0)),
         1150.0, 1050.0),
    ],
)  # fmt: skip
def test_two_readings_are_enough(kerb: KerbSpec, front: float, rear: float) -> None:
    axles = kerb_of(kerb).axles
    assert (axles.front_kg, axles.rear_kg) == (front, rear)


def test_one_reading_is_not() -> None:
    with pytest.raises(ValueError, match="two of mass, front and rear"):
        kerb_of(KerbSpec(front=Measured(1150.0)))


def test_uncertainty_of_readings_and_loads() -> None:
    """± 6 and ± 8 are 3.46 and 4.62; a load over the rear axle adds to the rear alone."""
    state = vehicle_state(vehicle(), [line(100.0, AXLE, u_kg=5.0)])
    assert state.limit("front").u_kg == pytest.approx(6.0 / 3.0**0.5)
    assert state.limit("rear").u_kg == pytest.approx((64.0 / 3.0 + 25.0) ** 0.5)
    assert state.limit("gross").u_kg == pytest.approx((100.0 / 3.0 + 25.0) ** 0.5)
    assert state.u_kg == state.limit("gross").u_kg
    # No ±: a weighbridge is off by 10 kg at most.
    coarse = KerbSpec(mass=Measured(2200.0), front=Measured(1150.0))
    assert kerb_of(coarse).u_rear_kg == pytest.approx((200.0 / 3.0) ** 0.5)


def test_lines_that_err_together_add_up() -> None:
    apart = [line(40.0, AXLE, u_kg=3.0), line(40.0, AXLE, u_kg=4.0)]
    shared = [dataclasses.replace(one, shared="sheet") for one in apart]
    own = 100.0 / 3.0
    assert vehicle_state(vehicle(), apart).u_kg == pytest.approx((own + 25.0) ** 0.5)
    assert vehicle_state(vehicle(), shared).u_kg == pytest.approx((own + 49.0) ** 0.5)


def test_limits_that_are_exceeded_worst_first() -> None:
    state = vehicle_state(vehicle(), [line(520.0, AXLE)])
    assert [limit.key for limit in state.exceeded] == ["rear", "gross"]
    assert [limit.margin_kg for limit in state.exceeded] == [-70.0, -20.0]
    assert state.limit("roof").margin_kg is None


def test_roof_and_door_count_what_was_weighed_with_the_vehicle() -> None:
    spare = CarriedSpec(
        name="spare wheel", mass=Measured(21.0), at=(-150.0, 0.0, 400.0), where="door",
        weighed_with=True,
    )  # fmt: skip
    spec = vehicle(carries=(spare,))
    state = vehicle_state(spec, [line(18.0, -200.0, where="door"), line(30.0, 900.0, where="roof")])
    assert state.limit("door").value_kg == 39.0
    assert state.limit("roof").value_kg == 30.0
    assert state.total_kg == 2248.0


def test_left_and_right() -> None:
    spec = vehicle(track=TrackSpec(front=1500.0, rear=1540.0))
    assert track_of(spec) == 1520.0
    assert vehicle_state(spec, ()).left_share == 0.5
    state = vehicle_state(spec, [line(100.0, 500.0, 304.0)])
    assert state.left_share == pytest.approx(0.5 + 100.0 * 304.0 / (2300.0 * 1520.0))
    heavier = dataclasses.replace(spec.kerb, left=Measured(1120.0))
    leaning = dataclasses.replace(spec, kerb=heavier)
    assert vehicle_state(leaning, ()).left_share == pytest.approx(1120.0 / 2200.0)


def test_height_and_roll_over_threshold() -> None:
    """100 kg at 1000 above a floor 700 up, on 2200 kg at 650: 695.7 mm."""
    kerb = dataclasses.replace(vehicle().kerb, height=650.0)
    spec = vehicle(kerb=kerb, floor_height=700.0, track=1500.0)
    state = vehicle_state(spec, [line(100.0, 500.0, 0.0, 1000.0)])
    height = (2200.0 * 650.0 + 100.0 * 1700.0) / 2300.0
    assert state.height == pytest.approx(height)
    assert state.rollover_g == pytest.approx(1500.0 / 2.0 / height)


def springy(rear: SpringSpec) -> VehicleSpec:
    return vehicle(springs=SpringsSpec(front=SpringSpec(rate=40.0), rear=rear))


def rear_down(state: VehicleState) -> float:
    assert state.rear is not None
    return state.rear.down


def test_ride_height_by_wheel_and_by_axle() -> None:
    load = [line(100.0, AXLE)]
    by_wheel = vehicle_state(springy(SpringSpec(rate=30.0)), load)
    by_axle = vehicle_state(springy(SpringSpec(rate=60.0, per="axle")), load)
    assert rear_down(by_wheel) == pytest.approx(100.0 * STANDARD_GRAVITY / 60.0)
    assert rear_down(by_axle) == rear_down(by_wheel)
    assert by_wheel.front is not None
    assert by_wheel.front.down == pytest.approx(0.0, abs=1e-9)
    assert by_wheel.pitch_deg is not None
    assert by_wheel.pitch_deg > 0.0


def test_air_springs_hold_it_up() -> None:
    rows = (AirbagRow(pressure=0.5, carries=10.0), AirbagRow(pressure=2.5, carries=90.0, rate=2.0))
    bags = AirbagSpec(rows=rows, as_weighed=0.5)
    spec = springy(SpringSpec(rate=30.0, airbags=bags))
    load = [line(100.0, AXLE)]
    slack = vehicle_state(spec, load)
    assert rear_down(slack) == pytest.approx(100.0 * STANDARD_GRAVITY / 60.0)
    # Two of them bear 20 kg at 0.5 bar and 180 at 2.5: 100 more at 1.75.
    assert slack.rear is not None
    assert slack.rear.level_bar == pytest.approx(1.75)
    firm = springy(SpringSpec(rate=30.0, airbags=dataclasses.replace(bags, set_to=1.75)))
    assert rear_down(vehicle_state(firm, load)) == pytest.approx(0.0, abs=1e-9)
