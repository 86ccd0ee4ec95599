"""A vehicle's axle loads against worked cases."""

import pytest

from fitout.checks.ledger import Known, LedgerLine
from fitout.checks.vehicle_state import vehicle_state
from fitout.model.spec import Measured
from fitout.model.vehicle import KerbSpec, LimitsSpec, VehicleSpec

REAR_AXLE = 420.0
BASE = 2850.0
SPEC = VehicleSpec(
    rear_axle=REAR_AXLE,
    wheelbase=BASE,
    kerb=KerbSpec(front=Measured(1150.0), rear=Measured(1050.0)),
    limits=LimitsSpec(gross=2800.0, front=1300.0, rear=1500.0),
)


def load(mass: float, behind_front_axle: float) -> LedgerLine:
    """A mass by its distance behind the front axle, as handbooks for body builders count."""
    return LedgerLine(
        name="", group="", kind="contents", mass_kg=mass, known=Known.ENTERED, u_kg=0.0, basis="",
        centre=(REAR_AXLE + BASE - behind_front_axle, 0.0, 0.0),
    )  # fmt: skip


def test_five_loads_by_the_lever_rule() -> None:
    """Lever rule R_rear = m x / L, worked apart from the program with L = 2850 mm.

    1150 and 1050 kg as weighed; 150 kg at 1250, 18 at 1900, 63 at 2000, 120 at 2900 and 55 at
    2700 mm behind the front axle: 1259.79 kg front, 1346.21 rear, 2606 in all.
    """
    cases = [(150.0, 1250.0), (18.0, 1900.0), (63.0, 2000.0), (120.0, 2900.0), (55.0, 2700.0)]
    state = vehicle_state(SPEC, [load(*case) for case in cases])
    assert state.axles.front_kg == pytest.approx(1259.79, abs=0.005)
    assert state.axles.rear_kg == pytest.approx(1346.21, abs=0.005)
    assert state.total_kg == pytest.approx(2606.0)


def test_behind_the_rear_axle() -> None:
    """100 kg 700 mm behind the rear axle of L = 2850 mm: +124.56 and -24.56 kg (lever rule)."""
    state = vehicle_state(SPEC, [load(100.0, BASE + 700.0)])
    assert state.axles.rear_kg - 1050.0 == pytest.approx(124.56, abs=0.005)
    assert state.axles.front_kg - 1150.0 == pytest.approx(-24.56, abs=0.005)


def test_a_truck_body_builders_example() -> None:
    """A truck maker's body-builder manual, appendix B: L 214 in, load 100 at 133 in.

    It prints 62.14 at the rear and, by a slip, 38.86 at the front; 37.85 balances.
    """
    inches = VehicleSpec(
        rear_axle=REAR_AXLE, wheelbase=214.0 * 25.4, kerb=SPEC.kerb, limits=SPEC.limits
    )
    at = REAR_AXLE + (214.0 - 133.0) * 25.4
    line = LedgerLine(
        name="", group="", kind="contents", mass_kg=100.0, known=Known.ENTERED, u_kg=0.0,
        basis="", centre=(at, 0.0, 0.0),
    )  # fmt: skip
    state = vehicle_state(inches, [line])
    assert state.axles.rear_kg - 1050.0 == pytest.approx(62.15, abs=0.005)
    assert state.axles.front_kg - 1150.0 == pytest.approx(37.85, abs=0.005)
