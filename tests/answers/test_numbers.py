import dataclasses
from pathlib import Path

import pytest

from fitout.answers.numbers import changed, figures
from fitout.model.spec import Unit
from fitout.model.trips import EnergySpec, TripSpec


def by_name(design, **more):
    return {figure.name: figure for figure in figures(design, **more)}


def test_numbers_have_the_place_they_stand_at(design) -> None:
    text = Path(design.file).read_text(encoding="utf-8").splitlines()
    found = by_name(design)
    figure = found["bay.wheel_arches.height"]
    assert figure.value == 236.0
    assert figure.unit is Unit.LENGTH
    assert text[figure.line - 1][figure.column - 1 :].startswith("236")


def test_a_size_is_three_numbers_at_one_place(design) -> None:
    found = by_name(design)
    sides = [found[f"items.slim tank.size.{side}"] for side in ("length", "width", "height")]
    assert [side.value for side in sides] == [92.0, 620.0, 230.0]
    assert len({(side.line, side.column) for side in sides}) == 1


def test_defaults_are_numbers_without_a_line(design) -> None:
    figure = by_name(design)["clearances.tank"]
    assert figure.line is None
    assert figure.value == design.clearances.tank


def test_boards_not_measured_have_the_thickness_given(design) -> None:
    assert "boards.carcass.measured" not in by_name(design)
    figure = by_name(design, thicknesses={"carcass": 9.2})["boards.carcass.measured"]
    assert changed(design, figure, 0.3).boards["carcass"].measured == pytest.approx(9.5)


def test_only_the_one_number_is_changed(design) -> None:
    before = {figure.name: figure.value for figure in figures(design)}
    for figure in figures(design)[::12]:
        after = {one.name: one.value for one in figures(changed(design, figure, 0.5))}
        moved = {
            name: value - before[name] for name, value in after.items() if value != before[name]
        }
        assert moved == {figure.name: pytest.approx(0.5)}


def test_tolerances_and_keys_stay(design) -> None:
    figure = by_name(design)["bay.wheel_arches.between"]
    other = changed(design, figure, -2.0)
    assert other.bay.wheel_arches.between.tolerance == 3.0
    widths = by_name(design)["bay.sections[1].widths.180"]
    assert list(changed(design, widths, 1.0).bay.sections[1].widths) == [0.0, 180.0, 430.0]


def test_a_share_goes_no_further_than_to_its_ends(design) -> None:
    trips = {"away": TripSpec(days=1, energy=EnergySpec(battery=1000.0))}
    travelling = dataclasses.replace(design, trips=trips)
    found = by_name(travelling)
    full = found["trips.away.energy.start"]
    assert (full.value, full.ends) == (1.0, (0.0, 1.0))
    assert found["clearances.tank"].ends is None
    for by, start in ((0.4, 1.0), (-0.4, 0.6), (-3.0, 0.0)):
        assert changed(travelling, full, by).trips["away"].energy.start == pytest.approx(start)
