"""The order in which sub-assemblies go in: replayed, against brute force, and with a cycle."""

import itertools
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from fitout.checks.order_field import field_of, shifted
from fitout.checks.order_plan import Plan, must_come_out, plan_of
from fitout.checks.order_words import inwards
from fitout.checks.subassemblies import sub_assemblies
from fitout.checks.subject import Subject
from fitout.checks.tool_access import OWN_PANEL, Bolt, Way, ways_to_bolts
from fitout.checks.ways_in import bolted_first
from fitout.clearance.contact import contacts, near_pairs_between

DEMOS = ("touring-wagon", "canopy-tub", "small-hatch")


def replayed(there: Subject, plan: Plan) -> None:
    """Sets everything in, step by step along its way, and looks at poses close to each other.

    No pose may clash with what is in already or, unless it is turned, with the vehicle.
    """
    state = field_of(there, ())
    placed: list[Any] = []
    for id_, way in plan.order:
        sub = plan.nodes[id_].sub
        assert way is not None
        still = [*placed, *(() if way.turned else state.bodies)]
        carried = {part for other in way.drawn for part in plan.nodes[other].sub.parts}
        at = -np.sum(inwards(way), axis=0)
        for number, shift in enumerate(inwards(way)):
            last = number == len(way.shifts) - 1
            others = [b for b in still if not (way.drawn and last and b.id in carried)]
            if way.drawn and not last:
                # What it is set down on has been drawn out as far as it goes.
                others = [
                    shifted(b, np.array(way.shifts[0])) if b.id in carried else b for b in still
                ]
            for share in np.linspace(0.0, 1.0, 9):
                moving = [shifted(body, at + share * np.array(shift)) for body in sub.bodies]
                pairs = near_pairs_between(moving, others, 0.0)
                pairs[:, 1] += len(moving)
                met = contacts([*moving, *others], 0.0, None, pairs)
                clashes = [
                    (moving[i].id, others[j - len(moving)].id)
                    for (i, j), contact in met.items()
                    if contact.clashes
                ]
                assert not clashes, (id_, share, shift)
            at = at + np.array(shift)
        placed += sub.bodies


@pytest.mark.parametrize("design", DEMOS)
def test_every_demo_has_an_order_that_can_be_replayed(
    design: str, demo: Callable[[str], Any]
) -> None:
    there = demo(design)
    plan = plan_of(there)
    assert not plan.stuck
    named = [id_ for id_, _ in plan.order] + [sub.id for sub in plan.outside]
    parts = [p for id_ in plan.nodes for p in plan.nodes[id_].sub.parts]
    parts += [p for sub in plan.outside for p in sub.parts]
    assert len(set(named)) == len(named)
    assert sorted(parts) == sorted(there.parts)
    replayed(there, plan)


def test_the_order_of_the_wagon_reads_as_a_cabinet_maker_would_do_it(
    demo: Callable[[str], Any],
) -> None:
    order = [id_ for id_, _ in plan_of(demo("touring-wagon")).order]
    first = {module: min(i for i, n in enumerate(order) if n.startswith(module)) for module in (
        "barrier", "bins left", "bins right", "tank", "drawers", "fridge", "deck: piece",
    )}  # fmt: skip
    assert first["barrier"] == 0
    assert max(first["bins left"], first["bins right"]) < first["drawers"]
    assert order.index("tank") < order.index("drawers: carcass")
    assert order.index("drawers: carcass") < order.index("drawers: drawer 1")
    assert order.index("fridge: base") < order.index("fridge: tray") < order.index("fridge")
    assert first["deck: piece"] == len(order) - 1


def test_a_top_that_bars_bolts_is_screwed_on_once_they_are_turned(
    demo: Callable[[str], Any],
) -> None:
    """The bolts at the front of the tub's drawers can't be turned under the drawers' own top."""
    there = demo("canopy-tub")
    ways = ways_to_bolts(there, there.modules["drawers"])
    assert any("drawers/top" in way.blockers for way in ways)
    order = [id_ for id_, _ in plan_of(there).order]
    carcass = order.index("drawers: carcass without top")
    assert carcass < order.index("drawers: top")
    assert order.index("long box: top") < carcass


def test_a_fridge_is_set_down_on_its_tray_drawn_out(demo: Callable[[str], Any]) -> None:
    plan = plan_of(demo("touring-wagon"))
    way = dict(plan.order)["fridge"]
    assert way is not None
    assert way.drawn == {"fridge: tray"}
    assert must_come_out(plan, frozenset(["fridge"])) == ("fridge",)


def test_what_stands_behind_must_come_out_first(
    subject: Callable[..., Any], module: Callable[..., Any], item: Any
) -> None:
    front = module("front", item("front/x", (600, 900), (-500, 500), (0, 850)))
    rear = module("rear", item("rear/x", (100, 400), (-500, 500), (0, 850)))
    plan = plan_of(subject(front, rear))
    assert [id_ for id_, _ in plan.order] == ["front: x", "rear: x"]
    assert must_come_out(plan, frozenset(["rear: x"])) == ("rear: x",)
    assert must_come_out(plan, frozenset(["front: x"])) == ("rear: x", "front: x")


def test_the_fewest_come_out_where_there_is_a_choice(
    subject: Callable[..., Any], module: Callable[..., Any], item: Any
) -> None:
    """Over one block or through two: up and over the one is chosen."""
    wanted = module("wanted", item("wanted/x", (600, 900), (-500, 500), (0, 200)))
    above = module("above", item("above/x", (600, 900), (-500, 500), (300, 500)))
    behind = [
        module(f"behind{k}", item(f"behind{k}/x", (100, 400), y, (0, 200)))
        for k, y in enumerate(((-500, -10), (10, 500)))
    ]
    plan = plan_of(subject(wanted, above, *behind))
    assert must_come_out(plan, frozenset(["wanted: x"])) == ("above: x", "wanted: x")


def test_two_parts_hooked_in_each_other_are_told_as_stuck(hooked: Subject) -> None:
    plan = plan_of(hooked)
    assert set(plan.stuck) == {"a: ring", "b: dumbbell"}
    assert must_come_out(plan, frozenset(["a: ring"])) is None


CELLS = [(x, y, z) for x in (100, 400, 700) for y in (-450, -100, 250) for z in (0, 300)]


@pytest.mark.parametrize("seed", range(20))
def test_an_order_is_found_whenever_one_exists(
    block_subject: Callable[..., Subject], seed: int
) -> None:
    """Against all permutations, for blocks in a grid, some of which leave a gap behind them."""
    chance = np.random.default_rng(seed)
    blocks = []
    for k in sorted(chance.choice(len(CELLS), size=chance.integers(2, 6), replace=False)):
        x, y, z = CELLS[k]
        deep = float(chance.choice((280.0, 250.0)))
        blocks.append(((x, x + deep), (y, y + 200.0), (z, z + 280.0)))
    plan = plan_of(block_subject(blocks))
    possible = any(_goes(plan, order) for order in itertools.permutations(plan.nodes))
    assert possible == (not plan.stuck)
    if not plan.stuck:
        assert _goes(plan, [id_ for id_, _ in reversed(plan.order)])


def _goes(plan: Plan, order: Any) -> bool:
    """Whether all can be taken out in that order."""
    there = set(plan.nodes)
    for id_ in order:
        there.remove(id_)
        node = plan.nodes[id_]
        if node.held & there or not any(not way.blockers & there for way in node.ways):
            return False
    return True


def test_nothing_is_taken_apart_for_its_bolts_where_that_leaves_no_order(
    hooked_in_one: Subject, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A dumbbell keeps a hand from the ring's bolt, and can't come off the ring either."""
    bolt = Bolt(name="eye", module="a", point=(400.0, 0.0, 100.0), diameter=8.0, through="a/ring")
    way = Way(bolt=bolt, words="", blockers=("a/dumbbell",), cost=OWN_PANEL, free=0.0)
    for asking in ("ways_in", "order_plan"):
        monkeypatch.setattr(f"fitout.checks.{asking}.ways_to_bolts", lambda *_: [way])
    (sub,) = sub_assemblies(hooked_in_one)
    assert len(bolted_first(hooked_in_one, sub)) == 2
    plan = plan_of(hooked_in_one)
    assert plan.stuck == ()
    assert [id_ for id_, _ in plan.order] == [sub.id]
