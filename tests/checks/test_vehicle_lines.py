"""Ledger lines for people, fuel and what the vehicle carries besides."""

import pytest

from fitout.checks.ledger import Known
from fitout.checks.vehicle_lines import (
    carried_lines,
    fuel_line,
    reading_u,
    seat_line,
    weighed_with,
)
from fitout.model.spec import Measured
from fitout.model.vehicle import (
    CarriedSpec,
    FuelSpec,
    KerbSpec,
    LimitsSpec,
    SeatSpec,
    VehicleSpec,
)

SPEC = VehicleSpec(
    rear_axle=420.0,
    wheelbase=2850.0,
    kerb=KerbSpec(front=Measured(1150.0), rear=Measured(1050.0)),
    limits=LimitsSpec(gross=2700.0),
    fuel=FuelSpec(holds=70.0, kind="diesel", at=(900.0, 0.0, -200.0), as_weighed=60.0),
    carries=(
        CarriedSpec(name="spare", mass=Measured(21.0), at=(-90.0, 0.0, 300.0), where="door",
                    weighed_with=True),
        CarriedSpec(name="box", mass=Measured(36.0, 1.0), at=(900.0, 0.0, 1100.0), where="roof"),
    ),
)  # fmt: skip


def test_what_was_weighed_with_the_vehicle_is_not_added_again() -> None:
    (box,) = carried_lines(SPEC)
    (spare,) = weighed_with(SPEC)
    assert (box.name, box.where, box.known) == ("box", "roof", Known.WEIGHED)
    assert (spare.name, spare.where, spare.known) == ("spare", "door", Known.ENTERED)
    assert box.u_kg == reading_u(Measured(36.0, 1.0)) == pytest.approx(1.0 / 3.0**0.5)
    assert spare.u_kg == pytest.approx(0.05 * 21.0)
    assert box.loose


def test_fuel_counts_from_what_was_in_the_tank() -> None:
    """Diesel: 820 to 845 kg/m³ at 15 °C (EN 590)."""
    full, low = fuel_line(SPEC, 70.0), fuel_line(SPEC, 20.0)
    assert full.mass_kg == pytest.approx(10.0 * 0.8325)
    assert low.mass_kg == pytest.approx(-40.0 * 0.8325)
    assert full.name == "diesel, 10 l more than as weighed"
    assert low.name == "diesel, 40 l less than as weighed"
    assert low.u_kg == pytest.approx(40.0 * 0.025 / 12.0**0.5)
    assert fuel_line(SPEC, 60.0).mass_kg == 0.0


@pytest.mark.parametrize("litres", [-1.0, 70.1])
def test_a_tank_holds_what_it_holds(litres: float) -> None:
    with pytest.raises(ValueError, match="the tank is not known or holds less"):
        fuel_line(SPEC, litres)


def test_a_person_sits_where_the_seat_is() -> None:
    seat = SeatSpec(name="driver", at=(2100.0, -370.0))
    line = seat_line(seat, 82.0, "Ana")
    assert (line.name, line.centre, line.mass_kg) == ("Ana", (2100.0, -370.0, 250.0), 82.0)
    assert seat_line(seat, 75.0).name == "driver"
    assert not line.loose
