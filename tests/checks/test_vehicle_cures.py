"""Cures are tried: what they say, done, passes."""

from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from fitout.checks.ledger import Known, LedgerLine
from fitout.checks.vehicle_cures import cures
from fitout.checks.vehicle_state import vehicle_state
from fitout.model.spec import Measured
from fitout.model.vehicle import KerbSpec, LimitsSpec, VehicleSpec

BASE = 2850.0
AXLE = 420.0


def vehicle(**limits: float) -> VehicleSpec:
    allowed = {"gross": 2700.0, "front": 1300.0, "rear": 1300.0, "roof": 60.0, **limits}
    return VehicleSpec(
        rear_axle=AXLE,
        wheelbase=BASE,
        kerb=KerbSpec(front=Measured(1150.0), rear=Measured(1050.0)),
        limits=LimitsSpec(**allowed),
    )


def line(name: str, mass: float, x: float, **entries: Any) -> LedgerLine:
    usual: dict[str, Any] = {
        "name": name, "group": "bench", "kind": "contents", "known": Known.ENTERED, "u_kg": 1.0,
        "basis": "", "mass_kg": mass, "centre": (x, 0.0, 0.0), "loose": True,
    }  # fmt: skip
    return LedgerLine(**{**usual, **entries})


def water(litres: float, x: float) -> LedgerLine:
    return line("water", litres, x, group="tank", kind="water", kg_per_litre=1.0)


def test_nothing_exceeded_needs_no_cure() -> None:
    assert cures(vehicle(), [line("in box", 100.0, AXLE)]) == ()


def test_something_is_moved_forward_or_left_at_home() -> None:
    """10 kg too many on the rear axle: 10 x 2850 / 1500 = 19 kg go 1500 mm forward."""
    far = line("on shelf", 60.0, AXLE + 1500.0, group="shelf")
    rear = 60.0 * 1350.0 / BASE
    load = [far, line("in box", 260.0 - rear, AXLE)]
    moved, less = cures(vehicle(), load)
    assert moved.words == "move 19 kg of what is in box of bench 1500 mm forward, to shelf"
    assert less.words == "carry 10 kg less in box of bench"
    for cure in (moved, less):
        assert vehicle_state(vehicle(), cure.lines).exceeded == ()
    assert sum(x.mass_kg for x in moved.lines) == pytest.approx(sum(x.mass_kg for x in load))


def test_water_counts_in_litres_and_is_not_moved() -> None:
    far = line("on shelf", 0.5, AXLE + 1500.0)
    (cure,) = cures(vehicle(), [far, water(262.4, AXLE)])
    assert cure.words == "carry 13 l less in tank"


def test_water_is_named_beside_goods() -> None:
    load = [line("in box", 150.0, -800.0), water(60.0, AXLE + 200.0)]
    told = [cure.words for cure in cures(vehicle(), load)]
    assert told[0].startswith("move ")
    assert told[1].endswith("kg less in box of bench")
    assert told[2].endswith("l less in tank")


def test_what_is_too_heavy_in_all_is_left_at_home() -> None:
    load = [line("in box", 80.0, 1700.0), line("Ana", 450.0, 1900.0, kind="person", loose=False)]
    (cure,) = cures(vehicle(front=2000.0, rear=2000.0), load)
    assert cure.words == "carry 30 kg less in box of bench"


def test_the_roof_is_relieved_on_the_roof() -> None:
    load = [
        line("in box", 80.0, 900.0),
        line("roof box", 75.5, 900.0, kind="carried", where="roof"),
    ]
    (cure,) = cures(vehicle(), load)
    assert cure.words == "carry 16 kg less of roof box"


def test_several_things_are_left_where_one_is_not_enough() -> None:
    load = [line(f"in box {n}", 8.0, AXLE) for n in range(1, 4)]
    load.append(line("frame", 246.0, AXLE, kind="panel", loose=False))
    (cure,) = cures(vehicle(), load)
    assert cure.words == (
        "carry 8 kg less in box 1 of bench and carry 8 kg less in box 2 of bench and "
        "carry 4 kg less in box 3 of bench"
    )
    assert vehicle_state(vehicle(), cure.lines).exceeded == ()


def test_what_cannot_be_cured_has_no_cure() -> None:
    assert cures(vehicle(), [line("frame", 400.0, AXLE, kind="panel", loose=False)]) == ()


@given(
    st.lists(st.tuples(st.floats(5.0, 120.0), st.floats(-900.0, 2500.0)), min_size=2, max_size=6),
    st.floats(1255.0, 1400.0),
)
def test_every_cure_passes_and_takes_from_what_is_loose(
    goods: list[tuple[float, float]], rear: float
) -> None:
    spec = vehicle(gross=5000.0, front=2000.0, rear=rear)
    load = [line(f"in box {n}", mass, x) for n, (mass, x) in enumerate(goods)]
    load.append(line("frame", 60.0, 800.0, kind="panel", loose=False))
    over = vehicle_state(spec, load).exceeded
    assume(over)
    found = cures(spec, load)
    assert found
    for cure in found:
        assert vehicle_state(spec, cure.lines).exceeded == ()
        assert min(x.mass_kg for x in cure.lines) >= 0.0
