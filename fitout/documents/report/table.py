"""Tables of the report: a caption for those who don't see it, headings, rows of cells."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from fitout.documents.report.markup import Markup, tag

NUMBER = "#"
"""A heading that begins with this stands over numbers, which are set to the right."""


def table(caption: str, headings: Sequence[str], rows: Iterable[Sequence[str]]) -> Markup:
    """A table that scrolls by itself where the screen is narrow; cells may be markup."""
    right = [heading.startswith(NUMBER) for heading in headings]
    head = tag(
        "tr",
        *(
            tag("th", heading.removeprefix(NUMBER), scope="col", class_="r" if number else None)
            for heading, number in zip(headings, right, strict=True)
        ),
    )
    body = [row_of(row, right) for row in rows]
    return scrolled(caption, tag("thead", head), tag("tbody", *body))


def row_of(row: Sequence[str], right: Sequence[bool]) -> Markup:
    """A row whose first cell names it."""
    first, *rest = row
    return tag(
        "tr",
        tag("th", first, scope="row"),
        *(
            tag("td", cell, class_="r" if number else None)
            for cell, number in zip(rest, right[1:], strict=True)
        ),
    )


def scrolled(caption: str, *content: str) -> Markup:
    """A table in a frame of its own to scroll in, which the keyboard reaches too."""
    return tag(
        "div",
        tag("table", tag("caption", caption), *content),
        class_="scroll",
        role="region",
        tabindex="0",
        aria_label=caption,
    )
