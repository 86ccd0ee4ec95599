"""Steps told in the builder's language: whole, without English left, with places of bolts."""

import dataclasses
import re

import pytest
from dossiers import NAMES, dossier, told_in

from fitout.documents.drawings.exploded import balloon_numbers
from fitout.documents.guide.instructions import instructions
from fitout.model.assembly import Step, Task

ENGLISH = (" it ", " the ", " with ", "Screw ", "Bolt ", "Begin ", "Add ")


def numbers_of(made):
    return {i: n for m in made.fitout.modules for i, n in balloon_numbers(made, m).items()}


def told(made):
    numbers = numbers_of(made)
    return {step.number: instructions(made, step, numbers) for step in made.steps}


@pytest.mark.parametrize("name", NAMES)
def test_every_step_is_told_in_either_language(name):
    english = told(dossier(name))
    german = told(told_in(dossier(name), language="de"))
    for number, words in english.items():
        assert words.endswith("."), number
        assert german[number] != words
        assert not any(word in german[number] for word in ENGLISH), german[number]


@pytest.mark.parametrize("name", NAMES)
def test_every_part_that_is_joined_to_stands_there_by_number(name):
    made = dossier(name)
    numbers, sentences = numbers_of(made), told(made)
    for step in made.steps:
        for task in step.tasks:
            for id_ in (*task.parts, *task.to):
                if id_ in numbers and task.do != "weld":
                    assert numbers[id_] in sentences[step.number]


@pytest.mark.parametrize("name", NAMES)
def test_every_bolt_to_the_vehicle_is_told_once_with_its_place(name):
    made = dossier(name)
    whole = " ".join(told(made).values())
    for module in made.fitout.modules:
        for fixing in (*module.fixings, *module.tops):
            if fixing.anchor is not None:
                x, y = (made.wording.length(abs(v), 0) for v in fixing.point[:2])
                side = "left" if fixing.point[1] > 0.0 else "right"
                told_so = re.findall(
                    rf"\b{x} \| {y} {side}(?: \| \d+)?: {re.escape(fixing.anchor)}[;.]", whole
                )
                assert len(told_so) == 1


def test_lengths_are_told_in_the_builders_unit():
    inches = told(told_in(dossier("small-hatch"), lengths="in"))
    drills = re.compile(r"ø[\d.]+ mm")  # no drill is a fraction of an inch
    assert " mm" not in drills.sub("", " ".join(inches.values()))
    assert any(" in higher than its place" in words for words in inches.values())


def test_a_slide_goes_on_both_sides_in_one_sentence():
    words = told(dossier("small-hatch"))[7]
    assert "First take the moving half off Z01 of step 1 and screw it to P09 and P10." in words


def test_what_is_put_together_before_it_is_added_is_told():
    """The second column's side brings its back: its screw heads would be covered in place."""
    words = told(dossier("small-hatch"))[4]
    assert "First screw from the left through P05 into P11 and P12." in words


def test_moves_and_the_place_it_is_held_in_agree():
    made = dossier("small-hatch")
    step = dataclasses.replace(
        made.steps[0],
        phase="vehicle",
        tasks=(Task("carry"),),
        shifts=((900.0, 0.0, 0.0), (0.0, 0.0, -33.0), (0.0, -200.0, 0.0)),
        mass_kg=4.0,
    )
    assert instructions(made, step, {}) == (
        "Bring in through the tailgate, 33 mm higher and 200 mm further left than its place. "
        "Then lower it 33 mm, then push it 200 mm to the right. It weighs 4.0 kg."
    )


def test_a_part_of_another_module_is_told_with_its_module():
    made = dossier("small-hatch")
    step = Step(
        number=1, phase="bench", what="deck", parts=("deck/cleat",), joins=(), fasteners=(),
        tool="driver", people=1, how="",
        tasks=(Task("rests on", ("deck/cleat",), ("bin/wall", "deck/piece")),),
    )  # fmt: skip
    words = instructions(made, step, {"bin/wall": "P07", "deck/piece": "P02", "deck/cleat": "P01"})
    assert words == "Lay P01 on P07 wall (bin) and P02 piece."


def test_where_a_foot_plate_is_welded_on_is_told():
    made = dossier("touring-wagon")
    sentences = told(made)
    step = next(s for s in made.steps if any(task.do == "weld" for task in s.tasks))
    bodies, (plate, post) = made.subject.bodies, sorted(step.parts, key=lambda i: "post" in i)
    out = max(
        float(bodies[plate].hi[0] - bodies[post].hi[0]),
        float(bodies[post].lo[0] - bodies[plate].lo[0]),
    )
    assert f"reaches {made.wording.length(out)} mm beyond" in sentences[step.number]


def test_every_stay_of_a_lid_is_told():
    made = dossier("touring-wagon")
    whole = " ".join(told(made).values())
    stays = [stay for module in made.fitout.modules for stay in module.stays]
    assert stays
    assert whole.count("Lid stay: from ") == len(stays)
