"""What a grip holds: washers, plates, ratings, tested nuts, screws."""

import dataclasses

import pytest

from fitout.checks.restraint_grip import SCREWS, Grip, Screws

GRIP = Grip(
    thread="M8", grade="8.8", washer=24.0, board=12.0, density_kg_m3=680.0, sheet=0.8,
    sheet_mpa=270.0,
)  # fmt: skip


def shares(grip, tension=1000.0, shear=1000.0, basis="working"):
    return dict(grip.limits(basis).shares(tension, shear))


def test_each_part_is_told() -> None:
    found = shares(GRIP)
    assert set(found) == {
        "bolt",
        "washer in the ply",
        "ply beside the bolt",
        "floor sheet round the washer below",
        "floor sheet beside the bolt",
    }
    assert found["washer in the ply"] == pytest.approx(1000.0 / (0.75 * 2916.0), rel=1e-3)
    assert found["floor sheet round the washer below"] == pytest.approx(1000.0 / 2073.6)


def test_a_crash_uses_less_of_what_breaks() -> None:
    road, thrown = shares(GRIP), shares(GRIP, basis="ultimate")
    assert all(thrown[part] < road[part] for part in road)


def test_a_larger_washer_and_a_plate_hold_more() -> None:
    larger = shares(dataclasses.replace(GRIP, washer=40.0, plate=60.0))
    usual = shares(GRIP)
    assert larger["washer in the ply"] < usual["washer in the ply"] / 2.5
    plate = larger["floor sheet round the plate below"]
    assert plate == pytest.approx(usual["floor sheet round the washer below"] * 24.0 / 60.0)


def test_a_rating_covers_the_floor() -> None:
    found = shares(dataclasses.replace(GRIP, rating_n=2000.0), 600.0, 800.0)
    assert found["anchor's rating"] == pytest.approx(0.5)
    assert not any("floor" in part for part in found)


def test_a_tested_nut() -> None:
    grip = dataclasses.replace(GRIP, into="rivet nut", tested_n=3000.0)
    assert shares(grip)["rivet nut in the floor"] == pytest.approx(1.0)
    assert shares(grip, basis="ultimate")["rivet nut in the floor"] == pytest.approx(1.0 / 3.0)


@pytest.mark.parametrize(
    ("changes", "lack"),
    [
        ({}, ""),
        ({"sheet": None}, "sheet"),
        ({"sheet": None, "rating_n": 1.0}, ""),
        ({"into": "captive nut"}, "nut"),
        ({"into": None, "sheet": None}, ""),
    ],
)
def test_what_is_lacking(changes, lack) -> None:
    assert dataclasses.replace(GRIP, **changes).lacks == lack


def test_a_countersunk_head_names_what_is_under_it() -> None:
    head = dataclasses.replace(GRIP, countersunk=True, washer=18.0)
    assert "bolt's head in the ply" in shares(head)
    assert "plate let into the ply" in shares(dataclasses.replace(head, washer=40.0))
    assert shares(head)["bolt"] > shares(GRIP)["bolt"]


def test_an_insert_nut() -> None:
    grip = dataclasses.replace(GRIP, into=None, insert_n=4000.0)
    assert shares(grip, basis="ultimate")["insert nut in the board below"] == pytest.approx(0.25)


def test_screws_out_of_an_edge_and_beside_it() -> None:
    edge = Screws(shank=4.0, length=40.0, through=12.0, density_kg_m3=680.0, upright=True)
    flat = dataclasses.replace(edge, upright=False)
    pulled = shares(edge, 500.0, 0.0, "ultimate")[SCREWS]
    assert pulled == pytest.approx(500.0 / (0.75 * 108.25 * 0.68**2 * 4.0 * 28.0))
    assert shares(flat, 500.0, 0.0)[SCREWS] == pytest.approx(shares(flat, 0.0, 500.0)[SCREWS])
