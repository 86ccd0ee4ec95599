"""Every text exists in every language, is used, and takes the values it is given; lengths."""

from __future__ import annotations

import ast
import re
import string
from collections.abc import Iterator
from pathlib import Path
from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import fitout
from fitout.cutting.edging import sides_told
from fitout.documents.paper.fonts import drawable
from fitout.documents.wording import FINEST, INCH, Wording, decimal, inches, table
from fitout.model.documents import Language

ROOT = Path(fitout.__file__).parent
LANGUAGES = get_args(Language)
ANY = "\x00"


def fields(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name is not None}


def keys_of(node: ast.AST) -> Iterator[str]:
    """The keys an expression can be: constants, and f-strings with ANY for what they fill in."""
    match node:
        case ast.Constant(value=str(words)):
            yield words
        case ast.JoinedStr(values=parts):
            yield "".join(p.value if isinstance(p, ast.Constant) else ANY for p in parts)
        case ast.IfExp(body=first, orelse=second):
            yield from keys_of(first)
            yield from keys_of(second)


def calls() -> Iterator[tuple[str, ast.Call]]:
    """Every call that says something, with the file it stands in."""
    for path in sorted(ROOT.joinpath("documents").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and node.args:
                name = getattr(node.func, "attr", getattr(node.func, "id", ""))
                if name == "say":
                    yield path.name, node


CALLS = tuple(calls())


def pattern(key: str) -> re.Pattern[str]:
    return re.compile(".+".join(re.escape(part) for part in key.split(ANY)))


def constants(folder: Path) -> Iterator[str]:
    """Every string in the code of a folder, and those of its f-strings as patterns."""
    for path in sorted(folder.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            yield from keys_of(node)


def test_the_tables_are_there_and_each_text_has_all_languages() -> None:
    assert len(table()) > 100
    for key, texts in table().items():
        assert tuple(sorted(texts)) == tuple(sorted(LANGUAGES)), key
        assert all(isinstance(text, str) and text.strip() for text in texts.values()), key


def test_a_text_has_the_same_places_in_every_language() -> None:
    for key, texts in table().items():
        assert len({frozenset(fields(text)) for text in texts.values()}) == 1, key


def test_the_font_has_every_letter() -> None:
    for key, texts in table().items():
        for text in texts.values():
            assert drawable(text) == text, key


def test_every_key_that_is_said_exists_and_gets_its_values() -> None:
    assert len(CALLS) > 100
    known = table()
    for file, call in CALLS:
        given_names = {word.arg for word in call.keywords}
        for key in keys_of(call.args[0]):
            meant = [k for k in known if pattern(key).fullmatch(k)]
            assert meant, f"{file} says {key.replace(ANY, '…')!r}, which no table has"
            if None not in given_names and ANY not in key:
                assert fields(known[key]["en"]) == given_names, f"{file}: {key}"


def test_no_text_is_unused() -> None:
    written = set(constants(ROOT / "documents"))
    said = {key for _, call in CALLS for key in keys_of(call.args[0]) if ANY in key}
    patterns = [pattern(key) for key in said]
    trade = {
        *constants(ROOT / "modules"),
        *constants(ROOT / "documents"),
        *constants(ROOT / "model"),
        *constants(ROOT / "cutting"),
    }
    trade_patterns = [pattern(key) for key in trade if ANY in key and len(key.strip(ANY)) > 3]
    unused = []
    for key in table():
        if key.startswith("work "):
            words = key.removeprefix("work ")
            used = words in trade or any(p.fullmatch(words) for p in trade_patterns)
        else:
            used = key in written or any(p.fullmatch(key) for p in patterns)
        if not used:
            unused.append(key)
    assert not unused, ", ".join(unused)


@pytest.mark.parametrize(
    ("mm", "told"),
    [
        (0.0, "0"), (25.4, "1"), (12.7, "1/2"), (402.5, "15 27/32"), (0.79375, "1/32"),
        (0.3, "0"), (-12.7, "-1/2"), (-0.3, "0"), (2440.0, "96 1/16"), (25.2, "1"),
    ],
)  # fmt: skip
def test_inches_are_told_to_the_nearest_thirty_second(mm: float, told: str) -> None:
    assert inches(mm) == told
    assert Wording("en", "in").length(mm) == told


@given(st.floats(-5000.0, 5000.0))
@settings(max_examples=100, deadline=None)
def test_told_inches_are_within_half_of_a_thirty_second(mm: float) -> None:
    told = inches(mm)
    sign = -1.0 if told.startswith("-") else 1.0
    parts = [part.split("/") for part in told.removeprefix("-").split()]
    read = sign * sum(float(p[0]) / float(p[1]) if len(p) == 2 else float(p[0]) for p in parts)
    assert abs(read * INCH - mm) <= INCH / FINEST / 2.0 + 1e-9


def test_lengths_in_mm_have_no_needless_noughts() -> None:
    told = Wording("en", "mm")
    assert [told.length(v) for v in (402.5, 402.0, 0.04, -0.04, 400.0)] == [
        "402.5", "402", "0", "0", "400",
    ]  # fmt: skip
    assert told.size(600.0, 402.5) == "600 x 402.5 mm"
    assert Wording("de", "in").size(25.4, 12.7) == "1 x 1/2 in"
    assert decimal(1234.5678, 2) == "1234.57"


def test_bits_and_drills_are_told_in_mm_among_inches_too() -> None:
    assert Wording("en", "mm").tool(4.5) == "4.5"
    assert Wording("en", "in").tool(6.0) == "6 mm"
    assert Wording("en", "in").tool(3.25, 2) == "3.25 mm"


def test_a_builder_s_language_and_trade_words() -> None:
    assert Wording("en").say("page_of", page=3, pages=9) == "3 of 9"
    assert Wording("de").say("page_of", page=3, pages=9) == "3 von 9"
    assert Wording("de").work("screw") == "Schraube"
    assert Wording("de").work("a word of no table") == "a word of no table"
    with pytest.raises(KeyError):
        Wording("en").say("a key of no table")


def test_edges_that_are_edged_or_left_to_scribe_are_told_in_the_builders_words() -> None:
    german, inch = Wording(language="de"), Wording(unit="in")
    assert Wording().work("5 mm left, upper edge") == "5 mm left, upper edge"
    assert german.work("5 mm left, upper edge") == "5 mm linke, obere Kante"
    assert german.work("5 mm all round") == "5 mm ringsum"
    assert german.work("0.8 mm edging lower edge") == "Kantenleiste 0.8 mm, untere Kante"
    assert inch.work("12.7 mm right edge") == "1/2 in right edge"
    assert german.work("2 mm of something else") == "2 mm of something else"


@pytest.mark.parametrize("sides", [("left",), ("upper", "lower"), ("left", "right", "upper")])
def test_what_the_cutting_tells_of_edges_is_understood(sides: tuple[str, ...]) -> None:
    told = sides_told(sides)
    words = Wording(language="de").work(f"5 mm {told}")
    assert words.endswith(" Kante")
    assert "edge" not in words
