"""The command line: which verbs there are, faults, and exit codes; each verb is in `verbs`."""

from __future__ import annotations

import argparse
import gc
import json
import os
import sys
from collections.abc import Sequence

from fitout import __version__
from fitout.documents.findings import faults_object
from fitout.model.fault import DesignError
from fitout.verbs import (
    build,
    catalogue,
    check,
    compare,
    completion,
    new,
    next_step,
    survey,
    trip,
)
from fitout.verbs.saying import FAULTY, say_faults

STOPPED, UNHEARD = 130, 141
"""What shells report for a program ended by Ctrl-C, or by the end of its reader."""

SELDOM = 100_000
"""How many things are made before garbage is looked for."""

VERBS = (new, catalogue, survey, check, trip, build, compare, completion)
"""The verbs in the order of the job."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a verb; returns the exit code: 0 all pass, 1 some fail, 2 the design is at fault."""
    # Matrices are small here: threads of the numeric libraries would cost more than they save.
    # It is asked for before the first verb loads them.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    # Nearly everything made here stays to the end: to look for garbage at every turn costs a
    # twentieth of the time.
    gc.set_threshold(SELDOM)
    for stream in (sys.stdout, sys.stderr):
        # Findings hold ° and ×; a console that can't show them must not end in a traceback.
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    options = parser().parse_args(arguments)
    try:
        code: int = options.run(options)
        sys.stdout.flush()
    except DesignError as error:
        if getattr(options, "json", False):
            print(json.dumps(faults_object(options.design, error), indent=1))
        say_faults(error, options.design)
        return FAULTY
    except BrokenPipeError:
        # Whoever read the output has seen enough, such as a pager that was left. What is
        # still in the buffer must go somewhere when the interpreter ends.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return UNHEARD
    except KeyboardInterrupt:
        print("fitout: stopped.", file=sys.stderr)
        return STOPPED
    return code


def parser() -> argparse.ArgumentParser:
    """The parser of all verbs."""
    whole = argparse.ArgumentParser(
        prog="fitout",
        description="Measured cargo bay in; a checked fit-out and its cut files out.",
        epilog="`fitout` alone says what to do next in the current folder.",
    )
    whole.add_argument("--version", action="version", version=f"fitout {__version__}")
    whole.set_defaults(run=next_step.run, whole=parser)
    verbs = whole.add_subparsers(title="verbs", metavar="VERB")
    for verb in VERBS:
        verb.add(verbs)
    return whole
