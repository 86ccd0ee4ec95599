"""What is bought besides screws has a sentence that says where it goes."""

import ast
import dataclasses
import re
from pathlib import Path

import pytest
from dossiers import DESIGNS, NAMES, dossier, dossier_of

import fitout
from fitout import workflow
from fitout.documents.drawings.exploded import balloon_numbers
from fitout.documents.guide.bought import SENTENCES, bought
from fitout.documents.guide.instructions import instructions
from fitout.documents.guide.naming import Names
from fitout.model.module import Fixing

MODULES = Path(fitout.__file__).parent / "modules"

BY_JOINTS = re.compile(
    r"joints|slides|latch|lid stay|lid hinge|front to drawer|column to column|cleats|"
    r"deck piece to cleat|floor fixing|down to .*|rails on posts|box to box|foam layers"
)
"""Purposes of what joints, places or bolts tell by themselves."""


def told(made):
    numbers = {i: n for m in made.fitout.modules for i, n in balloon_numbers(made, m).items()}
    return {s.number: instructions(made, s, numbers) for s in made.steps}


@pytest.mark.parametrize("name", NAMES)
def test_what_a_step_uses_is_what_it_lists(name):
    for step in dossier(name).steps:
        counted = {}
        for _, article, count in step.uses:
            counted[article] = counted.get(article, 0) + count
        assert counted == dict(step.fasteners)


@pytest.mark.parametrize("name", NAMES)
def test_every_purpose_is_told(name):
    made = dossier(name)
    for step in made.steps:
        for purpose, article, _ in step.uses:
            told_so = {p for p, _ in SENTENCES}
            assert BY_JOINTS.fullmatch(purpose) or purpose in told_so, (purpose, article)
        names = Names(made.wording, step, {})
        eyes = any(a == "tie-down eye" for _, a, _ in step.uses)
        assert eyes == any("Tie-down eyes" in words for words in bought(made, step, names))


def test_every_purpose_a_module_buys_for_is_told_somewhere():
    """A new kind of module can't buy what the guide says nothing of."""
    calls = (
        node
        for path in MODULES.glob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and getattr(node.func, "attr", "") == "buy"
    )
    last = (call.args[-1] for call in calls)
    bought_for = {
        ast.literal_eval(arg.values[0] if isinstance(arg, ast.JoinedStr) else arg) for arg in last
    }
    assert len(bought_for) > 20
    told_so = {purpose for purpose, _ in SENTENCES}
    unknown = {p for p in bought_for if p not in told_so and not BY_JOINTS.fullmatch(p)}
    assert unknown == set()


def test_brackets_are_told_with_the_post_and_their_height():
    made = dossier("touring-wagon")
    sentences = told(made)
    step = next(s for s in made.steps if "barrier/left post" in s.parts)
    bodies = made.subject.bodies
    foot = float(bodies["barrier/left foot plate"].lo[2])
    for rail in ("barrier/lower rail", "barrier/upper rail"):
        assert made.wording.length(float(bodies[rail].lo[2]) - foot) in sentences[step.number]
    assert "2 × frame bracket" in sentences[step.number]
    assert "looks to the right" in sentences[step.number]
    assert "one more to the top of B03, where it meets left pillar bolt" in sentences[step.number]
    counted = sum(n for s in made.steps for _, a, n in s.uses if a == "frame bracket")
    assert counted == 2 * 2 + len(made.subject.modules["barrier"].tops)
    assert counted == sum(2 + words.count("one more") for words in sentences.values()
                          if "2 × frame bracket" in words)  # fmt: skip


def test_rails_on_brackets_are_not_bolted_straight_to_the_posts():
    words = " ".join(told(dossier("touring-wagon")).values())
    assert "Bolt P01 to the rear of B03 right post and B03 left post." in words
    assert "The rails lie on the brackets of steps 4 and 5" in words


def test_a_rails_bracket_bolt_keeps_off_the_panels_bolts():
    made = dossier("touring-wagon")
    words = " ".join(told(made).values())
    rail = made.subject.parts["barrier/lower rail"]
    far = float(re.search(r"Drill B02 lower rail for it, (\d+) mm", words)[1])
    assert all(min(abs(far - at), abs(rail.length - far - at)) >= 12.0 for at, _ in rail.holes)


def test_what_lies_above_and_beneath_the_floor_is_told():
    words = " ".join(told(dossier("small-hatch")).values())
    assert "Under each head: washer 40 M8. Where the floor has no hole yet, drill it ø9." in words
    assert "Beneath the floor, on each bolt: floor plate" in words
    assert "Under each head, sunk flush into the ply: let-in plate 40 x 40 x 3 M8." in words


def test_insert_nuts_go_in_first():
    words = " ".join(told(dossier("canopy-tub")).values())
    told_so = words.index("First turn one insert nut M6 into long box from above")
    assert told_so < words.index("Bolt to the module below at")


def test_a_bolt_at_no_known_point_is_told_as_still_to_be_decided():
    made = dossier("small-hatch")
    (module,) = (m for m in made.fitout.modules if m.kind == "drawers")
    x, y, z = module.fixings[0].point
    free = Fixing(module="drawers", point=(x + 30.0, y, z), article="bolt M8 x 40", anchor=None)
    module = dataclasses.replace(module, fixings=(*module.fixings, free))
    subject = dataclasses.replace(made.subject, modules={**made.subject.modules, "drawers": module})
    other = dataclasses.replace(made, subject=subject)
    step = next(s for s in made.steps if s.phase == "vehicle" and "drawers/base" in s.parts)
    words = instructions(other, step, {})
    assert "Bolts that are still to be decided" in words
    assert f"{x + 30.0:.0f} | {abs(y):.0f}" in words
    assert "still to be decided" not in instructions(made, step, {})


def boxed(folder, wish):
    """The canopy's long box alone, with another lid: two boxes side by side."""
    text = (DESIGNS / "canopy-tub.yaml").read_text(encoding="utf-8")
    whole = next(line for line in text.splitlines() if line.startswith("  long box: "))
    rest, _, after = text.partition("  drawers:\n    kind: drawers")
    path = folder / "boxed.yaml"
    path.write_text(
        rest.replace(whole, f"  long box: {{kind: box, depth: 900, {wish}}}")
        + "\ncutting: {by"
        + after.partition("cutting: {by")[2],
        encoding="utf-8",
    )
    return dossier_of(workflow.load(path))


def test_each_lid_has_its_own_hinge_stay_latch_and_screws(tmp_path):
    made = boxed(tmp_path, "lid: lift")
    lids = [s for s in made.steps if any(p.startswith("long box/lid") for p in s.parts)]
    lids = [dict(s.fasteners) for s in lids if s.phase == "bench"]
    assert len(lids) == 2
    for taken in lids:
        assert (taken["strip hinge"], taken["lid stay"], taken["lip striker"]) == (1, 1, 1)
        assert taken["lock nut M4"] == 8
    assert lids[0] == lids[1]


def test_boxes_side_by_side_are_screwed_where_their_sides_meet(tmp_path):
    made = boxed(tmp_path, "lid: loose")
    numbers = {i: n for m in made.fitout.modules for i, n in balloon_numbers(made, m).items()}
    sides = ("long box/left side right", "long box/right side left")
    step = next(s for s in made.steps if sides in s.joins)
    assert [n for purpose, _, n in step.uses if purpose == "box to box"] == [6]
    assert "Drill these 6 screws as you place them" in instructions(made, step, numbers)


def test_cleats_drilled_face_to_face_take_the_screws_of_their_holes(tmp_path):
    made = boxed(tmp_path, "lid: loose")
    for step in made.steps:
        cleats = [id_ for id_ in step.parts if "cleat" in id_ and step.phase == "bench"]
        if cleats:
            holes = sum(len(made.subject.parts[id_].holes) for id_ in cleats)
            assert dict(step.fasteners) == {"wood screw 3.5 x 16": holes}
            assert not any(task.do == "columns" for task in step.tasks)
