import pytest

from fitout.catalogue.tables import ARTICLES, SECTIONS, SHEETS, SLIDES
from fitout.catalogue.words import COMMON, FIELD_WORDS


@pytest.mark.parametrize("table", [SHEETS, SLIDES, ARTICLES, SECTIONS], ids=lambda t: t.name)
def test_every_field_of_a_row_is_explained_and_nothing_else(table):
    assert sorted({**FIELD_WORDS[table.name], **COMMON}) == sorted(table.field_names)
    assert all(words.strip() for words in FIELD_WORDS[table.name].values())
