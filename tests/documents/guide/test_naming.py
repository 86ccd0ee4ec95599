"""Parts by number and name, as far as needed to tell them apart."""

from fitout.documents.guide.naming import Names
from fitout.documents.wording import Wording
from fitout.model.assembly import Step

NUMBERS = {"d/left": "P01", "d/right": "P01", "d/base": "P02", "bin/wall": "P03"}


def names(*parts):
    step = Step(
        number=1, phase="bench", what="d: carcass", parts=parts, joins=(), fasteners=(),
        tool="", people=1, how="",
    )  # fmt: skip
    return Names(Wording(), step, NUMBERS)


def test_what_the_steps_list_names_is_told_by_number_alone():
    assert names("d/base").listed(["d/base", "d/left"]) == "P02 and P01 left"


def test_two_parts_of_a_step_with_one_number_keep_their_names():
    told = names("d/left", "d/right", "d/base").listed(["d/left", "d/right", "d/base"])
    assert told == "P01 left, P01 right and P02"


def test_equal_pairs_are_told_once_by_number():
    assert names("d/base").short(["d/left", "d/right"]) == "P01"


def test_a_part_of_another_module_has_its_module_beside_it():
    assert names("d/base").one("bin/wall") == "P03 wall (bin)"


def test_lengths_have_their_unit_and_no_sign():
    assert names("d/base").far(-40.0) == "40 mm"
    step = names("d/base")
    step.wording = Wording(unit="in")
    assert step.far(25.4) == "1 in"
