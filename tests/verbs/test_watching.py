"""A design is checked again on each save, in a process of its own."""

import os
import queue
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest
from running import ROOT

PATIENCE_S = 60.0


class Watched:
    """`fitout check --watch` going on; lines are read as they come."""

    def __init__(self, folder: Path, file: str) -> None:
        env = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": "1"}
        self.process = subprocess.Popen(
            [sys.executable, "-m", "fitout", "check", file, "--watch"],
            cwd=folder, env=env, stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
            text=True, encoding="utf-8",
        )  # fmt: skip
        self.lines: queue.Queue[str] = queue.Queue()
        self.reader = threading.Thread(target=self._read, daemon=True)
        self.reader.start()

    def end(self) -> None:
        self.process.kill()
        self.process.wait()
        self.reader.join()
        self.process.stdout.close()

    def _read(self) -> None:
        for line in self.process.stdout:
            self.lines.put(line)

    def until(self, words: str) -> str:
        """All that is printed up to a line with these words."""
        seen, end = "", time.monotonic() + PATIENCE_S
        while words not in seen:
            seen += self.lines.get(timeout=max(0.1, end - time.monotonic()))
        return seen


@pytest.fixture
def watched(van, here):
    process = Watched(here, van)
    yield process
    process.end()


def test_each_save_is_checked_and_told(watched, van, here) -> None:
    first = watched.until("Ctrl-C ends.")
    assert "Nothing fails" in first
    text = (here / van).read_text(encoding="utf-8")
    (here / van).write_text(text.replace("carries: 18 kg", "carries: 400 kg"), encoding="utf-8")
    second = watched.until("Ctrl-C ends.")
    assert "pass -> fail" in second
    assert "Failing: " in second
    (here / van).write_text(text.replace("carries: 18 kg", "carries: much"), encoding="utf-8")
    assert "expected a mass" in watched.until("Ctrl-C ends.")
    (here / van).write_text(text, encoding="utf-8")
    assert "fail -> pass" in watched.until("Ctrl-C ends.")
    if sys.platform != "win32":
        watched.process.send_signal(signal.SIGINT)
        watched.until("No longer watching.")
        assert watched.process.wait(PATIENCE_S) == 0


def test_a_save_of_the_catalogue_beside_it_counts_too(van, here) -> None:
    rows = "sheets: {my ply: {like: birch ply 12, thickness: 11.6, source: calliper}}\n"
    (here / "mine.yaml").write_text(rows, encoding="utf-8")
    text = (here / van).read_text(encoding="utf-8").replace(
        "carcass: {sheet: birch ply 12, measured: 11.8}", "carcass: my ply"
    )  # fmt: skip
    (here / van).write_text(f"{text}catalogue: mine.yaml\n", encoding="utf-8")
    watched = Watched(here, van)
    try:
        watched.until("Ctrl-C ends.")
        thinner = rows.replace("thickness: 11.6", "thickness: 8.9")
        (here / "mine.yaml").write_text(thinner, encoding="utf-8")
        assert "kg" in watched.until("Ctrl-C ends.").partition("Saved; checked")[2]
        (here / "mine.yaml").write_text("sheets: 7\n", encoding="utf-8")
        assert "mine.yaml:1:9: found 7" in watched.until("Ctrl-C ends.")
    finally:
        watched.end()
