"""Text widths, wrapping and shortening, and what stands in for letters the font lacks."""

from pathlib import Path

import pytest
import reportlab
from hypothesis import given, settings
from hypothesis import strategies as st
from reportlab.pdfbase import pdfmetrics

from fitout.documents.paper.fonts import (
    BOLD,
    REGULAR,
    STAND_IN,
    FontError,
    drawable,
    register,
    shortened,
    size_of,
    text_width,
    wrapped,
)

WORDS = st.text(st.characters(codec="utf-8", exclude_categories=("Cs",)), max_size=60)


def test_size_makes_capitals_as_high_as_asked() -> None:
    """The font's table OS/2 gives its capitals 1493 of 2048 units."""
    assert size_of(5.0) * 1493.0 / 2048.0 == pytest.approx(5.0 * 72.0 / 25.4, rel=1e-4)


def test_width_grows_with_height_and_length() -> None:
    assert text_width("P01", 5.0) == pytest.approx(2.0 * text_width("P01", 2.5))
    assert text_width("P01 P01", 2.5) > 2.0 * text_width("P01", 2.5)
    assert text_width("P01", 2.5, bold=True) > text_width("P01", 2.5)


@given(WORDS)
@settings(max_examples=25, deadline=None)
def test_wrapped_lines_fit_and_lose_no_letter(text: str) -> None:
    lines = wrapped(text, 2.5, 30.0)
    assert "".join(lines).replace(" ", "") == "".join(text.split())
    for told in lines:
        assert text_width(told, 2.5) <= 30.0 or len(told) == 1


@given(WORDS)
@settings(max_examples=25, deadline=None)
def test_shortened_text_fits_and_is_its_beginning(text: str) -> None:
    told = shortened(text, 2.5, 20.0)
    assert text_width(told, 2.5) <= 20.0
    assert told == text or (told.endswith("…") and text.startswith(told[:-1]))


def test_letters_the_font_lacks_become_boxes() -> None:
    assert drawable("Ø 6 ± 1 × äöüß") == "Ø 6 ± 1 × äöüß"
    assert drawable("🧰 tools") == f"{STAND_IN} tools"
    assert drawable("a\n\tb\x07\u202e") == "ab"


def test_a_missing_font_is_told_in_a_sentence(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(reportlab, "__file__", str(tmp_path / "__init__.py"))
    monkeypatch.setattr(pdfmetrics, "getRegisteredFontNames", list)
    with pytest.raises(FontError, match=r"Vera.ttf .* can't be read"):
        register()


def test_both_faces_are_registered_once() -> None:
    register()
    register()
    names = pdfmetrics.getRegisteredFontNames()
    assert [names.count(font) for font in (REGULAR, BOLD)] == [1, 1]
