"""`fitout catalogue`: shown, searched, copied, with a design's own rows."""

import json

import pytest

from fitout import cli
from fitout.design_file import starter


@pytest.fixture
def own(here):
    (here / "mine.yaml").write_text(
        "sheets: {my ply: {like: birch ply 12, thickness: 11.6, source: calliper}}\n",
        encoding="utf-8",
    )
    text = f"{starter('Van')}catalogue: mine.yaml\n"
    (here / "van.yaml").write_text(text, encoding="utf-8")
    return "van.yaml"


def test_without_a_word_it_tells_the_tables(capsys):
    assert cli.main(["catalogue"]) == 0
    printed = capsys.readouterr().out
    assert printed.startswith("sheets ")
    assert "fitout catalogue bolts" in printed


def test_rows_are_shown_with_their_sources(capsys):
    assert cli.main(["catalogue", "sheets", "mdf", "12"]) == 0
    printed = capsys.readouterr().out
    assert "mdf 12" in printed
    assert "birch" not in printed
    assert "\nSources:\n[1] " in printed


def test_a_designs_own_rows_are_shown_too(own, capsys):
    assert cli.main(["catalogue", "my ply"]) == 2
    assert cli.main(["catalogue", "my ply", "--design", own]) == 0
    assert "[1] calliper" in capsys.readouterr().out


def test_as_json_it_is_one_object(own, capsys):
    assert cli.main(["catalogue", "my ply", "--design", own, "--json"]) == 0
    (row,) = json.loads(capsys.readouterr().out)["rows"]
    assert (row["table"], row["name"], row["thickness"]) == ("sheets", "my ply", 11.6)


def test_a_row_is_printed_to_copy(capsys, here, van):
    assert cli.main(["catalogue", "--row", "birch ply 9"]) == 0
    text = capsys.readouterr().out.replace("birch ply 9:", "ply of mine:")
    (here / "mine.yaml").write_text(text, encoding="utf-8")
    design = f"{starter('Van')}catalogue: mine.yaml\n".replace(
        "bottom: birch ply 6.5", "bottom: ply of mine"
    )
    (here / van).write_text(design, encoding="utf-8")
    assert "bottom: ply of mine" in design
    assert cli.main(["check", van]) == 0


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["sheetz"], "fitout: no table, kind or row is called 'sheetz'. Did you mean sheets?"),
        (["--row", "birch plyy 12"], "Did you mean birch ply 12?"),
    ],
)
def test_a_slip_is_answered_with_the_nearest(arguments, told, capsys):
    assert cli.main(["catalogue", *arguments]) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert told in printed.err
