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
        threading.Thread(target=self._read, daemon=True).start()

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
    process.process.kill()
    process.process.wait()


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
