"""What hangs on screws between uprights, and strips beneath a deck, by hand."""

import dataclasses
import re
from collections.abc import Callable
from typing import Any

import pytest

from fitout import catalogue
from fitout.checks.carcass_joints import joint_details
from fitout.mechanics.boards import STANDARD_GRAVITY as G
from fitout.mechanics.fasteners import lateral_screw_n, screw_embedment_mpa, yield_moment_nmm
from fitout.model.finding import Finding, Severity
from fitout.model.hardware import HardwareLine
from fitout.model.module import Joint, JointKind, PlateDuty
from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Hole, Panel
from fitout.model.placement import along

Make = Callable[..., Any]

PLY = catalogue.load({}).sheets["birch ply 12"]
LINES = (HardwareLine(article="wood screw 4 x 40", quantity=8, module="a", purpose="joints"),)


def side(
    name: str, y: float, screws: tuple[float, ...], z: float = 106.0, deep: float = 300.0
) -> Panel:
    """An upright panel from x 0 to `deep`, z 0 to 200, its far face at y, screws through at z."""
    return Panel(
        name=name,
        module="a",
        outline=Outline(rectangle(deep, 200.0)),
        board=PLY,
        placement=along(0.0, y, 0.0),
        holes=tuple(Hole(x, z, 4.5, purpose="screw") for x in screws),
    )


@pytest.fixture
def found(subject: Make, module: Make, panel: Make) -> Callable[..., list[Finding]]:
    """What is found on a shelf 300 × 400 between two sides with screws at such places along x."""

    def ask(
        screws: tuple[float, ...] = (40.0, 150.0, 260.0),
        kind: JointKind = JointKind.SCREWED,
        **entries: Any,
    ) -> list[Finding]:
        lines = entries.pop("hardware", LINES)
        shelf = panel("a/shelf", (0.0, 300.0), (0.0, 400.0), 100.0, board=PLY)
        deep = entries.pop("deep", 300.0)
        sides = [side(*at, screws, deep=deep) for at in (("left", 412.0), ("right", 0.0))]
        parts = [*sides, shelf]
        joints = tuple(Joint(f"a/{name}", "a/shelf", kind) for name in ("left", "right"))
        usual = {"load_kg": 20.0, "patch": False, **entries}
        duty = PlateDuty(
            panel="a/shelf", spans=(300.0, 400.0), edges="v ends", purpose="goods", **usual
        )
        whole = subject(module("a", *parts, plates=(duty,), joints=joints, hardware=lines))
        return [d.finding for m in whole.fitout.modules for d in joint_details(whole, m)]

    return ask


def each_n() -> float:
    d = 1.1 * 2.0 / 3.0 * 4.0
    f = screw_embedment_mpa(680.0 * 630.0 / 680.0, d)
    return lateral_screw_n((f, 0.75 * f), (12.0, 28.0), d, yield_moment_nmm(600.0, d))


def test_spread_goods_by_hand(found: Make) -> None:
    """20 kg and the shelf's own, twofold on a bump, on six screws alike."""
    (finding,) = found()
    own = 300.0 * 400.0 * 12.0 * 680.0e-9
    force = 2.0 * (20.0 + own) * G / 6.0
    share = force / (each_n() * 1.1 / 1.3 / 1.5)
    assert (finding.code, finding.where) == ("carcass joint", "a/shelf")
    assert finding.value == pytest.approx(100.0 * share, rel=1e-3)
    assert f"presses with {force:.0f} N across one of its 6 screws" in finding.sentence
    assert finding.severity is Severity.PASS


def test_a_knee_in_the_corner_by_hand(found: Make) -> None:
    """1 kN at 100 and 150 off the middle; six screws at ± 206 across and 0, ± 110 along."""
    (finding,) = found(load_kg=0.0, patch=True)
    own = 300.0 * 400.0 * 12.0 * 680.0e-9 * G / 6.0
    across = 150.0 * 200.0 / (6 * 200.0**2)
    lengthwise = 100.0 * 110.0 / (4 * 110.0**2)
    force = 1000.0 * (1.0 / 6.0 + across + lengthwise) + own
    assert f"presses with {force:.0f} N" in finding.sentence


def test_glue_helps_where_screws_do_not(found: Make) -> None:
    (finding,) = found((150.0,), load_kg=0.0, patch=True)
    assert finding.severity is Severity.CAUTION
    assert "Glue it as well, or drive" in finding.sentence
    glue = 2.0 * 300.0 * 12.0 * 1.72 * 0.5 * 0.5
    own = 300.0 * 400.0 * 12.0 * 680.0e-9 * G
    assert finding.value == pytest.approx(100.0 * (1000.0 + own) / glue, rel=1e-3)


def test_neither_does(found: Make) -> None:
    (finding,) = found((150.0,), load_kg=900.0)
    assert finding.severity is Severity.FAIL
    assert "in place of" not in finding.sentence
    assert "nor would it hold if it were glued as well." in finding.sentence


def test_what_would_hold_is_told_and_holds(found: Make) -> None:
    """Two screws, edges of 12 mm glued: a thicker shelf for a little more, less to carry else."""
    (little,) = found((150.0,), load_kg=200.0)
    assert little.severity is Severity.FAIL
    assert "birch ply 15, glued as well, would do (under `boards:`, for " in little.sentence
    (much,) = found((150.0,), load_kg=900.0)
    (told,) = re.findall(r"arry (\d+) kg less on it and glue it as well", much.sentence)
    (enough,) = found((150.0,), load_kg=900.0 - int(told))
    assert enough.severity is Severity.CAUTION
    (too_much,) = found((150.0,), load_kg=901.0 - int(told))
    assert too_much.severity is Severity.FAIL


def test_where_nothing_would_hold_a_support_is_asked_for(found: Make) -> None:
    """Two edges of 40 mm glue no thickness of board well enough for a knee."""
    (finding,) = found((20.0,), load_kg=0.0, patch=True, deep=40.0)
    assert finding.severity is Severity.FAIL
    assert finding.sentence.endswith("or a smaller panel (a narrower module).")


def test_what_lies_on_something_needs_no_screws(
    subject: Make, module: Make, panel: Make, found: Make
) -> None:
    shelf = panel("a/shelf", (0.0, 300.0), (0.0, 400.0), 100.0, board=PLY)
    below = panel("a/below", (0.0, 300.0), (0.0, 400.0), 88.0, board=PLY)
    joints = (
        Joint("a/left", "a/shelf", JointKind.SCREWED),
        Joint("a/shelf", "a/below", JointKind.RESTS),
    )
    duty = PlateDuty(
        panel="a/shelf", load_kg=20.0, spans=(300.0, 400.0), edges="v ends", purpose="goods"
    )
    parts = (side("left", 412.0, (40.0, 260.0)), shelf, below)
    whole = subject(module("a", *parts, plates=(duty,), joints=joints, hardware=LINES))
    assert [d for m in whole.fitout.modules for d in joint_details(whole, m)] == []
    assert found(kind=JointKind.GROOVED) == []


def test_a_cleat_gets_what_the_lever_rule_leaves_it(
    subject: Make, module: Make, panel: Make
) -> None:
    """A piece 400 wide on two cleats 12 thick: of a knee 50 from the edge, 388 less 44 of 388."""
    piece = panel("a/piece", (0.0, 300.0), (0.0, 400.0), 200.0, board=PLY)
    uprights = [side("left", 412.0, (), 180.0), side("right", 0.0, (), 180.0)]
    cleats = [
        dataclasses.replace(
            side(f"cleat {name}", y, (40.0, 150.0, 260.0), 20.0),
            outline=Outline(rectangle(300.0, 40.0)),
            placement=along(0.0, y, 160.0),
        )
        for name, y in (("left", 400.0), ("right", 12.0))
    ]
    joints = [Joint("a/piece", c.id, JointKind.RESTS) for c in cleats]
    joints += [Joint(c.id, u.id, JointKind.SCREWED) for c, u in zip(cleats, uprights, strict=True)]
    duty = PlateDuty(panel="a/piece", load_kg=0.0, spans=(300.0, 376.0), edges="v ends",
                     purpose="a knee", patch=True)  # fmt: skip
    line = HardwareLine(article="wood screw 3.5 x 20", quantity=6, module="a", purpose="cleats")
    cleats = [
        dataclasses.replace(c, holes=tuple(dataclasses.replace(h, diameter=4.0) for h in c.holes))
        for c in cleats
    ]
    whole = subject(module("a", piece, *uprights, *cleats, plates=(duty,),
                           joints=tuple(joints), hardware=(line,)))  # fmt: skip
    (detail,) = (d for m in whole.fitout.modules for d in joint_details(whole, m))
    knee = 1000.0 * (1.0 - 44.0 / 388.0)
    own = 300.0 * 40.0 * 12.0 * 680.0e-9 * G
    force = knee * (1.0 / 3.0 + 100.0 * 110.0 / (2 * 110.0**2)) + own / 3.0
    assert f"presses with {force:.0f} N across one of its 3 screws" in detail.finding.sentence
    assert detail.finding.where.startswith("a/cleat")


def test_shorter_screws_bought_for_something_else_do_not_count(found: Make) -> None:
    other = HardwareLine(
        article="wood screw 4 x 30", quantity=4, module="a", purpose="front to drawer"
    )
    hinge = dataclasses.replace(other, purpose="lid hinge")
    joint = dataclasses.replace(other, purpose="joints")
    plain = [f.sentence for f in found()]
    assert all("wood screw 4 x 40" in sentence for sentence in plain)
    assert [f.sentence for f in found(hardware=(*LINES, other, hinge))] == plain
    assert all("wood screw 4 x 30" in f.sentence for f in found(hardware=(*LINES, joint)))
