"""The overview: well formed, light, the same each time, everything in it."""

import xml.etree.ElementTree as ET

import numpy as np
import pytest

from fitout.documents.pictures import (
    ARCH_COLOUR,
    MODULE_COLOURS,
    arch_corners,
    floor_corners,
    overview_svg,
)

NAME = "{http://www.w3.org/2000/svg}"


@pytest.fixture
def picture(fitout):
    return ET.fromstring(overview_svg(fitout))


def test_it_is_light_and_always_the_same(fitout):
    data = overview_svg(fitout)
    assert data == overview_svg(fitout)
    assert len(data) < 300_000


def test_every_body_is_painted(picture, fitout):
    groups = picture.findall(f"{NAME}g")
    assert len(groups) == len(list(fitout.parts())) + 2  # and two wheel arches
    assert all(group.findall(f"{NAME}path") for group in groups)
    assert sum(group.get("opacity") is not None for group in groups) == 2


def test_modules_are_named_by_their_colour(picture, fitout):
    names = [text.text for text in picture.findall(f"{NAME}text")]
    assert names == ["drawers", "fridge"]
    swatches = [rect.get("fill") for rect in picture.findall(f"{NAME}rect")][1:]
    assert swatches == list(MODULE_COLOURS[:2])
    assert picture.find(f"{NAME}title").text == "Sample & test"
    assert ARCH_COLOUR not in MODULE_COLOURS


def test_nothing_lies_outside_the_picture(picture):
    _, _, width, height = map(float, picture.get("viewBox").split())
    points = [
        tuple(map(float, pair.split(",")))
        for path in picture.iter(f"{NAME}path")
        for ring in path.get("d").strip("MZ").split("ZM")
        for pair in ring.split()
    ]
    across, down = np.array(points).T
    assert across.min() >= 0.0
    assert across.max() <= width
    assert down.min() >= 0.0
    assert down.max() <= height


def test_floor_reaches_from_sill_to_seat_and_wall_to_wall(fitout):
    floor = floor_corners(fitout.bay)
    assert floor[:, 0].min() == 0.0
    assert floor[:, 0].max() == pytest.approx(fitout.bay.front)
    at_sill = floor[floor[:, 0] == 0.0]
    assert sorted(at_sill[:, 1]) == pytest.approx([-523.0, 523.0])


def test_arches_stand_on_the_floor_between_their_face_and_the_wall(fitout):
    right, left = sorted(arch_corners(fitout.bay), key=lambda c: c[:, 1].mean())
    assert left[:, 1].min() == pytest.approx(484.0)
    assert right[:, 1].max() == pytest.approx(-484.0)
    for corners in (left, right):
        assert (corners[:, 0].min(), corners[:, 0].max()) == (318.0, 842.0)
        assert (corners[:, 2].min(), corners[:, 2].max()) == (0.0, 262.0)
