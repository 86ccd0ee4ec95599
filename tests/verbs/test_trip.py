"""`fitout trip`: what it prints, what it ends with, what is wrong with a design."""

import json
import re
from pathlib import Path

import pytest

from fitout import cli

DESIGNS = Path(__file__).parents[2] / "designs"
WAGON = str(DESIGNS / "touring-wagon.yaml")

BARE = """fitout: 1
name: Bare
bay:
  sections: [{at: 0, widths: {0: 1200}, roof: 900}]
  front_wall: 1000
modules:
  drawers: {kind: drawers, width: 800}
"""


@pytest.fixture
def written(tmp_path):
    def write(more: str) -> str:
        path = tmp_path / "bare.yaml"
        path.write_text(BARE + more, encoding="utf-8", newline="\n")
        return str(path)

    return write


def test_a_trip_that_passes_ends_with_0(capsys):
    assert cli.main(["trip", WAGON, "--trip", "two weeks south"]) == 0
    shown = capsys.readouterr().out
    assert "two weeks south: 14 days" in shown
    assert "down the river" not in shown
    assert "FAIL" not in shown
    text = [line for line in shown.splitlines() if not line.lstrip().startswith("carries:")]
    assert max(map(len, text)) <= 80


def test_a_trip_that_fails_ends_with_1_and_says_the_day_and_the_cure(capsys):
    assert cli.main(["trip", WAGON]) == 1
    shown = " ".join(capsys.readouterr().out.split())
    assert "On day 1 the rear axle bears" in shown
    assert re.search(r"To pass, set the folded boat \d+ mm further forward", shown)
    assert "Trip down the river: it fails." in shown


def test_json_holds_the_same(capsys):
    assert cli.main(["trip", WAGON, "--json"]) == 1
    whole = json.loads(capsys.readouterr().out)
    assert [trip["passed"] for trip in whole["trips"]] == [True, False]


def test_check_and_build_take_a_failing_trip_as_a_caution(capsys):
    assert cli.main(["check", WAGON]) == 0
    assert "caution   trip: Trip down the river" in capsys.readouterr().out


def test_an_unknown_trip_is_a_fault_with_the_nearest(capsys):
    assert cli.main(["trip", WAGON, "--trip", "down the rivver"]) == 2
    shown = capsys.readouterr().err
    assert "found no trip 'down the rivver'" in shown
    assert "down the river" in shown


def test_a_design_without_trips_says_what_to_enter(capsys, written):
    assert cli.main(["trip", written("")]) == 2
    assert "For example trips: {weekend: {days: 3}}." in capsys.readouterr().err


def test_goods_without_a_place_are_located(capsys, written):
    path = written("trips:\n  away:\n    days: 2\n    packing: {drawers/drawer 9: 4 kg}\n")
    for verb in ("trip", "check"):
        assert cli.main([verb, path]) == 2
        assert "bare.yaml:11:" in capsys.readouterr().err
    assert cli.main(["trip", path, "--json"]) == 2
    whole = json.loads(capsys.readouterr().out)
    assert whole["faults"][0]["path"] == ["trips", "away", "packing", "drawers/drawer 9"]


def test_modules_without_room_have_no_trips(capsys, written):
    path = written("  more: {kind: drawers, width: 800}\ntrips: {away: {days: 2}}\n")
    assert cli.main(["trip", path]) == 1
    assert "the modules find no room yet" in capsys.readouterr().err
    assert cli.main(["check", path]) == 1


def test_a_trip_without_a_vehicle_is_unchecked_not_passed(capsys, written):
    assert cli.main(["trip", written("trips: {away: {days: 2}}\n")]) == 0
    shown = capsys.readouterr().out
    assert "unchecked trip data" in shown
    assert "axle loads and gross mass (`vehicle`)" in " ".join(shown.split())
