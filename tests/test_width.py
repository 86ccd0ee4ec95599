"""Whatever a verb prints fits 80 columns, and with `--json` is one object of plain ASCII."""

import json

import pytest

from fitout import cli
from fitout.design_file import starter

MORE = """  long weekend with the boat and the whole family to the lake beyond the mountains:
    stages: [{days: 1, km: 210}, {days: 2-3, km: 0}, {days: 4, km: 240}]
"""
"""One more of the trips that the starter design ends with."""

SAID = [
    [],
    ["new", "other"],
    ["check", "van.yaml"],
    ["check", "van.yaml", "--why", "slide load"],
    ["check", "van.yaml", "--why", "bay.seat_back.foot"],
    ["survey", "van.yaml"],
    ["survey", "van.yaml", "--sheet", "measure.pdf"],
    ["trip", "van.yaml"],
    ["compare", "van.yaml", "wider.yaml"],
    ["catalogue"],
    ["catalogue", "sheets"],
    ["catalogue", "--row", "finger catch"],
]

NOT_AS_DATA = ("new", "--sheet", "compare")
"""What has no data, the same kind of data as another, or a test of its own for it."""

AS_DATA = [
    [*arguments, "--json"]
    for arguments in SAID
    if arguments and not set(NOT_AS_DATA) & set(arguments)
]


@pytest.fixture
def job(van, here):
    text = starter("Van")
    (here / van).write_text(f"{text}{MORE}", encoding="utf-8")
    wider = text.replace("carries: 18 kg", "carries: 28 kg")
    assert wider != text
    (here / "wider.yaml").write_text(wider, encoding="utf-8")


@pytest.mark.parametrize("arguments", SAID, ids=" ".join)
def test_nothing_printed_is_wider_than_80_columns(arguments, job, capsys):
    assert cli.main(arguments) in (0, 1)
    printed = capsys.readouterr()
    assert printed.err == ""
    lines = printed.out.splitlines()
    assert lines
    assert [line for line in lines if len(line) > 80] == []


@pytest.mark.parametrize("arguments", AS_DATA, ids=" ".join)
def test_with_json_one_object_is_printed_and_nothing_else(arguments, job, capsys):
    assert cli.main(arguments) in (0, 1)
    printed = capsys.readouterr()
    assert printed.err == ""
    assert printed.out.isascii()
    assert isinstance(json.loads(printed.out), dict)


@pytest.mark.parametrize("module", cli.VERBS, ids=lambda module: module.__name__)
def test_every_verb_that_tells_something_of_a_design_tells_it_as_data_too(module):
    name = module.__name__.rpartition(".")[2]
    options = cli.parser()._subparsers._group_actions[0].choices[name]._option_string_actions
    assert ("--json" in options) is (name not in ("new", "completion"))
