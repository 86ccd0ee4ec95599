"""The export folder as a builder asks for it."""

from pathlib import Path

from fitout import cli


def test_build_writes_where_it_is_told(van, here, capsys):
    assert cli.main(["build", van, "--out", "out/there"]) == 0
    assert (here / "out" / "there" / "cutlist.csv").is_file()
    assert not (here / "exports").exists()
    assert f"Wrote {Path('out/there')}: " in capsys.readouterr().out


def test_build_refuses_a_failing_design_in_plain_words(failing, here, capsys):
    assert cli.main(["build", failing]) == 1
    printed = capsys.readouterr()
    assert printed.out == ""
    assert "nothing is written" in printed.err
    assert "drawers/drawer 2" in printed.err
    assert max(map(len, printed.err.splitlines())) <= 80
    assert not (here / "exports").exists()
