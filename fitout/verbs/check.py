"""`fitout check DESIGN`: every finding; why one is so; again on each save."""

from __future__ import annotations

import argparse
import json
import sys

from fitout.verbs.declaring import Verbs, verb
from fitout.verbs.saying import FAILED, FAULTY, PASSED, Progress, say_findings


def add(verbs: Verbs) -> None:
    """Declare the verb."""
    parser = verb(
        verbs,
        "check",
        "every finding: fit, clearances, moving parts, mass, loads",
        "fitout check my-car.yaml --why 'tank gap'",
        run,
    )
    parser.add_argument("design", help="a design file")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    either = parser.add_mutually_exclusive_group()
    either.add_argument(
        "--why",
        metavar="WHAT",
        help="what a finding, a part or a number of the design hangs on, and by how much: "
        "the word before a finding's colon, 'module/part', or 'bay.seat_back.foot'",
    )
    either.add_argument(
        "--watch", action="store_true", help="check again on each save and say what changed"
    )
    either.add_argument("--short", action="store_true", help="leave out what passes")


def run(options: argparse.Namespace) -> int:
    """Check once, explain, or go on checking."""
    if options.short and options.json:
        print("fitout: --json prints every finding; leave --short out.", file=sys.stderr)
        return FAULTY
    if options.watch:
        from fitout.verbs.watching import watch

        return watch(options.design, options.json)
    if options.why is not None:
        from fitout.verbs.explaining import explain

        return explain(options.design, options.why, options.json)
    from fitout import workflow

    with Progress() as progress:
        evaluation = workflow.evaluate(workflow.load(options.design), told=progress.checks)
    if options.json:
        # Plain ASCII: whatever encoding the pipe has, the reader gets every letter back.
        print(json.dumps(evaluation.as_object(), indent=1))
    else:
        say_findings(evaluation, short=options.short)
    return PASSED if evaluation.passed else FAILED
