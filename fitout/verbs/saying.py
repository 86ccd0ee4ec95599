"""How findings and faults are said in the terminal: within 80 columns, the worst first."""

from __future__ import annotations

import os
import sys
import textwrap
import time
from functools import cache
from threading import Event, Lock, Thread
from typing import TYPE_CHECKING, TextIO

from fitout.model.fault import DesignError
from fitout.model.finding import Finding, Severity
from fitout.terminal import PATIENCE_S, StatusLine

if TYPE_CHECKING:
    from fitout.workflow import Evaluation

PASSED, FAILED, FAULTY = 0, 1, 2
"""Exit codes: nothing fails, something does, the design file (or the command) is at fault."""

MARKS = {
    Severity.FAIL: "FAIL",
    Severity.CAUTION: "caution",
    Severity.UNCHECKED: "unchecked",
    Severity.PASS: "pass",
}
WIDTH = 80
BLINK_S = 0.25
"""How often that word is written anew."""

NO_APPROVAL = "This is no approval under any regulation."


COLOURS = {
    Severity.FAIL: "1;31",
    Severity.CAUTION: "33",
    Severity.UNCHECKED: "36",
    Severity.PASS: "32",
}
"""What a terminal is told to write a mark in: bold red, yellow, cyan, green (ECMA-48)."""


def coloured(text: str, severity: Severity) -> str:
    """The text in the colour of a severity, where standard output shows colours."""
    return f"\033[{COLOURS[severity]}m{text}\033[0m" if shows_colours(sys.stdout) else text


def shows_colours(stream: TextIO) -> bool:
    """Whether a stream is a terminal that shows colours and nobody asked for none.

    NO_COLOR, if it says anything, asks for none; else FORCE_COLOR asks for them everywhere.
    """
    if os.environ.get("NO_COLOR"):
        return False
    if os.environ.get("FORCE_COLOR"):
        return True
    if os.environ.get("TERM") == "dumb" or not stream.isatty():
        return False
    return _console_ready()


@cache
def _console_ready() -> bool:
    """Whether the console takes colours; one of Windows is asked to, and may not be able to."""
    if sys.platform == "win32":
        import ctypes

        output, virtual_terminal = -11, 0x0004
        kernel, mode = ctypes.windll.kernel32, ctypes.c_ulong()
        handle = kernel.GetStdHandle(output)
        shown = kernel.GetConsoleMode(handle, ctypes.byref(mode))
        return bool(shown and kernel.SetConsoleMode(handle, mode.value | virtual_terminal))
    else:  # noqa: RET505 (so that each platform's type check sees its own half)
        return True


class Progress:
    """Says on a terminal what is being done, once that has taken longer than a second.

    A thread of its own keeps the seconds going, so that one long step is no silence.
    """

    def __init__(self) -> None:
        self._begin = time.monotonic()
        self._what = "checking"
        self._line = StatusLine()
        self._lock = Lock()
        self._ended = Event()
        self._clock: Thread | None = None

    def __enter__(self) -> Progress:
        if sys.stderr.isatty():
            self._clock = Thread(target=self._go_on, daemon=True)
            self._clock.start()
        return self

    def __exit__(self, *_: object) -> None:
        if self._clock is None:
            return
        self._ended.set()
        self._clock.join()
        self._line.wipe()

    def tell(self, what: str) -> None:
        """What is being done now; the line before is written over."""
        self._what = what
        if self._clock is not None:
            self._show()

    def checks(self, what: str) -> None:
        """The same for what is being checked."""
        self.tell(f"checking {what}")

    def _go_on(self) -> None:
        while not self._ended.wait(BLINK_S):
            self._show()

    def _show(self) -> None:
        past = time.monotonic() - self._begin
        if past < PATIENCE_S:
            return
        with self._lock:
            end = f" … {past:.0f} s"
            self._line.write(f"fitout: {self._what}"[: WIDTH - 1 - len(end)] + end)


def say_faults(error: DesignError, file: str) -> None:
    """Every fault with its line of the file, on the error stream."""
    from fitout.design_file import file_text, show_faults

    try:
        text = file_text(file)
    except DesignError:
        text = ""
    print(show_faults(error, text, file), file=sys.stderr)


def say_findings(evaluation: Evaluation, *, short: bool = False) -> None:
    """Every finding, or only those that don't pass, and the count of each kind."""
    print(f"{textwrap.fill(evaluation.design.name, WIDTH)}\n")
    for finding in evaluation.findings:
        if not (short and finding.severity is Severity.PASS):
            print(line(finding))
    print(f"\n{summary(evaluation)}")


def line(finding: Finding) -> str:
    """One finding; entries to paste stand on lines of their own."""
    mark = f"{MARKS[finding.severity]:<9} "
    text, *entries = f"{finding.code}: {finding.sentence}".splitlines()
    room = " " * len(mark)
    # Entries to paste stand on lines of their own and are not broken.
    said = textwrap.fill(text, WIDTH, initial_indent=mark, subsequent_indent=room)
    lines = [coloured(mark, finding.severity) + said[len(mark) :]]
    return "\n".join([*lines, *(f"{room}{entry}" for entry in entries)])


def summary(evaluation: Evaluation) -> str:
    """The verdict in a sentence."""
    counts = evaluation.totals
    verdict = "Nothing fails" if evaluation.passed else f"Failing: {counts['fail']}"
    text = (
        f"{verdict}; passing: {counts['pass']}; cautions: {counts['caution']}; "
        f"not checked: {counts['unchecked']}. {NO_APPROVAL}"
    )
    said = textwrap.fill(text, WIDTH)
    severity = Severity.PASS if evaluation.passed else Severity.FAIL
    return coloured(verdict, severity) + said[len(verdict) :]
