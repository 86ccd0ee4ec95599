"""A fit-out whose names try to break out of whatever they are written into, and a page read."""

import dataclasses
from html.parser import HTMLParser

from fitout.documents.dossier import Dossier

BREAKS = "</script><img src=x onerror=\"document.title='broken'\">"
QUOTES = "\"'><svg/onload=document.title='broken'> 🧰"
ARABIC = "درج علوي"
LONG = "a box whose name goes on and on-and-on-and-on-and-on-and-on"

DESIGN = f"""fitout: 1
name: '{BREAKS.replace("'", "''")}'
bay:
  sections:
    - {{at: 0, widths: {{0: 1300}}, roof: 950}}
    - {{at: 1300, widths: {{0: 1300}}, roof: 950}}
  seat_back: {{foot: 1200, leans: 15 deg, top: 600}}
  tailgate: {{inner_face: {{0: 0, 900: 60}}, opens: upwards}}
  opening: {{height: 880, widths: {{0: 1200, 880: 1150}}}}
  keep_clear:
    - name: '{QUOTES.replace("'", "''")}'
      side: right
      from: 100
      to: 200
      up_to: 100
      reach: 50
items:
  box: {{size: 500 x 350 x 300, mass: 15 kg, lid: {{hinge: left, opens: 90 deg}}}}
modules:
  '{LONG}': {{kind: drawers, stack: [{{carries: 20 kg}}], width: 400}}
  '{ARABIC}': {{kind: fridge slide, item: box}}
"""
"""Names of modules and items are held to letters; those of designs and places are free."""


def turned_hostile(made: Dossier) -> Dossier:
    """The dossier with breaking words wherever else a text comes from outside the program."""
    first, *others = made.findings
    finding = dataclasses.replace(
        first, code=BREAKS, sentence=f"{QUOTES} {BREAKS}", source=BREAKS, unit=BREAKS, value=1.0
    )
    step = dataclasses.replace(made.steps[0], what=BREAKS, how=QUOTES, tool=BREAKS)
    return dataclasses.replace(made, findings=(finding, *others), steps=(step, *made.steps[1:]))


CELLS = ("td", "th")
BLOCKS = ("p", "div", "ul", "ol", "dl", "table", "section", "details", "fieldset", "figure", "h2")
ENDS = {
    "td": CELLS,
    "th": CELLS,
    "tr": (*CELLS, "tr"),
    "tbody": (*CELLS, "tr", "thead", "tbody"),
    "li": ("p", "li"),
    **dict.fromkeys(BLOCKS, ("p",)),
    "option": ("option",),
}
"""What HTML ends by itself where one of these begins."""

IMPLIED = ("p", *CELLS, "tr", "tbody", "thead", "li", "option")
"""Elements that HTML ends by itself where what holds them ends."""


class Read(HTMLParser):
    """What a browser would make of the page: elements with their attributes, and their text."""

    def __init__(self, page: bytes) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.texts: dict[str, list[str]] = {}
        self._open: list[str] = []
        self.feed(page.decode("utf-8"))
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        while self._open and self._open[-1] in ENDS.get(tag, ()):
            self._open.pop()
        if tag not in ("meta", "input", "br", "link"):
            self._open.append(tag)
            self.texts.setdefault(tag, []).append("")

    def handle_endtag(self, tag: str) -> None:
        while (last := self._open.pop()) != tag:
            assert last in IMPLIED, f"{tag} closes {last}"

    def handle_data(self, data: str) -> None:
        for tag in dict.fromkeys(self._open):
            self.texts[tag][-1] += data

    def named(self, tag: str) -> list[dict[str, str | None]]:
        return [attributes for name, attributes in self.elements if name == tag]

    @property
    def ids(self) -> list[str]:
        return [a["id"] for _, a in self.elements if a.get("id")]  # type: ignore[misc]
