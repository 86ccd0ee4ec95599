"""How drawers are pulled and held shut, whatever their boards and slides."""

import dataclasses

import pytest

from fitout.checks.latch_fit import faults, meeting
from fitout.model.fault import DesignError
from fitout.model.module import Berth, Module
from fitout.modules.drawers import DrawerSpec, DrawersSpec, build
from fitout.modules.neighbours import box_of

BERTH = Berth(x0=60.0, x1=850.0, y0=-410.0, y1=390.0, z0=0.0, z1=470.0)


@pytest.fixture
def setting(bays, setting_of):
    return lambda thickness=None: setting_of(bays["wagon"], thickness)


def held(module: Module) -> dict[str, str]:
    """The latch of each drawer that has one."""
    return {latch.motion: latch.type.key for latch in module.latches}


@pytest.mark.parametrize("thickness", [9.0, 11.7, 14.6, 18.0])
@pytest.mark.parametrize("pull", [None, "latch"])
@pytest.mark.parametrize("columns", [1, 2, 3, 4])
def test_every_drawer_has_a_latch_that_meets_its_striker(setting, thickness, pull, columns):
    spec = DrawersSpec(pull=pull, columns=columns, slides="full extension")
    module = build("drawers", spec, BERTH, setting(thickness))
    motions = {m.name: m for m in module.motions}
    assert set(held(module)) == set(motions)
    parts = {p.id: p for p in module.parts()}
    for latch in module.latches:
        assert list(faults(latch, motions[latch.motion], parts)) == []
        assert meeting(latch).engagement == pytest.approx(6.0)


def test_the_catch_sits_by_the_finger_hole_and_the_striker_above_it(setting):
    """Front boards of 12: the top of the drawer at 458 - 8, the top's underside at 458."""
    spec = DrawersSpec(columns=1, slides="full extension", stack=(DrawerSpec(),))
    module = build("drawers", spec, BERTH, setting(12.0))
    panels = {p.name: p for p in module.panels}
    (latch,) = module.latches
    assert (latch.panel, latch.striker_panel) == ("drawers/drawer 1 inner front", "drawers/top")
    inner = box_of(panels["drawer 1 inner front"])
    assert latch.root[0] == pytest.approx(inner.x1)
    assert latch.root[2] == pytest.approx(458.0 - 10.5)
    hole = panels["drawer 1 inner front"].outline.inner[0].bounds
    case = [panels["drawer 1 inner front"].local(c) for c in latch.case]
    beside = min(u for u, _ in case) - hole[2], hole[0] - max(u for u, _ in case)
    assert max(beside) == pytest.approx(6.0)
    bought = {line.article: line.quantity for line in module.hardware}
    assert (bought["finger catch"], bought["lip striker"], bought["lock nut M4"]) == (1, 1, 4)
    assert bought["countersunk bolt M4 x 20"] == 4


def test_the_lower_of_two_drawers_has_its_striker_under_the_rail(setting):
    spec = DrawersSpec(columns=1, slides="full extension")
    module = build("drawers", spec, BERTH, setting())
    strikers = {latch.motion: latch.striker_panel for latch in module.latches}
    assert strikers == {"drawer 1": "drawers/rear rail 1", "drawer 2": "drawers/top"}


def test_slides_that_lock_need_no_latch_unless_one_is_asked_for(setting):
    locking = DrawersSpec(columns=2, slides="heavy locking")
    assert held(build("d", locking, BERTH, setting())) == {}
    for wish in ({"pull": "latch"}, {"latch": "turn latch"}, {"latch": "finger catch"}):
        module = build("d", dataclasses.replace(locking, **wish), BERTH, setting())
        assert set(held(module).values()) == {wish.get("latch", "push-button latch")}
        assert len(held(module)) == 4


def test_none_means_none(setting):
    spec = DrawersSpec(latch="none", slides="full extension")
    assert build("d", spec, BERTH, setting()).latches == ()


def test_a_latch_with_a_button_is_the_pull_unless_a_finger_hole_is_wanted(setting):
    spec = DrawersSpec(columns=2, slides="full extension", latch="turn latch")
    for pull, holes in ((None, 0), ("finger hole", 1)):
        module = build("d", dataclasses.replace(spec, pull=pull), BERTH, setting())
        assert set(held(module).values()) == {"turn latch"}
        for latch in module.latches:
            front = next(p for p in module.panels if p.id == latch.passes[1])
            assert len(front.outline.inner) == holes
            assert [h.diameter for h in front.holes if h.purpose == "latch button"] == [20.0]


def test_a_drawer_too_narrow_for_a_catch_gets_a_button(setting):
    spec = DrawersSpec(columns=4, slides="full extension", stack=(DrawerSpec(),))
    module = build("d", spec, BERTH, setting())
    assert set(held(module).values()) == {"push-button latch"}


@pytest.mark.parametrize("latch", ["finger catch", "none"])
def test_a_front_is_not_pulled_by_a_latch_without_a_button(setting, latch):
    spec = DrawersSpec(pull="latch", latch=latch)
    with pytest.raises(DesignError) as caught:
        build("d", spec, BERTH, setting())
    (fault,) = caught.value.faults
    assert fault.path == ("modules", "d", "latch")
    assert "no button" in fault.found
    assert "push-button latch, turn latch" in fault.expected


def test_boards_too_thin_for_the_striker_are_told(setting):
    thin = setting(5.0)
    spec = DrawersSpec(latch="push-button latch", slides="full extension", columns=1)
    with pytest.raises(DesignError) as caught:
        build("d", spec, BERTH, thin)
    (fault,) = caught.value.faults
    assert fault.path == ("modules", "d", "latch")
    assert "'push-button latch' with its striker on rear rail 1, 5 mm thick" in fault.found
    assert fault.expected == "a board of 6 mm or more for the striker"
