"""Through which panel screws go and from which side, and where panels lie face to face."""

import dataclasses

import numpy as np
import pytest
from dossiers import NAMES, dossier

from fitout.checks.order_fasteners import reaches
from fitout.documents.drawings.exploded import balloon_numbers
from fitout.documents.guide.fastening import Fastening
from fitout.documents.guide.instructions import instructions
from fitout.documents.guide.naming import Names
from fitout.model.module import JointKind

WAYS = {
    "from above": (0.0, 0.0, 1.0), "from below": (0.0, 0.0, -1.0), "from the left": (0.0, 1.0, 0.0),
    "from the right": (0.0, -1.0, 0.0), "from the front": (1.0, 0.0, 0.0),
    "from the rear": (-1.0, 0.0, 0.0),
}  # fmt: skip


def told(made, part, phase="bench"):
    numbers = {i: n for m in made.fitout.modules for i, n in balloon_numbers(made, m).items()}
    step = next(s for s in made.steps if part in s.parts and s.phase == phase)
    return instructions(made, step, numbers)


@pytest.mark.parametrize("name", NAMES)
def test_screws_go_through_the_drilled_panel_from_the_side_away_from_the_other(name):
    """The told side is where, from the drilled panel's middle, the other part does not lie."""
    made = dossier(name)
    parts, bodies = made.subject.parts, made.subject.bodies
    seen = 0
    for joint in made.fitout.all_joints():
        step = next((s for s in made.steps if (joint.a, joint.b) in s.joins), None)
        if joint.kind is not JointKind.SCREWED or step is None or joint.a not in parts:
            continue
        fastening = Fastening(made, step, Names(made.wording, step, {}))
        head, held = fastening._driven(joint.a, joint.b)
        side = fastening._way(fastening._head_side(head, held), head).partition(" through")[0]
        if side not in WAYS:
            continue
        seen += 1
        away = bodies[head].lo + bodies[head].hi - bodies[held].lo - bodies[held].hi
        assert float(np.array(WAYS[side]) @ away) > 0.0, (head, held, side)
        drilled = [h for h in parts[head].holes if reaches(parts[head], h, bodies[held])]
        assert drilled or not any(h.purpose == "screw" for h in parts[held].holes)
    assert seen > 10


def test_a_step_says_which_of_its_parts_goes_where():
    words = told(dossier("small-hatch"), "drawers/right side left")
    assert "Screw from below through P03 base into P06." in words
    assert "Screw from the left through P04 left side left into P12." in words


def test_a_groove_is_the_one_that_is_milled():
    made = dossier("small-hatch")
    assert "into the grooves of P09" in told(made, "drawers/drawer 1 left bottom")
    assert "so that its groove takes P02" in told(made, "drawers/drawer 1 left back")


def test_where_a_front_lies_on_the_inner_front_is_told():
    made = dossier("small-hatch")
    front, inner = (made.subject.bodies[f"drawers/drawer 1 left {n}"] for n in
                    ("front", "inner front"))  # fmt: skip
    up = made.wording.length(float(front.hi[2] - inner.hi[2]), 0)
    left = made.wording.length(float(front.hi[1] - inner.hi[1]), 0)
    words = told(made, "drawers/drawer 1 left front")
    assert f"upper edge {up} mm higher, left edge {left} mm further left" in words


def test_what_is_bolted_on_is_told_with_its_side():
    assert "Bolt P01 to the rear of B02" in told(dossier("touring-wagon"), "barrier/panel")


def test_what_nothing_holds_yet_is_told_with_the_step_that_does():
    made = dossier("touring-wagon")
    step = next(s for s in made.steps if "bins left/rail 2" in s.parts)
    words = told(made, "bins left/rail 2")
    later = next(
        s.number for s in made.steps if ("bins left/strip 1", "bins left/rail 2") in s.joins
    )
    assert later > step.number
    assert f"yet: step {later} does." in words


def test_what_is_done_from_the_front_is_reached_from_the_seats():
    made = dossier("touring-wagon")
    numbers = {i: n for m in made.fitout.modules for i, n in balloon_numbers(made, m).items()}
    told_so = {s.what for s in made.steps if "from the seats" in instructions(made, s, numbers)}
    steps = {s.what for s in made.steps if s.phase == "vehicle"
             and {"barrier/panel", "barrier/shelf"} & set(s.parts)}  # fmt: skip
    assert told_so == steps
    bare = dataclasses.replace(made.subject.fitout.bay, front_kind="wall")
    fitout = dataclasses.replace(made.subject.fitout, bay=bare)
    other = dataclasses.replace(made, subject=dataclasses.replace(made.subject, fitout=fitout))
    assert not any("from the seats" in instructions(other, s, numbers) for s in made.steps)
