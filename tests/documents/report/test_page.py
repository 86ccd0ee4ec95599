"""The page as text: its form, its policy, that nothing in it runs but the script it came with."""

import base64
import dataclasses
import hashlib
import json
import re
import subprocess
import sys
from pathlib import Path

import pytest
from dossiers import told_in
from hostile import ARABIC, BREAKS, LONG, QUOTES, Read

from fitout.documents.dossier import Dossier
from fitout.documents.report import report_html
from fitout.documents.report.page import SECTIONS


def digest(text: str) -> str:
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()


def test_the_page_is_well_formed_with_landmarks(hostile_read: Read) -> None:
    for landmark in ("header", "nav", "main", "footer"):
        assert len(hostile_read.named(landmark)) == 1
    assert len(hostile_read.named("h1")) == 1
    assert len(set(hostile_read.ids)) == len(hostile_read.ids)
    for link in hostile_read.named("a"):
        assert link["href"].removeprefix("#") in hostile_read.ids  # type: ignore[union-attr]
    for label in hostile_read.named("label"):
        assert label["for"] in hostile_read.ids
    named = {label["for"] for label in hostile_read.named("label")}
    assert {a["id"] for a in hostile_read.named("input")} <= named


def test_sections_come_in_their_order(hostile_read: Read) -> None:
    ids = [a["id"] for a in hostile_read.named("section") if a["id"] != "part"]
    every = [key for key, _ in SECTIONS]
    assert ids == [key for key in every if key in ids]
    assert {"look", "findings", "gaps", "masses", "parts", "sheets", "steps"} <= set(ids)


def test_names_that_break_out_stay_text(hostile_page: bytes, hostile_read: Read) -> None:
    assert hostile_read.named("img") == []
    assert hostile_read.texts["h1"] == [BREAKS]
    assert BREAKS in hostile_read.texts["title"][0]
    for text in (BREAKS, QUOTES, ARABIC, LONG):
        assert any(text in told for told in hostile_read.texts["main"])
    handlers = [
        (tag, key) for tag, attributes in hostile_read.elements for key in attributes
        if key.startswith("on")
    ]  # fmt: skip
    assert handlers == []
    # One block of data and one script, and neither holds what a builder wrote.
    assert [a.get("type") for a in hostile_read.named("script")] == ["application/json", None]
    assert "broken" not in hostile_read.texts["script"][1]
    assert hostile_page.count(b"<script") == 2


def test_the_data_can_not_end_its_element(hostile_read: Read) -> None:
    text = hostile_read.texts["script"][0]
    assert not re.search(r"[<>&]", text)
    assert json.loads(text)["unit"] == "mm"


def test_the_policy_lets_only_this_script_and_style_run(hostile_read: Read) -> None:
    (policy,) = [a["content"] for a in hostile_read.named("meta") if "http-equiv" in a]
    assert policy is not None
    rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
    assert rules == {
        "default-src": "'none'",
        "style-src": f"'{digest(hostile_read.texts['style'][0])}'",
        "script-src": f"'{digest(hostile_read.texts['script'][1])}'",
        "base-uri": "'none'",
        "form-action": "'none'",
    }
    # A style attribute would be refused by that policy.
    assert not any("style" in attributes for _, attributes in hostile_read.elements)


def test_nothing_is_fetched(hostile_page: bytes) -> None:
    addresses = set(re.findall(rb"https?://[^\"' )]+", hostile_page))
    assert addresses == {b"http://www.w3.org/2000/svg"}
    assert not re.search(
        rb"url\(|@import|\bsrc=|fetch\(|XMLHttpRequest|import\(", _shown(hostile_page)
    )


def _shown(page: bytes) -> bytes:
    """The page without the builder's own words."""
    return page.replace(BREAKS.encode(), b"").replace(b"src=x", b"")


def test_everything_is_there_without_scripting(hostile: Dossier, hostile_read: Read) -> None:
    told = "".join(hostile_read.texts["main"])
    for finding in hostile.findings:
        assert finding.sentence in told
    for step in hostile.steps:
        assert step.how in told
    for line in hostile.cuts.cut_list.lines:
        assert line.number in told
    # What needs the script is marked, and nothing else is hidden.
    live = [a["id"] for a in hostile_read.named("section") if a.get("class") == "live"]
    assert live == ["look"]
    assert all("open" in a for a in hostile_read.named("details"))


def test_the_language_and_unit_are_the_builders(hostile: Dossier) -> None:
    read = Read(report_html(told_in(hostile, language="de", lengths="in")))
    assert read.named("html") == [{"lang": "de"}]
    assert "Befunde" in read.texts["h2"]
    assert json.loads(read.texts["script"][0])["unit"] == "in"
    sizes = [cell for cell in read.texts["td"] if cell.endswith(" in")]
    assert len(sizes) == len(list(hostile.fitout.parts()))


def test_a_fit_out_without_parts_still_makes_a_page(hostile: Dossier) -> None:
    fitout = dataclasses.replace(hostile.fitout, modules=())
    bodies = {id_: hostile.subject.bodies[id_] for id_ in hostile.subject.obstacles}
    subject = dataclasses.replace(
        hostile.subject, fitout=fitout, parts={}, modules={}, bodies=bodies, loads={}
    )
    cuts = dataclasses.replace(
        hostile.cuts, cut_list=dataclasses.replace(hostile.cuts.cut_list, lines=(), bars=()),
        sheets=(), boards=(),
    )  # fmt: skip
    bare = dataclasses.replace(hostile, subject=subject, cuts=cuts, steps=(), hardware=())
    read = Read(report_html(bare))
    ids = [a["id"] for a in read.named("section")]
    assert "findings" in ids
    assert not {"parts", "sheets", "steps"} & set(ids)


TWICE = """
import sys
sys.path[:0] = [{support!r}, {here!r}]
from pathlib import Path
from hostile import DESIGN
from dossiers import dossier_of
from fitout import workflow
from fitout.documents.report import report_html
path = Path({path!r})
path.write_text(DESIGN, encoding="utf-8")
sys.stdout.buffer.write(report_html(dossier_of(workflow.load(path))))
"""


@pytest.mark.thorough
def test_the_same_bytes_in_every_process(tmp_path: Path) -> None:
    here = Path(__file__).parent
    code = TWICE.format(
        support=str(here.parents[1] / "support"), here=str(here), path=str(tmp_path / "d.yaml")
    )
    told = [
        subprocess.run(
            [sys.executable, "-c", code], capture_output=True, check=True,
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": str(here.parents[2])},
        ).stdout
        for seed in ("1", "2")
    ]  # fmt: skip
    assert told[0] == told[1]


def test_the_same_bytes_twice(hostile: Dossier, hostile_page: bytes) -> None:
    assert report_html(hostile) == hostile_page
