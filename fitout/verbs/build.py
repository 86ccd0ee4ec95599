"""`fitout build DESIGN`: everything to make the fit-out from, into one folder."""

from __future__ import annotations

import argparse
import sys
import textwrap
from functools import partial
from pathlib import Path

from fitout import workflow
from fitout.terminal import ProgressBar, watched_plan
from fitout.verbs.declaring import Verbs, verb
from fitout.verbs.saying import FAILED, PASSED, WIDTH, summary


def add(verbs: Verbs) -> None:
    """Declare the verb."""
    parser = verb(
        verbs,
        "build",
        "write cut list, cut files, sheets, drawings and the rest",
        "fitout build my-car.yaml --out workshop",
        run,
    )
    parser.add_argument("design", help="a design file")
    parser.add_argument("--out", type=Path, help="folder to write (exports/NAME otherwise)")
    parser.add_argument(
        "--seconds",
        type=int,
        metavar="N",
        help="nest for so long at most and take the best so far; Ctrl-C does the same",
    )


def run(options: argparse.Namespace) -> int:
    """Write the export folder, whole or not at all."""
    from fitout.documents.contents import DOCUMENTS
    from fitout.documents.export import ExportError

    design = workflow.load(options.design)
    target = options.out or Path("exports") / Path(options.design).stem
    bar = ProgressBar(len(DOCUMENTS) + workflow.STEPS_BESIDE)
    try:
        with bar.shown():
            evaluation = workflow.build(
                design, target, bar.tell, partial(watched_plan, most_s=options.seconds)
            )
    except workflow.RefusedError as refused:
        for row in f"fitout: {refused}".splitlines():
            print(textwrap.fill(row, WIDTH, subsequent_indent="    "), file=sys.stderr)
        return FAILED
    except ExportError as error:
        print(f"fitout: {error}", file=sys.stderr)
        return FAILED
    counts = evaluation.totals
    print(f"Wrote {target}: {counts['panels']} panels, {counts['laden_kg']} kg laden.")
    print(summary(evaluation))
    return PASSED
