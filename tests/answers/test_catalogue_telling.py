"""Rows of the catalogue as they are printed, as data, and as YAML that reads back."""

import pytest

from fitout import catalogue
from fitout.answers.catalogue_search import row_named, rows, search
from fitout.answers.catalogue_telling import (
    COLUMNS,
    row_yaml,
    rows_lines,
    rows_object,
    tables_lines,
)
from fitout.design_file import rows_of

EVERY = rows(catalogue.load())


@pytest.mark.parametrize("table", catalogue.names())
def test_every_row_of_a_table_stands_in_80_columns_with_its_source(table):
    found = search(EVERY, [table])
    lines = list(rows_lines(found))
    assert max(map(len, lines)) <= 80
    text = " ".join(" ".join(lines).split())
    for row in found:
        assert row.name in text
        assert " ".join(row.record.source.split()) in text


def test_each_row_points_to_its_own_source():
    lines = list(rows_lines(search(EVERY, ["hinges"])))
    numbers = {line.split("[")[0].split("  ")[0].strip(): line for line in lines if "[" in line}
    assert numbers["butt hinge 50"].endswith("[1]")
    assert numbers["strip hinge"].endswith("[2]")
    assert any(line.startswith("[2] Counted by the metre") for line in lines)


def test_a_name_too_long_for_a_column_makes_sentences_of_the_rows():
    long = "ply of the yard behind the station, second choice, one face sanded"
    own = {"sheets": {long: {"like": "birch ply 12", "source": "the yard"}}}
    found = search(rows(catalogue.load(own)), ["sheets"])
    lines = list(rows_lines(found))
    assert max(map(len, lines)) <= 80
    assert f"{long}: thick 12, ± 0.76" in " ".join(line.strip() for line in lines)


def test_the_tables_are_told_with_the_count_of_their_rows():
    lines = list(tables_lines(EVERY))
    assert max(map(len, lines)) <= 80
    for table, names in catalogue.names().items():
        assert any(line.split()[:2] == [table, str(len(names))] for line in lines)
    assert any("--row" in line for line in lines)


def test_as_data_a_row_has_every_field_that_is_known():
    (row,) = rows_object(search(EVERY, ["strikers"]))["rows"]
    assert row["table"], row["name"] == ("strikers", "lip striker")
    assert row["lip"] == 6.5
    assert row["source"].startswith("Steel plate")
    assert "rating_n" not in row


@pytest.mark.parametrize("row", EVERY, ids=lambda row: f"{row.table} {row.name}")
def test_a_row_printed_to_copy_reads_back_as_the_same_row(row):
    text = "\n".join(row_yaml(row_named(EVERY, row.name, row.table)))
    read, faults = rows_of(f"{text}\n")
    assert faults == ()
    again = getattr(catalogue.load(read), row.table)[row.name]
    assert again == row.record
    assert max(map(len, text.splitlines())) <= 80


def test_every_column_is_a_field():
    for row in EVERY:
        assert all(hasattr(row.record, field) for field in COLUMNS[row.table].values())
