"""A whole design built: order, what stands on what, faults passed on."""

import dataclasses

import pytest

from fitout.model.fault import DesignError
from fitout.model.module import Berth, JointKind
from fitout.modules.assemble import assemble
from fitout.modules.deck import DeckSpec
from fitout.modules.drawers import DrawersSpec
from fitout.modules.neighbours import box_of

LOWER = Berth(x0=60.0, x1=700.0, y0=-400.0, y1=400.0, z0=0.0, z1=300.0)
UPPER = dataclasses.replace(LOWER, z0=300.0, z1=560.0)


@pytest.fixture
def setting(bays, setting_of):
    return dataclasses.replace(
        setting_of(bays["wagon"], 12.0),
        specs={
            "deck": DeckSpec(),
            "upper": DrawersSpec(columns=1, on="lower"),
            "lower": DrawersSpec(columns=1),
        },
        berths={"upper": UPPER, "lower": LOWER},
        deck=560.0,
    )


def test_modules_come_in_the_designs_order(setting):
    fitout = assemble("stack", setting)
    assert fitout.name == "stack"
    assert [m.name for m in fitout.modules] == ["deck", "upper", "lower"]
    assert fitout.bay is setting.bay


def test_the_deck_is_built_last_and_sees_the_others(setting):
    fitout = assemble("stack", setting)
    deck = fitout.modules[0]
    held = {j.b.split("/")[0] for j in deck.joints if j.kind is JointKind.SCREWED}
    assert held <= {"upper"}
    assert deck.panels or deck.remarks


def test_what_stands_on_another_is_joined_to_its_top(setting):
    fitout = assemble("stack", setting)
    (joint,) = fitout.joints
    assert (joint.a, joint.b, joint.kind) == ("upper/base", "lower/top", JointKind.BOLTED)
    assert joint.note == "upper on lower"
    by_id = {p.id: p for p in fitout.panels()}
    assert box_of(by_id[joint.a]).z0 == pytest.approx(box_of(by_id[joint.b]).z1)


def test_ids_are_unique_and_joints_name_what_is_there(setting):
    fitout = assemble("stack", setting)
    ids = [p.id for p in fitout.parts()]
    assert len(ids) == len(set(ids))
    known = {*ids, *(o.id for o in fitout.bay.obstacles)}
    for joint in fitout.all_joints():
        assert {joint.a, joint.b} <= known


def test_a_module_on_both_halves_of_another_is_joined_to_each(setting):
    halves = {
        "pair left": DrawersSpec(columns=1),
        "pair right": DrawersSpec(columns=1),
        "upper": DrawersSpec(columns=1, on="pair"),
    }
    berths = {
        "pair left": dataclasses.replace(LOWER, y0=2.0),
        "pair right": dataclasses.replace(LOWER, y1=-2.0),
        "upper": UPPER,
    }
    fitout = assemble("pair", dataclasses.replace(setting, specs=halves, berths=berths, deck=None))
    assert {j.b for j in fitout.joints} == {"pair left/top", "pair right/top"}


def test_a_module_that_cannot_be_built_names_its_entry(setting):
    specs = {"lower": DrawersSpec(width=100.0)}
    with pytest.raises(DesignError) as refused:
        assemble("narrow", dataclasses.replace(setting, specs=specs, deck=None))
    assert refused.value.faults[0].path == ("modules", "lower", "width")
