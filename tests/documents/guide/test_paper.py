"""Text that flows over pages."""

import pytest

from fitout.documents.guide.paper import BOTTOM, LEFT, Flow
from fitout.documents.paper.marks import Text
from fitout.documents.paper.room import extent
from fitout.documents.paper.table import Column, Table
from fitout.documents.wording import Wording
from fitout.model.documents import PAPERS


@pytest.mark.parametrize("paper", ["A4", "letter"])
def test_long_text_goes_on_on_the_next_page_within_the_margins(paper):
    flow = Flow(PAPERS[paper])
    flow.heading("Heading " * 40, 5.0)
    for _ in range(40):
        flow.paragraph("some words to read " * 15, "dash")
    pages = flow.pages("title", Wording())
    assert len(pages) > 1
    for number, page in enumerate(pages, start=1):
        assert (page.width, page.height) == PAPERS[paper]
        left, _, right, top = extent(page.marks)
        assert left >= LEFT - 0.01
        assert right <= flow.right + 0.6
        assert top <= flow.top + 0.5
        texts = [m for m in page.marks if isinstance(m, Text)]
        assert f"{number} of {len(pages)}" in {m.text for m in texts}
        assert all(m.at[1] > BOTTOM for m in texts if m.text not in ("title", page.name))


def test_a_long_table_is_parted_and_its_parts_stand_beside_each_other():
    flow = Flow()
    rows = tuple((str(i), f"article {i}") for i in range(60))
    flow.table(Table((Column("Qty"), Column("Name")), rows))
    pages = flow.pages("title", Wording())
    words = {m.text for page in pages for m in page.marks if isinstance(m, Text)}
    assert {f"article {i}" for i in range(60)} <= words
    assert len(pages) == 1


def test_a_box_to_tick_is_drawn_beside_its_line():
    flow = Flow()
    flow.paragraph("to be looked at", "box")
    assert len(flow.sheets[0]) == 5
