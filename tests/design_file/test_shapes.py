from collections.abc import Mapping

import pytest

from fitout.design_file.shapes import entries_of, expected, shape_of
from fitout.model.design import ArchSpec, SectionSpec
from fitout.model.spec import Length, Measured, Size
from fitout.modules.registry import KINDS


def test_entries_are_spelled_as_the_builder_does():
    keys = [entry.key for entry in entries_of(ArchSpec)]
    assert keys == ["between", "from", "to", "height", "profile"]
    assert [entry.required for entry in entries_of(ArchSpec)] == [True] + [False] * 4


@pytest.mark.parametrize(
    ("hint", "words"),
    [
        (bool, "yes or no"),
        (Size, "length x width x height, such as 690 x 398 x 470"),
        (tuple[Length, ...], "a list, each a length"),
        (tuple[Length, Length], "a list of 2: a length, then a length"),
        (Mapping[str, Measured], "pairs of a name: a length"),
        (SectionSpec, "entries such as at, widths, roof"),
        (int | str, "a whole number or text"),
    ],
)
def test_expected_words(hint, words):
    assert expected(shape_of(hint)) == words


def test_what_no_file_can_hold_is_our_own_mistake():
    with pytest.raises(TypeError, match="can't hold"):
        shape_of(set[str])


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.kind)
def test_every_kind_can_be_read(kind):
    assert entries_of(kind.spec)
    assert all(entry.doc for entry in entries_of(kind.spec))
