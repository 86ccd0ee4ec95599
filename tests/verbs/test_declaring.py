"""Every verb says what it does and how it is typed."""

import argparse

import pytest

from fitout import cli
from fitout.verbs.declaring import verb


def test_a_verb_has_its_help_its_example_and_its_run(capsys) -> None:
    parser = argparse.ArgumentParser(prog="fitout")
    verbs = parser.add_subparsers()
    verb(verbs, "sweep", "clean the bench", "fitout sweep", lambda _: 0)
    assert parser.parse_args(["sweep"]).run(None) == 0
    with pytest.raises(SystemExit):
        parser.parse_args(["sweep", "--help"])
    printed = capsys.readouterr().out
    assert "Clean the bench." in printed
    assert "For example: fitout sweep" in printed


@pytest.mark.parametrize("module", cli.VERBS, ids=lambda module: module.__name__)
def test_every_verb_shows_an_example_within_80_columns(module, capsys, monkeypatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    name = module.__name__.rpartition(".")[2]
    with pytest.raises(SystemExit) as ended:
        cli.main([name, "--help"])
    assert ended.value.code == 0
    printed = capsys.readouterr().out
    assert f"For example: fitout {name}" in printed.replace("\n", " ")
    assert max(map(len, printed.splitlines())) <= 80
