"""The README's first hour, typed as it stands there: every answer, file and picture of it.

`FITOUT_WRITE_EXPECTED=1` writes the pictures anew, to be looked at before they are committed.
"""

from __future__ import annotations

import contextlib
import csv
import io
import os
import re
import shlex
import shutil
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from fitout import cli
from fitout.documents.drawings import book as drawings
from fitout.documents.guide import book as guide
from fitout.documents.labels import book as labels
from fitout.documents.paper.marks import Page, Text
from fitout.documents.templates import book as templates
from tests.support.page_pictures import page_svg

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
SECTION = README.partition("\n## The first hour\n")[2].partition("\n## ")[0]
BLOCKS = re.findall(r"```(text|diff)\n(.*?)```", SECTION, re.DOTALL)
HOUR = ROOT / "designs" / "first-hour"
PICTURES = ROOT / "exports" / "first-hour"
DESIGN = "my-car.yaml"
MEASURED = "groove_measured"


@dataclass(frozen=True)
class Answer:
    """A command of the section, what the README shows of its answer, and what came."""

    command: str
    shown: str
    printed: str
    code: int


@dataclass(frozen=True)
class Hour:
    """What the hour left behind: answers, the design before its last change, pages drawn."""

    answers: list[Answer]
    fitting: str
    folder: Path
    pages: dict[str, list[Page]] = field(repr=False)


def commands(block: str) -> Iterator[tuple[str, str]]:
    """Each command of a block and the answer that is shown below it."""
    for part in re.split(r"(?m)^\$ ", block)[1:]:
        command, _, shown = part.partition("\n")
        yield command, shown


def answered(command: str, shown: str) -> Answer:
    program, *arguments = shlex.split(command)
    if program == "cp":
        given, own = arguments
        shutil.copyfile(ROOT / given.removeprefix("../"), own)
        return Answer(command, shown, "", 0)
    assert program == "fitout"
    printed = io.StringIO()
    with contextlib.redirect_stdout(printed), contextlib.redirect_stderr(printed):
        code = cli.main(arguments)
    return Answer(command, shown, printed.getvalue().replace("\\", "/"), code)


def mended(text: str, change: str) -> str:
    """The file after a change that is shown as one."""
    lines = change.splitlines(keepends=True)
    before = "".join(line[1:] for line in lines if line[0] in " -")
    after = "".join(line[1:] for line in lines if line[0] in " +")
    assert text.count(before) == 1, change
    return text.replace(before, after)


def drawn_by(book: object, patch: pytest.MonkeyPatch) -> list[Page]:
    """The list that a book's pages go into as it makes its PDF of them."""
    pages: list[Page] = []
    real: Callable[[Iterable[Page], str], bytes] = book.pdf  # type: ignore[attr-defined]

    def kept(made: Iterable[Page], title: str) -> bytes:
        pages.extend(made)
        return real(pages, title)

    patch.setattr(book, "pdf", kept)
    return pages


@pytest.fixture(scope="module")
def hour(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Hour]:
    folder = tmp_path_factory.mktemp("hour")
    answers: list[Answer] = []
    fitting = ""
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        books = {"drawings": drawings, "guide": guide, "labels": labels, "templates": templates}
        pages = {name: drawn_by(book, patch) for name, book in books.items()}
        for kind, block in BLOCKS:
            if kind == "diff":
                text = Path(DESIGN).read_text(encoding="utf-8")
                if MEASURED in block:
                    fitting = text
                Path(DESIGN).write_text(mended(text, block), encoding="utf-8", newline="\n")
                continue
            answers += [answered(*command) for command in commands(block)]
        yield Hour(answers, fitting, folder, pages)


def test_every_answer_is_as_shown(hour: Hour) -> None:
    assert len(hour.answers) == 12
    for answer in hour.answers:
        rest = answer.printed
        for part in filter(None, re.split(r"(?m)^\.\.\.\n", answer.shown)):
            assert part in rest, f"{answer.command}\n\n{part}\nis not in\n\n{rest}"
            rest = rest.partition(part)[2]
        if not answer.shown.endswith("...\n"):
            assert rest.strip() == "", answer.command


def test_mistakes_end_with_their_exit_codes_and_the_rest_well(hour: Hour) -> None:
    assert [answer.code for answer in hour.answers] == [0, 0, 0, 2, 1, 1, 1, 0, 0, 0, 0, 0]


def test_what_was_mended_is_the_design_that_fits(hour: Hour) -> None:
    def said(text: str) -> str:
        return text[text.index("fitout: 1") :]

    assert said(hour.fitting) == said((HOUR / "fits.yaml").read_text(encoding="utf-8"))


def test_the_section_s_files_are_there_and_the_sheet_is_a_pdf(hour: Hour) -> None:
    assert (hour.folder / "measure.pdf").read_bytes().startswith(b"%PDF-")
    export = hour.folder / "exports" / "my-car"
    assert (export / "report.html").stat().st_size > 100_000
    cut_list = (export / "cutlist.csv").read_text(encoding="utf-8-sig")
    last = list(csv.DictReader(cut_list.splitlines()))[-1]
    assert "test piece" in last["name"]
    assert f": {last['part']}, the last line of `cutlist.csv`" in " ".join(SECTION.split())
    assert (export / "parts" / f"{last['part']}.dxf").is_file()


def showing(pages: list[Page], words: str) -> Page:
    """The first page with these words."""
    return next(
        page
        for page in pages
        if any(isinstance(mark, Text) and words in mark.text for mark in page.marks)
    )


def test_its_pictures_are_what_was_drawn(hour: Hour) -> None:
    pages = hour.pages
    drawn = {
        "arrangement.svg": showing(pages["drawings"], "View from behind"),
        "assembly.svg": showing(pages["guide"], "On the bench"),
        "labels.svg": pages["labels"][0],
        "templates.svg": showing(pages["templates"], "test piece"),
        "test-piece.svg": showing(pages["drawings"][1:], "P16 test piece"),
    }
    fresh = {name: page_svg(page, name.removesuffix(".svg")) for name, page in drawn.items()}
    overview = hour.folder / "exports" / "my-car" / "overview.svg"
    fresh["overview.svg"] = overview.read_bytes()
    if os.environ.get("FITOUT_WRITE_EXPECTED"):
        PICTURES.mkdir(parents=True, exist_ok=True)
        for name, data in fresh.items():
            (PICTURES / name).write_bytes(data)
    assert {path.name for path in PICTURES.iterdir()} == set(fresh)
    assert [n for n, data in fresh.items() if (PICTURES / n).read_bytes() != data] == []
    assert set(re.findall(r"exports/first-hour/([\w-]+\.svg)", SECTION)) == set(fresh)
