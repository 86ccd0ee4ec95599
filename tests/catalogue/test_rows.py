from __future__ import annotations

import dataclasses

import pytest

from fitout.catalogue.rows import Table, nearest, resolve
from fitout.model.hardware import Article

ARTICLES = Table("articles", Article, dataclasses.fields(Article))


def test_numbers_are_kept_as_floats_and_lists_as_tuples() -> None:
    records, faults = ARTICLES.read({"eye": {"kind": "eye", "mass_kg": 1}})
    assert faults == []
    assert repr(records["eye"].mass_kg) == "1.0"


def test_a_faulty_row_leaves_the_sound_ones_standing() -> None:
    records, faults = ARTICLES.read({"a": {"kind": "eye", "mass_kg": 1}, "b": {"kind": "eye"}})
    assert list(records) == ["a"]
    assert [fault.path for fault in faults] == [("catalogue", "articles", "b")]
    assert faults[0].found == "no mass_kg"


def test_shipped_likes_chain_and_the_later_row_wins() -> None:
    shipped = {
        "a": {"kind": "x", "mass_kg": 1, "source": "s"},
        "b": {"like": "a", "mass_kg": 2},
        "c": {"like": "b", "kind": "y"},
    }
    rows, faults = resolve("articles", shipped, {})
    assert faults == []
    assert rows["c"] == {"kind": "y", "mass_kg": 2, "source": "s"}


@pytest.mark.parametrize("like", [3, None, ["a"]])
def test_like_must_be_a_name(like: object) -> None:
    rows, (fault,) = resolve("articles", {"a": {"kind": "x"}}, {"b": {"like": like}})
    assert "b" not in rows
    assert fault.path == ("catalogue", "articles", "b", "like")


def test_nearest_says_nothing_rather_than_something_far() -> None:
    assert nearest("zzz", ["birch", "pine"]) == ""
    assert nearest("birhc", ["birch", "pine"]) == "Did you mean 'birch'?"
