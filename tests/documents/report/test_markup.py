"""Nothing gets into the page as markup but what was made as markup."""

from html.parser import HTMLParser

import pytest

from fitout.documents.report.markup import Markup, joined, name, plain, tag, words_of

WORST = [
    "</p><script>x</script>",
    'a" onload="x',
    "a' b",
    "<!--",
    "]]>",
    "&lt;b&gt;",
    "\x00\x1b[2J",
    "",
]


class Heard(HTMLParser):
    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text = ""
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.text += data


@pytest.mark.parametrize("text", WORST)
def test_text_and_attributes_come_out_as_they_went_in(text: str) -> None:
    heard = Heard(tag("b", text, title=text, data_of=text))
    shown = "".join(c for c in text if c >= " ")
    assert heard.tags == [("b", {"title": shown, "data-of": shown})]
    assert heard.text == shown


def test_markup_is_not_escaped_again() -> None:
    assert tag("p", tag("b", "a<b")) == "<p><b>a&lt;b</b>"
    assert joined(["<", tag("br")]) == "&lt;<br>"
    assert plain(Markup("<i>")) == "<i>"


def test_attributes_are_left_out_bare_or_short() -> None:
    assert tag("input", hidden=True, title=None, open=False, value=3.0, class_="a b") == (
        '<input hidden value=3 class="a b">'
    )
    assert tag("a", "x", href="#sheet-S01") == "<a href=#sheet-S01>x</a>"


def test_a_builders_name_keeps_its_own_direction() -> None:
    assert name("درج") == "<bdi>درج</bdi>"
    assert name("a<b") == "a&lt;b"


def test_ends_that_html_implies_are_left_out() -> None:
    assert tag("tr", tag("td", "1"), tag("td", "2")) == "<tr><td>1<td>2"


def test_numbers_in_a_list() -> None:
    assert words_of([3, 14]) == "3 14"
