"""Asking why, as printed and as data."""

import json

import pytest

from fitout import cli
from fitout.answers.why import Answer
from fitout.verbs import explaining


@pytest.fixture
def nothing_followed(monkeypatch) -> None:
    """Following every number is tried where it is done; here only what is asked about counts."""
    monkeypatch.setattr(explaining, "influences", lambda *_: Answer({"margin": 1.0}, (), 7))


def test_a_finding_is_explained(van, capsys, nothing_followed) -> None:
    assert cli.main(["check", van, "--why", "gross mass"]) in (0, 2)
    assert cli.main(["check", van, "--why", "strength"]) == 0
    printed = capsys.readouterr().out
    assert "strength (" in printed
    assert "Source:" in printed
    assert "None of the 7 numbers of the design bears on it." in printed


def test_a_part_and_data(van, capsys, nothing_followed) -> None:
    assert cli.main(["check", van, "--why", "drawers/base", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told == {
        "asked": "drawers/base", "values": {"margin": 1.0}, "numbers_tried": 7, "influences": [],
    }  # fmt: skip


def test_a_number_tells_what_changes_with_it(van, capsys) -> None:
    assert cli.main(["check", van, "--why", "clearances.moving"]) == 0
    printed = capsys.readouterr().out
    assert "clearances.moving is 1.5 mm (a default)." in printed
    assert "With 1 mm more:" in printed
    assert "With 1 mm less:" in printed


def test_an_unknown_word_is_a_fault_with_the_nearest(van, capsys) -> None:
    assert cli.main(["check", van, "--why", "drawers/bas"]) == 2
    assert "Did you mean drawers/base" in capsys.readouterr().err.replace("\n", " ")
