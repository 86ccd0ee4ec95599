"""A module is built again only when something changed that its build looked at."""

import dataclasses

import pytest

from fitout.model.module import Berth
from fitout.modules.builds import Builds
from fitout.modules.drawers import DrawersSpec

BERTH = Berth(x0=60.0, x1=800.0, y0=-300.0, y1=300.0, z0=0.0, z1=400.0)


@pytest.fixture
def setting(bays, setting_of):
    return setting_of(bays["van"], items={}, specs={"drawers": DrawersSpec()})


def test_the_same_is_taken_again(setting):
    builds = Builds()
    first = builds.build("drawers", DrawersSpec(), BERTH, setting)
    again = builds.build("drawers", DrawersSpec(), BERTH, dataclasses.replace(setting))
    assert again is first


def board(setting, role, thickness):
    changed = dataclasses.replace(setting.boards[role], thickness=thickness)
    return dataclasses.replace(setting, boards={**setting.boards, role: changed})


def test_what_its_build_did_not_look_at_may_change(setting):
    builds = Builds()
    first = builds.build("drawers", DrawersSpec(), BERTH, setting)
    assert builds.build("drawers", DrawersSpec(), BERTH, board(setting, "foam", 33.0)) is first


@pytest.mark.parametrize("role", ["carcass", "deck", "drawer", "bottom", "front"])
def test_what_it_looked_at_makes_it_be_built_again(setting, role):
    builds = Builds()
    first = builds.build("drawers", DrawersSpec(), BERTH, setting)
    other = builds.build("drawers", DrawersSpec(), BERTH, board(setting, role, 14.3))
    assert other != first
    assert any(p.thickness == 14.3 for p in other.panels)
    assert builds.build("drawers", DrawersSpec(), BERTH, setting) is first


def test_another_berth_or_wish_is_another_module(setting):
    builds = Builds()
    first = builds.build("drawers", DrawersSpec(), BERTH, setting)
    wider = dataclasses.replace(BERTH, y1=320.0)
    assert builds.build("drawers", DrawersSpec(), wider, setting).berth == wider
    latched = builds.build("drawers", DrawersSpec(pull="latch"), BERTH, setting)
    assert latched != first


def test_only_the_latest_are_kept(setting):
    builds = Builds(limit=2)
    spans = [dataclasses.replace(BERTH, y1=300.0 + i) for i in range(3)]
    made = [builds.build("drawers", DrawersSpec(), berth, setting) for berth in spans]
    assert builds.build("drawers", DrawersSpec(), spans[2], setting) is made[2]
    assert builds.build("drawers", DrawersSpec(), spans[1], setting) is made[1]
    assert builds.build("drawers", DrawersSpec(), spans[0], setting) is not made[0]
    assert len(builds.builds["drawers"]) == 2
