"""The measuring sheet as PDF: same bytes, embedded fonts, no missing letters, nothing cut off."""

import re
from pathlib import Path

import pytest
import reportlab
from reportlab.pdfbase.ttfonts import TTFontFile
from reportlab.pdfgen.canvas import Canvas

from fitout.documents.measuring_sheet import HEIGHT, WIDTH, measuring_sheet_pdf
from fitout.survey.bodies import BODIES
from fitout.survey.sheet import Sheet, sheet_of

MM = 72.0 / 25.4

each_body = pytest.mark.parametrize("name", BODIES)


class Drawn:
    """The texts a canvas was given, each with its font, size and place in mm."""

    def __init__(self) -> None:
        self.texts: list[tuple[str, str, float, float, float]] = []


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch) -> Drawn:
    seen = Drawn()

    def spy(method: str, share: float) -> None:
        original = getattr(Canvas, method)

        def draw(self: Canvas, x: float, y: float, text: str) -> None:
            width = self.stringWidth(text, self._fontname, self._fontsize)
            left = (x - share * width) / MM
            seen.texts.append((text, self._fontname, left, left + width / MM, y / MM))
            original(self, x, y, text)

        monkeypatch.setattr(Canvas, method, draw)

    spy("drawString", 0.0)
    spy("drawCentredString", 0.5)
    spy("drawRightString", 1.0)
    return seen


@each_body
def test_the_same_bytes_each_time_with_fonts_embedded(name: str) -> None:
    sheet = sheet_of(BODIES[name])
    pdf = measuring_sheet_pdf(sheet, name)
    assert pdf.startswith(b"%PDF-")
    assert pdf == measuring_sheet_pdf(sheet, name)
    fonts = set(re.findall(rb"/BaseFont /([^\s/]+)", pdf))
    assert {font.partition(b"+")[2] for font in fonts} == {
        b"BitstreamVeraSans-Roman",
        b"BitstreamVeraSans-Bold",
    }
    assert pdf.count(b"/FontFile2") == 2
    assert len(re.findall(rb"/Type /Page\b", pdf)) == 3


@each_body
def test_everything_asked_stands_on_the_page(name: str, drawn: Drawn) -> None:
    sheet = sheet_of(BODIES[name])
    measuring_sheet_pdf(sheet, "Vehicle of a friend")
    texts = [text for text, *_ in drawn.texts]
    for ask in sheet.asks:
        assert texts.count(str(ask.number)) >= 2, "once in a drawing, once in the table"
        assert any(text.endswith(ask.what) for text in texts)
        assert ask.goes_to in texts
    for point, letter in sheet.letters.items():
        assert point in texts
        assert any(letter in text.split("/") for text in texts)
    assert "Vehicle of a friend" in texts


@each_body
def test_no_text_runs_off_the_page_or_into_the_footer(name: str, drawn: Drawn) -> None:
    measuring_sheet_pdf(
        sheet_of(BODIES[name]), "A name so long that it needs more than a line " * 3
    )
    for text, _, left, right, y in drawn.texts:
        assert left >= 10.0, text
        assert right <= WIDTH - 10.0, text
        assert 6.0 < y < HEIGHT - 10.0, text
    feet = [t for t in drawn.texts if t[4] < 12.0]
    assert all(t[0].startswith(("Lengths in mm", "page ")) for t in feet)


@each_body
def test_the_font_has_every_letter(name: str, drawn: Drawn) -> None:
    measuring_sheet_pdf(sheet_of(BODIES[name]), name)
    folder = Path(reportlab.__file__).parent / "fonts"
    for font in ("Vera", "VeraBd"):
        known = TTFontFile(str(folder / f"{font}.ttf")).charToGlyph
        used = {c for text, face, *_ in drawn.texts if face == font for c in text}
        assert used
        assert not {c for c in used if ord(c) not in known}


def test_a_sheet_without_views_of_its_opening(drawn: Drawn) -> None:
    whole = sheet_of(BODIES["wagon"])
    fewer = Sheet(views=whole.views[:3], asks=whole.asks[:4], letters=whole.letters)
    pdf = measuring_sheet_pdf(fewer, "bare")
    assert len(re.findall(rb"/Type /Page\b", pdf)) == 2
