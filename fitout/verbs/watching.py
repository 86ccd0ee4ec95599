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
from fitout.verbs.saying import PASSED, Progress, say_faults, say_findings, summary
from fitout.workflow import Evaluation

LOOK_S = 0.05
"""How often the file is looked at."""


def watch(file: str, as_json: bool) -> int:
    """Check, then again whenever the file changes, until Ctrl-C."""
    memory, last, seen = Memory(), None, _stamps(file, None)
    try:
        while True:
            last = _checked(file, memory, last, as_json) or last
            # A file that is named only now counts as seen as it is; the others as they were.
            seen = {**_stamps(file, last), **seen}
            _wait_line(file, as_json)
            while (now := _stamps(file, last)) == seen or now[Path(file)] is None:
                time.sleep(LOOK_S)
            seen = now
    except KeyboardInterrupt:
        if not as_json:
            print("\nNo longer watching.")
        return PASSED


Stamp = tuple[int, int] | None
"""What changes when a file is saved; None while an editor is putting it in place, empty too."""


def _stamps(file: str, last: Evaluation | None) -> dict[Path, Stamp]:
    """The stamps of the design and of the files beside it that it names."""
    design = Path(file)
    beside = () if last is None else (design.parent / name for name in last.design.beside)
    return {path: _stamp(path) for path in (design, *beside)}


def _stamp(path: Path) -> Stamp:
    try:
        stat = path.stat()
    except OSError:
        return None
    return (stat.st_mtime_ns, stat.st_size) if stat.st_size else None


def _checked(
    file: str, memory: Memory, last: Evaluation | None, as_json: bool
) -> Evaluation | None:
    """The evaluation of the file as it is now; None while it is at fault."""
    start = time.monotonic()
    try:
        with Progress() as progress:
            evaluation = workflow.evaluate(workflow.load(file), memory, progress.checks)
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
