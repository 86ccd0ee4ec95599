"""What is told while nesting takes its time, and how Ctrl-C or a time limit ends it.

At a terminal one line is written over and over; elsewhere lines follow each other, and only for
what takes longer than a second. The first Ctrl-C lets nesting end with the best so far, the
next ends the program.
"""

from __future__ import annotations

import signal
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from threading import Lock
from types import FrameType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fitout.cutting.plan import CutPlan
    from fitout.cutting.search import Progress
    from fitout.model.stock import Board
    from fitout.workflow import Evaluation

PATIENCE_S = 1.0
"""How long nothing is told."""

AGAIN_S = 10.0
"""How long a plain line that says the same is held back."""

BLINK_S = 0.2
"""How often the line at a terminal is written anew."""

ENDED = "stopped: best so far, not the same next time"


@dataclass(slots=True)
class StatusLine:
    """One line at the foot of a terminal that is written over again and again."""

    _width: int = 0

    def write(self, line: str) -> None:
        """Show a line in place of the one before."""
        print(f"\r{line:<{self._width}}", end="", file=sys.stderr, flush=True)
        self._width = len(line)

    def wipe(self) -> None:
        """Leave the line empty."""
        if self._width:
            print(f"\r{'':<{self._width}}\r", end="", file=sys.stderr, flush=True)
            self._width = 0


BAR = 24
"""How many letters a bar is long."""


@dataclass(slots=True)
class ProgressBar:
    """How far a work of `steps` steps has come: a bar at a terminal, plain lines elsewhere."""

    steps: int
    _done: int = 0
    _line: StatusLine = field(default_factory=StatusLine)
    _alone: Lock = field(default_factory=Lock)

    def tell(self, step: str) -> None:
        """The next step begins; may be told by several threads."""
        with self._alone:
            if not sys.stderr.isatty():
                print(f"… {step}", file=sys.stderr, flush=True)
                return
            full = round(BAR * min(self._done, self.steps) / self.steps)
            self._line.write(f"fitout: [{'=' * full}{' ' * (BAR - full)}] {step} …")
            self._done += 1

    @contextmanager
    def shown(self) -> Iterator[None]:
        """While the work goes on; whatever comes of it, the line is left empty."""
        try:
            yield
        finally:
            self._line.wipe()


@dataclass(slots=True)
class Watch:
    """Hears how nesting goes, tells of it, and ends it when asked or after `most_s` seconds."""

    most_s: float | None = None
    begin: float = field(default_factory=time.monotonic)
    asked: bool = False
    _what: str = ""
    _told: str = ""
    _when: float = float("-inf")
    _line: StatusLine = field(default_factory=StatusLine)

    def progress(self, board: Board, now: Progress) -> None:
        """What a search has found for a board so far."""
        sheets = f"{now.sheets} sheet{'' if now.sheets == 1 else 's'} so far"
        # With one size to buy, a sheet counts as one: the least cost is how few there can be.
        share = min(1.0, now.least_cost / now.cost) if now.cost > 0.0 else 1.0
        bound = (
            f"no fewer than {now.least_cost:.0f} by bound"
            if now.cost == now.sheets
            else f"no less than {100.0 * share:.0f} % of their cost by bound"
        )
        self._what = f"{board.key}: {sheets}, {bound}"
        self.check()

    def check(self) -> None:
        """Tell of it if it is time to; raises `Enough` once nesting shall end."""
        now = time.monotonic()
        self._tell(now)
        if self.asked or (self.most_s is not None and now - self.begin > self.most_s):
            from fitout.cutting.beam import Enough

            raise Enough

    def _tell(self, now: float) -> None:
        past = now - self.begin
        if past < PATIENCE_S or not self._what:
            return
        since = now - self._when
        terminal = sys.stderr.isatty()
        if since < (BLINK_S if terminal else PATIENCE_S):
            return
        if not terminal and self._what == self._told and since < AGAIN_S:
            return
        self._told, self._when = self._what, now
        line = f"nesting {self._what}, {past:.0f} s"
        if terminal:
            self._line.write(f"fitout: {line}; Ctrl-C takes it")
        else:
            print(f"… {line}", file=sys.stderr, flush=True)

    def _interrupted(self, number: int, frame: FrameType | None) -> None:  # noqa: ARG002
        """The first Ctrl-C is kept in mind; the next is one like any other."""
        if self.asked:
            raise KeyboardInterrupt
        self.asked = True

    @contextmanager
    def watching(self) -> Iterator[Watch]:
        """While nesting goes on: the clock runs from here, and Ctrl-C is caught."""
        self.begin = time.monotonic()
        try:
            before = signal.signal(signal.SIGINT, self._interrupted)
        except ValueError:
            # Signals are the main thread's alone; elsewhere nothing is caught.
            yield self
            return
        try:
            yield self
        finally:
            signal.signal(signal.SIGINT, before)
            self._line.wipe()


def watched_plan(
    evaluation: Evaluation, most_s: float | None = None, quiet: bool = False
) -> CutPlan:
    """The cut list and nested sheets, told of while they are searched for.

    What was found goes to standard output, unless that shall be kept for data (`quiet`).
    Ended by Ctrl-C, or after `most_s` seconds or as many as the design says, with the best so far.
    """
    from fitout import workflow
    from fitout.cutting.nest import Effort
    from fitout.cutting.purchases import sheets_sentence

    watch = Watch(evaluation.design.cutting.nesting_seconds if most_s is None else most_s)
    with watch.watching():
        effort = Effort(progress=watch.progress, check=watch.check)
        cuts = workflow.plan(evaluation, effort)
    for use in cuts.boards:
        if use.sheets and not quiet:
            print(f"{use.board.key}: {sheets_sentence(use, evaluation.design.stock.currency)}")
    if cuts.stopped:
        print(f"… {ENDED}", file=sys.stderr, flush=True)
    return cuts
