"""Tables of the report: a caption for those who don't see it, headings, rows of cells."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from fitout.documents.report.markup import Markup, tag, words_of

NUMBER = "#"
"""A heading that begins with this stands over numbers, which are set to the right."""


def table(caption: str, headings: Sequence[str], rows: Iterable[Sequence[str]]) -> Markup:
    """A table that scrolls by itself where the screen is narrow; cells may be markup."""
    right = [i for i, heading in enumerate(headings, start=1) if heading.startswith(NUMBER)]
    heads = (tag("th", heading.removeprefix(NUMBER), scope="col") for heading in headings)
    body = [row_of(row) for row in rows]
    return scrolled(caption, tag("thead", tag("tr", *heads)), tag("tbody", *body), right=right)


def row_of(row: Sequence[str]) -> Markup:
    """A row whose first cell names it."""
    first, *rest = row
    return tag("tr", tag("th", first, scope="row"), *(tag("td", cell) for cell in rest))


def scrolled(caption: str, *content: str, right: Iterable[int] = ()) -> Markup:
    """A table in a frame of its own to scroll in, which the keyboard reaches too.

    `right` counts the columns, from 1, that hold numbers; the style knows them by that.
    """
    return tag(
        "div",
        tag("table", tag("caption", caption), *content, data_right=words_of(right) or None),
        class_="scroll",
        role="region",
        tabindex="0",
        aria_label=caption,
    )
