"""The glossary's words are the ones in use, and what it rules out is not."""

import ast
import dataclasses
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import fitout
from fitout.design_file.layout import FileSpec
from fitout.model.finding import Severity
from fitout.modules.registry import KINDS

ROOT = Path(fitout.__file__).parent
PAGE = (ROOT / "GLOSSARY.md").read_text(encoding="utf-8")
BULLETS = [" ".join(b.split()) for b in re.findall(r"(?ms)^- (.+?)(?=\n(?:- |\n|#)|\Z)", PAGE)]
WORDS = [word for bullet in BULLETS for word in re.findall(r"\*\*(.+?)\*\*", bullet)]
RULED_OUT = [
    word.strip(" .")
    for bullet in BULLETS
    for word in bullet.partition(" Not: ")[2].split(",")
    if word.strip()
]
PAGES = (
    ROOT / "design_file" / "ENTRIES.md",
    ROOT.parent / "README.md",
    ROOT.parent / "DEVELOPERS.md",
)


def texts(path: Path) -> Iterator[str]:
    """All that a file of the program says: its strings, docstrings among them, and its names."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value
        elif isinstance(node, ast.FunctionDef | ast.ClassDef):
            yield re.sub(r"(?<=[a-z])(?=[A-Z])", " ", node.name).replace("_", " ")


@pytest.fixture(scope="module")
def said() -> dict[str, str]:
    """All words of the program in lower case, by file."""
    found = {p.name: p.read_text(encoding="utf-8") for p in PAGES}
    for path in sorted(ROOT.rglob("*.py")):
        found[path.relative_to(ROOT).as_posix()] = "\n".join(texts(path))
    for path in sorted(ROOT.rglob("*.yaml")):
        found[path.relative_to(ROOT).as_posix()] = path.read_text(encoding="utf-8")
    return {name: " ".join(text.lower().replace("_", " ").split()) for name, text in found.items()}


def test_each_word_stands_once_with_a_sentence() -> None:
    heads = [bullet.partition(":")[0] for bullet in BULLETS]
    assert len(BULLETS) > 60
    assert all(re.fullmatch(r"\*\*[^*]+\*\*", head) for head in heads)
    assert len(set(WORDS)) == len(WORDS)
    for bullet in BULLETS:
        assert len(bullet.partition(":")[2]) > 15, bullet
        assert bullet.endswith("."), bullet


def test_every_word_is_in_use_with_that_spelling(said: dict[str, str]) -> None:
    whole = " ".join(said.values())
    missing = [w for w in WORDS if not re.search(rf"\b{re.escape(w.lower())}", whole)]
    assert missing == []


def test_no_word_that_is_ruled_out_is_in_use(said: dict[str, str]) -> None:
    assert len(RULED_OUT) > 25
    used = [
        f"{name}: {word}"
        for word in RULED_OUT
        for name, text in said.items()
        if re.search(rf"\b{re.escape(word)}s?\b", text)
    ]
    assert used == []


def test_every_verdict_kind_and_part_of_a_design_is_explained() -> None:
    plain = {word.replace(" ", "_") for word in WORDS} | {f"{w}s" for w in WORDS}
    plain |= {word.replace(" ", "_") + "s" for word in WORDS}
    assert {str(severity) for severity in Severity} <= plain
    assert {kind.kind for kind in KINDS} <= set(WORDS)
    entries = {field.name for field in dataclasses.fields(FileSpec)} - {"fitout", "name"}
    assert sorted(entries - plain) == []


def test_it_can_be_found() -> None:
    for page in PAGES[1:]:
        assert "fitout/GLOSSARY.md" in page.read_text(encoding="utf-8"), page.name
