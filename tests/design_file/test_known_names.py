"""The names that references may use."""

from fitout.design_file.known_names import known_names, left_out
from fitout.design_file.nodes import parse


def names(text):
    root, _ = parse(text)
    return known_names(root, {"sheets": ("ply 9",)})


def test_own_names_stand_beside_the_catalogues():
    found = names("items: {fridge: {}}\ncatalogue: {sheets: {my ply: {like: ply 9}}}\n")
    assert found["items"] == ("fridge",)
    assert found["sheets"] == ("ply 9", "my ply")
    assert found["modules"] == ()


def test_what_is_no_table_can_not_be_judged():
    assert names("items: 3\n")["items"] is None
    assert names("items:\n")["items"] == ()


def test_nothing_is_left_out():
    root, _ = parse("a:\nb: 1\n")
    assert left_out(root.get("a"))
    assert left_out(None)
    assert not left_out(root.get("b"))
