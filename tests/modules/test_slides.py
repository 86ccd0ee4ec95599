"""Slides: which pair is chosen, how one hangs between two panels."""

from collections.abc import Callable, Mapping

import pytest

from fitout.catalogue import load
from fitout.model.bay import Bay
from fitout.model.module import JointKind
from fitout.model.placement import along, along_face_left
from fitout.modules.joinery import Draft
from fitout.modules.kind import Setting
from fitout.modules.slides import add_slide, choose_slide, slide_screw

SettingOf = Callable[..., Setting]


@pytest.fixture
def setting(bays: Mapping[str, Bay], setting_of: SettingOf) -> Setting:
    return setting_of(bays["wagon"], 12.0)


@pytest.mark.parametrize(
    ("wish", "depth", "load_kg", "height", "key"),
    [
        (None, 560.0, 10.0, 200.0, "full extension 550"),
        (None, 560.0, 30.0, 200.0, "heavy locking 500"),
        ("full extension", 720.0, 38.0, 200.0, "full extension 600"),
        ("heavy locking", 950.0, 105.0, 200.0, "heavy locking 800"),
        ("heavy locking 600", 300.0, 10.0, 20.0, "heavy locking 600"),
        (None, 100.0, 10.0, 200.0, "full extension 300"),
        ("heavy locking", 620.0, 400.0, 200.0, "heavy locking 600"),
    ],
)
def test_the_longest_that_fits_and_is_rated(
    setting: Setting, wish: str | None, depth: float, load_kg: float, height: float, key: str
) -> None:
    assert choose_slide(wish, setting, depth, load_kg, height).key == key


def test_a_slide_hangs_between_a_fixed_and_a_moving_panel(setting: Setting) -> None:
    draft = Draft("box", "box", setting)
    board = draft.board("carcass")
    slide = setting.catalogue.slides["heavy locking 500"]
    draft.panel("side", board, (600.0, 200.0), along_face_left(600.0, 0.0, 0.0))
    moving = 12.0 + slide.side_clearance
    draft.panel("drawer", board, (600.0, 150.0), along(0.0, moving + 12.0, 20.0), moves="out")
    add_slide(draft, "slide", slide, (5.0, 12.0, 60.0), ("side", "drawer"))
    side, drawer = draft.panels["side"].holes, draft.panels["drawer"].holes
    middle = 60.0 + slide.height / 2.0
    assert [600.0 - h.x for h in side] == [5.0 + h for h in slide.carcass_holes]
    assert [h.x for h in drawer] == [5.0 + h for h in slide.drawer_holes]
    assert {h.y for h in side} == {middle}
    assert {h.y for h in drawer} == {middle - 20.0}
    assert {h.depth for h in side} == {10.0}
    assert {h.depth for h in drawer} == {None}
    assert [j.kind for j in draft.joints] == [JointKind.SLIDES, JointKind.SLIDES]
    module = draft.finish(None)
    assert module.items[0].mass_kg == pytest.approx(slide.mass_pair_kg / 2.0)
    assert [(line.article, line.quantity) for line in module.hardware] == [(slide.screw, 8)]


@pytest.mark.parametrize(
    ("thickness", "screw"),
    [
        (18.0, "pan head screw 4 x 12"),
        (10.5, "pan head screw 4 x 12"),
        (9.2, "pan head screw 4 x 10"),
        (6.4, "pan head screw 4 x 10"),
    ],
)
def test_a_slide_s_screws_stay_within_the_thinner_panel(thickness: float, screw: str) -> None:
    """1.5 mm of steel lie under the head; where none is short enough the shortest is taken."""
    catalogue = load({})
    slide = catalogue.slides["full extension 400"]
    assert slide_screw(slide, thickness, catalogue.articles) == screw
