"""Two versions of a design side by side, as printed and as data."""

import json

from fitout import cli


def test_a_heavier_drawer_is_told(van, here, capsys) -> None:
    text = (here / van).read_text(encoding="utf-8")
    (here / "other.yaml").write_text(text.replace("carries: 18 kg", "carries: 20 kg"), "utf-8")
    assert cli.main(["compare", van, "other.yaml"]) == 0
    printed = capsys.readouterr().out
    assert "Findings" in printed
    assert "all, laden:" in printed
    assert "(+4.00)" in printed
    assert max(map(len, printed.splitlines())) <= 80


def test_the_same_design_has_no_difference(van, capsys) -> None:
    assert cli.main(["compare", van, van, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["findings"] == told["parts"] == told["amounts"] == told["sheets"] == []


def test_a_fault_is_told_with_the_file_it_stands_in(van, faulty, capsys) -> None:
    assert cli.main(["compare", van, faulty]) == 2
    assert f"{faulty}:3:" in capsys.readouterr().err
