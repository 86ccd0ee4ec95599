"""`fitout compare BEFORE AFTER`: what a change of the design changes."""

from __future__ import annotations

import argparse
import json

from fitout.verbs.declaring import Verbs, verb
from fitout.verbs.saying import PASSED, Progress


def add(verbs: Verbs) -> None:
    """Declare the verb."""
    parser = verb(
        verbs,
        "compare",
        "what parts, masses, gaps and sheets changed between two versions of a design",
        "fitout compare my-car.yaml my-car-wider.yaml",
        run,
    )
    parser.add_argument("before", help="a design file")
    parser.add_argument("after", help="another one, or a later version of it")
    parser.add_argument("--json", action="store_true", help="print one JSON object")


def run(options: argparse.Namespace) -> int:
    """Evaluate and nest both, and say what differs."""
    from fitout import workflow
    from fitout.answers.compare import compared
    from fitout.answers.telling import difference_lines, difference_object
    from fitout.checks import Memory

    memory, found = Memory(), []
    with Progress() as progress:
        for file in (options.before, options.after):
            options.design = file  # Faults are told with the file they stand in.
            evaluation = workflow.evaluate(workflow.load(file), memory, progress.checks)
            progress.tell(f"nesting the sheets of {file}")
            found.append((evaluation, workflow.plan(evaluation)))
    (before, old_plan), (after, new_plan) = found
    difference = compared(before, after, (old_plan, new_plan))
    if options.json:
        told = {"before": options.before, "after": options.after, **difference_object(difference)}
        print(json.dumps(told, indent=1))
    else:
        print("\n".join(difference_lines(difference)))
    return PASSED
