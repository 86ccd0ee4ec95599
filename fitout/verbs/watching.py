"""`fitout check DESIGN --watch`: checked again on each save, and what changed is said."""

from __future__ import annotations

import json
import time
from pathlib import Path

from fitout import workflow
from fitout.answers.compare import Difference, compared
from fitout.answers.telling import difference_lines, difference_object
from fitout.checks import Memory
from fitout.model.fault import DesignError
from fitout.verbs.saying import PASSED, say_faults, say_findings, summary
from fitout.workflow import Evaluation

LOOK_S = 0.05
"""How often the file is looked at."""


def watch(file: str, as_json: bool) -> int:
    """Check, then again whenever the file changes, until Ctrl-C."""
    memory, last, seen = Memory(), None, _state(file)
    try:
        last = _checked(file, memory, None, as_json)
        _wait_line(file, as_json)
        while True:
            time.sleep(LOOK_S)
            now = _state(file)
            if now == seen or now is None:
                continue
            seen = now
            last = _checked(file, memory, last, as_json) or last
            _wait_line(file, as_json)
    except KeyboardInterrupt:
        if not as_json:
            print("\nNo longer watching.")
        return PASSED


def _state(file: str) -> tuple[int, int] | None:
    """What changes when the file is saved; None while an editor is putting it in place."""
    try:
        stat = Path(file).stat()
    except OSError:
        return None
    return stat.st_mtime_ns, stat.st_size


def _checked(
    file: str, memory: Memory, last: Evaluation | None, as_json: bool
) -> Evaluation | None:
    """The evaluation of the file as it is now; None while it is at fault."""
    start = time.monotonic()
    try:
        evaluation = workflow.evaluate(workflow.load(file), memory)
    except DesignError as error:
        if as_json:
            print(json.dumps({"faults": len(error.faults)}), flush=True)
        say_faults(error, file)
        return None
    took = time.monotonic() - start
    if last is None and not as_json:
        say_findings(evaluation)
        return evaluation
    difference = compared(last or evaluation, evaluation)
    if as_json:
        told = {"passed": evaluation.passed, **difference_object(difference)}
        print(json.dumps(told), flush=True)
    else:
        _say(difference, evaluation, took)
    return evaluation


def _say(difference: Difference, evaluation: Evaluation, took: float) -> None:
    print(f"\nSaved; checked in {took:.2f} s.")
    print("\n".join(difference_lines(difference)))
    print(summary(evaluation))


def _wait_line(file: str, as_json: bool) -> None:
    if not as_json:
        print(f"Watching {file}; Ctrl-C ends.", flush=True)
