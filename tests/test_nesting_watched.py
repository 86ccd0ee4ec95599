"""Nesting as it is seen at a terminal: what is told, a time limit, Ctrl-C once and twice."""

import os
import signal
import subprocess
import sys
import threading
import time

import pytest

from fitout.cutting.beam import Enough
from fitout.cutting.search import Progress
from fitout.design_file import starter
from fitout.model.stock import Board
from fitout.terminal import ENDED, Watch

BOARD = Board(
    key="birch ply 12", nominal=12.0, thickness=11.8, thickness_tolerance=0.3,
    density_kg_m3=680.0, length=2440.0, width=1220.0,
)  # fmt: skip
SO_FAR = Progress(sheets=4, cost=4.0, least_cost=3.0, share=0.5)

ENDLESS = """
import sys
from dataclasses import replace
from fitout import cli
from fitout.cutting import nest
plan, heard = nest.nest, []

def slow(cuts, spec, effort, stock):
    # A search that has no end of its own, as that of a thousand parts has hardly any.
    def told(board, now):
        effort.progress(board, now)
        if not heard:
            heard.append(now)
            print("searching", flush=True)
    nest.least_sheets = lambda *_: 0
    return plan(cuts, spec, replace(effort, work=10**12, progress=told), stock)

nest.nest = slow
sys.exit(cli.main(sys.argv[1:]))
"""


@pytest.fixture
def watch(monkeypatch):
    """A watch that has been running for two seconds and a bit."""
    found = Watch()
    found.begin = time.monotonic() - 2.25
    return found


def test_a_pipe_gets_plain_lines_and_no_line_twice(watch, capsys):
    watch.progress(BOARD, SO_FAR)
    watch.progress(BOARD, SO_FAR)
    told = capsys.readouterr().err
    assert told == "… nesting birch ply 12: 4 sheets so far, no fewer than 3 by bound, 2 s\n"


def test_a_terminal_gets_one_line_that_is_wiped(watch, capsys, monkeypatch):
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True, raising=False)
    with watch.watching():
        watch.begin -= 2.5
        watch.progress(BOARD, SO_FAR)
        watch._when -= 1.0
        watch.check()
    told = capsys.readouterr().err
    assert "\n" not in told
    assert told.count("birch ply 12: 4 sheets so far, no fewer than 3 by bound") == 2
    assert told.split("\r")[-2].strip() == ""


def test_costs_are_told_by_their_share(watch, capsys):
    watch.progress(BOARD, Progress(sheets=1, cost=80.0, least_cost=60.0, share=0.5))
    assert "1 sheet so far, no less than 75 % of their cost by bound" in capsys.readouterr().err


def test_nothing_is_told_in_the_first_second(capsys):
    Watch().progress(BOARD, SO_FAR)
    assert capsys.readouterr().err == ""


def test_time_is_up(watch):
    Watch(most_s=60.0).check()
    watch.most_s = 2.0
    with pytest.raises(Enough):
        watch.check()


def test_beside_the_main_thread_nothing_is_caught():
    found = []

    def other():
        with Watch().watching() as watch:
            watch.check()
            found.append(watch)

    thread = threading.Thread(target=other)
    thread.start()
    thread.join()
    assert len(found) == 1


def started(folder, *more):
    """A build that nests until it is stopped, once it has a first answer."""
    (folder / "hard.yaml").write_text(starter("Hard"), encoding="utf-8")
    command = [sys.executable, "-c", ENDLESS, "build", "hard.yaml", "--out", "out", *more]
    return subprocess.Popen(
        command, cwd=folder, text=True, encoding="utf-8",
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path), "PYTHONIOENCODING": "utf-8"},
        stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip


windows = pytest.mark.skipif(sys.platform == "win32", reason="no SIGINT to a single process")


@windows
def test_ctrl_c_builds_with_the_best_so_far(tmp_path):
    build = started(tmp_path)
    assert build.stdout.readline() == "searching\n"
    build.send_signal(signal.SIGINT)
    out, err = build.communicate(timeout=120)
    assert build.returncode == 0, err
    assert ENDED in err
    assert "Wrote out" in out
    assert "birch ply 12: 3 sheets; no fewer than 2 by bound" in out
    told = (tmp_path / "out" / "findings.json").read_text(encoding="utf-8")
    assert "not the same next time" in told
    assert (tmp_path / "out" / "nesting.csv").stat().st_size > 200


@windows
def test_ctrl_c_twice_ends_it_and_leaves_the_former_export(tmp_path):
    former = tmp_path / "out"
    former.mkdir()
    (former / "cutlist.csv").write_text("former", encoding="utf-8")
    ours = '{"written_by": "fitout", "format": 1, "files": ["cutlist.csv"]}'
    (former / "fitout-export.json").write_text(ours, encoding="utf-8")
    build = started(tmp_path)
    assert build.stdout.readline() == "searching\n"
    build.send_signal(signal.SIGINT)
    while ENDED not in build.stderr.readline():
        pass
    build.send_signal(signal.SIGINT)
    _, err = build.communicate(timeout=120)
    assert build.returncode == 130, err
    assert "Traceback" not in err
    assert err.splitlines()[-1] == "fitout: stopped."
    assert [p.name for p in tmp_path.iterdir() if p.is_dir()] == ["out"]
    assert {p.name: p.read_text(encoding="utf-8") for p in former.iterdir()} == {
        "cutlist.csv": "former",
        "fitout-export.json": ours,
    }


def test_a_time_limit_builds_with_the_best_so_far(tmp_path):
    build = started(tmp_path, "--seconds", "1")
    _, err = build.communicate(timeout=120)
    assert build.returncode == 0, err
    assert "1 sheet so far" in err or "sheets so far" in err
    assert ENDED in err
