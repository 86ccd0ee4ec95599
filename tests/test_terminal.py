"""What a long work tells: a bar at a terminal, plain lines elsewhere, nothing left behind."""

import sys
from contextlib import suppress

from fitout.terminal import BAR, ProgressBar


def test_elsewhere_each_step_is_a_plain_line(capsys):
    bar = ProgressBar(2)
    with bar.shown():
        bar.tell("checking")
        bar.tell("writing")
    assert capsys.readouterr().err == "… checking\n… writing\n"


def test_at_a_terminal_a_bar_grows_and_is_wiped_whatever_happens(capsys, monkeypatch):
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True, raising=False)
    bar = ProgressBar(4)
    with suppress(KeyboardInterrupt), bar.shown():
        for step in ("checking a long name", "nesting", "writing"):
            bar.tell(step)
        raise KeyboardInterrupt
    *lines, wiped, last = capsys.readouterr().err.split("\r")[1:]
    assert [line.count("=") for line in lines] == [0, BAR // 4, BAR // 2]
    assert lines[1].startswith("fitout: [======                  ] nesting …")
    assert len(lines[1]) >= len(lines[0])
    assert wiped.strip() == last == ""
    assert len(wiped) >= len(lines[2].rstrip())
    bar.tell("one more than was told")
    bar.tell("and another")
    assert capsys.readouterr().err.count("=") == BAR * 3 // 4 + BAR
