import pytest

from fitout.design_file.messages import (
    did_you_mean,
    listed,
    located,
    quoted,
    show_faults,
    suggestion,
)
from fitout.model.fault import DesignError, Fault


def fault(line=None, column=None, **more):
    return Fault(path=(), found="X", expected="Y", line=line, column=column, **more)


def test_sorted_by_place_each_with_its_line():
    error = DesignError([fault(2, 3, hint="Do Z."), fault(1, 4)])
    assert show_faults(error, "one: 1\ntwo: 2\n", "van.yaml") == (
        "van.yaml:1:4: found X; expected Y.\n  one: 1\n     ^\n"
        "van.yaml:2:3: found X; expected Y. Do Z.\n  two: 2\n    ^"
    )


def test_long_line_is_cut_around_the_caret():
    text = "a" * 150 + "!" + "b" * 150
    shown = show_faults([fault(1, 151)], text, "van.yaml").splitlines()
    assert len(shown[1]) == 102
    assert shown[1][shown[2].index("^")] == "!"


def test_line_beyond_the_text_is_left_out():
    assert show_faults([fault(9, 1)], "a: 1\n", "van.yaml") == "van.yaml:9:1: found X; expected Y."


def test_fault_without_place():
    assert show_faults([fault()], "a: 1\n", "van.yaml") == "van.yaml: found X; expected Y."


def test_located_at_the_nearest_entry_around():
    inner = Fault(path=("bay", "roof", "x"), found="", expected="")
    sources = {(): (1, 1), ("bay",): (2, 3), ("bay", "roof"): (3, 9)}
    assert (located(inner, sources).line, located(inner, sources).column) == (3, 9)
    assert located(fault(7, 7), sources).line == 7


def test_nearest_names():
    names = ("front_height", "carries", "birch ply 12", "birch ply 15")
    assert did_you_mean("Front-Height", names) == "Did you mean front_height?"
    assert did_you_mean("birch ply 11", names) == "Did you mean birch ply 12 or birch ply 15?"
    assert did_you_mean("birchply 12", names) == "Did you mean birch ply 12?"
    assert did_you_mean("zzz", names) == ""
    assert suggestion("zzz", names[:2]) == "Known: front_height, carries."
    assert suggestion("zzz", (), "There is none.") == "There is none."


SHEETS = ("birch ply 4", "birch ply 6.5", "birch ply 9", "birch ply 12", "birch ply 12 square",
          "birch ply 15", "birch ply 18", "birch ply 21", "pine ply 12")  # fmt: skip
SLIDES = ("heavy locking 500", "heavy locking 700", "heavy locking", "full extension")


@pytest.mark.parametrize(
    ("found", "names", "hint"),
    [
        ("birch ply 13", SHEETS, "birch ply 12 or birch ply 15"),
        ("birch ply 8", SHEETS, "birch ply 9 or birch ply 6.5"),
        ("Birch-ply 3", SHEETS, "birch ply 4"),
        ("birch ply 20", SHEETS, "birch ply 21 or birch ply 18"),
        ("heavy locking 550", SLIDES, "heavy locking 500 or heavy locking 700"),
        ("heavy locking 70", SLIDES, "heavy locking 700"),
        ("birch ply 0", ("birch ply 4",), "birch ply 4"),
    ],
)
def test_names_with_another_number_are_named_by_their_number(found, names, hint):
    assert did_you_mean(found, names) == f"Did you mean {hint}?"


def test_a_name_that_goes_on():
    assert did_you_mean("heavy", SLIDES) == "Did you mean heavy locking?"
    assert did_you_mean("heavy", SLIDES[:2]) == (
        "Did you mean heavy locking 500 or heavy locking 700?"
    )
    assert did_you_mean("hea", SLIDES) == ""
    assert did_you_mean("", SLIDES) == ""


def test_many_names_are_cut():
    assert listed([str(i) for i in range(14)]).endswith("11 and 2 more")


def test_quoted_text_is_short_and_harmless():
    assert quoted("") == "nothing"
    assert quoted("a\x1b[0m  b") == "a?[0m b"
    assert len(quoted("x" * 500)) == 60
