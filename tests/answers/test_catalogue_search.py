"""The right rows are found, by table, kind or word, and a slip is answered with the nearest."""

import pytest

from fitout import catalogue
from fitout.answers.catalogue_search import (
    UnknownRowError,
    by_table,
    kinds,
    row_named,
    rows,
    search,
)
from fitout.design_file import starter
from fitout.workflow import load

EVERY = rows(catalogue.load())


def named(*words):
    return [row.name for row in search(EVERY, words)]


def test_every_row_of_every_table_is_there_and_has_a_source():
    shipped = {(table, name) for table, names in catalogue.names().items() for name in names}
    assert {(row.table, row.name) for row in EVERY} == shipped
    assert all(row.fields()["source"] for row in EVERY)


def test_a_table_is_meant_in_the_singular_too():
    assert named("sheets") == named("sheet") == list(catalogue.names()["sheets"])
    assert named("latch") == list(catalogue.names()["latches"])


def test_a_kind_of_article_is_meant_with_what_ends_so():
    assert named("hinges") == ["butt hinge 50", "strip hinge"]
    assert "bolt M8 x 25" in named("bolts")
    assert "countersunk bolt M8 x 40" in named("bolts")
    assert "T-nut M8" not in named("bolts")


def test_all_further_words_must_be_in_the_row():
    assert named("sheets", "birch", "square", "6.5") == ["birch ply 6.5 square"]
    assert named("M10") == [name for name in catalogue.names()["articles"] if "M10" in name]


def test_sources_are_searched_where_no_name_has_the_words():
    found = search(EVERY, ["ISO 10642"])
    assert {row.name for row in found} >= {"countersunk bolt M8 x 40"}
    assert all("10642" in row.record.source for row in found)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["sheetz"], "no table, kind or row is called 'sheetz'. Did you mean sheets?"),
        (["hindge"], "Did you mean hinge?"),
        (["sheets", "brich"], "no row of sheets has 'brich'. Did you mean birch?"),
        (["birch", "steel"], "no row has 'birch steel'."),
        (["qqqq"], "Tables: sheets, slides, articles, sections, latches, strikers."),
        (["items"], "items are each design's own; add `--design my-car.yaml` to see them."),
    ],
)
def test_a_word_that_is_not_there_is_answered_with_what_is(words, told):
    with pytest.raises(UnknownRowError) as caught:
        search(EVERY, words)
    assert told in str(caught.value)


def test_one_row_is_found_by_its_name():
    assert row_named(EVERY, "BIRCH ply 12").name == "birch ply 12"
    assert row_named(EVERY, "lip striker", "strikers").table == "strikers"
    for name, table, told in (
        ("birch ply 13", None, "Did you mean birch ply 12"),
        ("strip hinge", "sheets", "no row is called 'strip hinge'"),
        ("strip hinge", "sheetz", "Did you mean sheets?"),
    ):
        with pytest.raises(UnknownRowError) as caught:
            row_named(EVERY, name, table)
        assert told in str(caught.value)


def test_the_items_of_a_design_are_a_table_with_its_lines_as_sources(here):
    item = "items:\n  fridge: {size: 600x380x430, mass: 21 kg, contents: 24 kg}\n"
    (here / "van.yaml").write_text(f"{starter('Van')}{item}", encoding="utf-8")
    design = load("van.yaml")
    every = rows(catalogue.load(), design)
    (row,) = search(every, ["items"])
    line = (here / "van.yaml").read_text(encoding="utf-8").splitlines().index(item.split("\n")[1])
    assert (row.name, row.record.mass_kg, row.record.contents_kg) == ("fridge", 21.0, 24.0)
    assert row.record.source == f"entered, van.yaml line {line + 1}"
    with pytest.raises(UnknownRowError):
        row_named(every, "fridge")


def test_rows_are_handed_out_table_by_table():
    assert [table for table, _ in by_table(EVERY)] == list(catalogue.names())
    assert kinds(EVERY)[:2] == ("wood screw", "pan head screw")
