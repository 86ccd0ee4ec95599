"""Doubts about a vehicle's numbers: what no vehicle with a cargo bay is likely to have."""

from __future__ import annotations

from collections.abc import Iterator

from fitout.design_file.parts import Parts
from fitout.model.fault import Fault, Path
from fitout.model.vehicle import KerbSpec, SeatSpec, SpringSpec, VehicleSpec

LIKELY: tuple[tuple[str, str, float, float], ...] = (
    ("wheelbase", "a wheelbase", 1500.0, 6000.0),
    ("rear_axle", "a rear axle", -1000.0, 3000.0),
    ("floor_height", "a floor above the ground", 200.0, 1800.0),
)
"""Entries in mm with their likely range (common practice)."""

KERB_KG = (400.0, 12000.0)
RATE_N_MM = (5.0, 500.0)
"""Of a vehicle as weighed, and of a spring at the wheel (common practice)."""

UNIT = "Is the unit right? A bare number is {}."


def vehicle(parts: Parts) -> Iterator[Fault]:
    """Lengths, masses and rates that look like a slip of unit; seats behind the sill."""
    spec = parts.record(VehicleSpec, "vehicle")
    if spec is None:
        return
    for key, name, least, most in LIKELY:
        value = getattr(spec, key)
        if value is not None and not least <= value <= most:
            found = f"{name} at {value:g} mm" if key == "rear_axle" else f"{name} of {value:g} mm"
            wanted = f"{least:g} to {most:g} mm"
            yield _doubt(("vehicle", key), found, wanted, UNIT.format("mm"))
    yield from _weights(parts)
    for index, seat in parts.below("vehicle", "seats"):
        if isinstance(seat, SeatSpec) and seat.at[0] <= 0.0:
            path: Path = ("vehicle", "seats", index, "at")
            found = f"{seat.name} {-seat.at[0]:g} mm behind the sill"
            yield _doubt(path, found, "a seat forward of it", "Is a sign missing or too many?")


def _weights(parts: Parts) -> Iterator[Fault]:
    kerb = parts.record(KerbSpec, "vehicle", "kerb")
    for key in ("mass", "front", "rear"):
        read = None if kerb is None else getattr(kerb, key)
        least = KERB_KG[0] if key == "mass" else KERB_KG[0] / 4.0
        if read is not None and not least <= read.value <= KERB_KG[1]:
            wanted = f"{least:g} to {KERB_KG[1]:g} kg"
            path: Path = ("vehicle", "kerb", key)
            yield _doubt(path, f"{read.value:g} kg", wanted, UNIT.format("kg"))
    for end in ("front", "rear"):
        spring = parts.record(SpringSpec, "vehicle", "springs", end)
        if spring is not None and not RATE_N_MM[0] <= spring.rate <= RATE_N_MM[1]:
            path = ("vehicle", "springs", end, "rate")
            wanted = f"{RATE_N_MM[0]:g} to {RATE_N_MM[1]:g} N/mm at the wheel"
            yield _doubt(path, f"{spring.rate:g} N/mm", wanted, UNIT.format("N/mm"))


def _doubt(path: Path, found: str, expected: str, hint: str) -> Fault:
    return Fault(path=path, found=found, expected=expected, hint=hint, caution=True)
