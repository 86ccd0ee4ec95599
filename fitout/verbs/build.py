"""`fitout build DESIGN`: everything to make the fit-out from, into one folder."""

from __future__ import annotations

import argparse
import json
import sys
import textwrap
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from fitout.documents.findings import findings_object
from fitout.terminal import ProgressBar, watched_plan
from fitout.verbs.declaring import Verbs, verb
from fitout.verbs.saying import FAILED, PASSED, WIDTH, summary

if TYPE_CHECKING:
    from fitout.workflow import Evaluation


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
    parser.add_argument("--json", action="store_true", help="print one JSON object")


def run(options: argparse.Namespace) -> int:
    """Write the export folder, whole or not at all."""
    from fitout import workflow
    from fitout.documents.contents import OF_THE_DOSSIER, OF_THE_FITOUT
    from fitout.documents.crew import MOST, spare_cores
    from fitout.documents.export import ExportError

    design = workflow.load(options.design)
    target = options.out or Path("exports") / Path(options.design).stem
    documents = len(OF_THE_FITOUT) + len(OF_THE_DOSSIER)
    bar = ProgressBar(documents + workflow.STEPS_BESIDE)
    processes = 1 + min(spare_cores(), MOST)
    nesting = partial(watched_plan, most_s=options.seconds, quiet=options.json)
    try:
        with bar.shown():
            evaluation = workflow.build(design, target, bar.tell, nesting, processes)
    except workflow.RefusedError as refused:
        if options.json and refused.evaluation is not None:
            print(json.dumps(_told(refused.evaluation, None), indent=1))
        for row in f"fitout: {refused}".splitlines():
            print(textwrap.fill(row, WIDTH, subsequent_indent="    "), file=sys.stderr)
        return FAILED
    except ExportError as error:
        print(f"fitout: {error}", file=sys.stderr)
        return FAILED
    if options.json:
        print(json.dumps(_told(evaluation, target), indent=1))
        return PASSED
    counts = evaluation.totals
    told = f"Wrote {target}: {counts['panels']} panels, {counts['laden_kg']} kg laden."
    print(textwrap.fill(told, WIDTH, break_long_words=False, break_on_hyphens=False))
    print(summary(evaluation))
    return PASSED


def _told(evaluation: Evaluation, target: Path | None) -> dict[str, object]:
    """What was written and what it was written with; nothing is where `target` is None."""
    from fitout.documents.export import MANIFEST

    found = findings_object(evaluation.design.name, evaluation.findings, evaluation.totals)
    if target is None:
        return {**found, "folder": None, "files": []}
    manifest = json.loads((target / MANIFEST).read_text(encoding="utf-8"))
    return {**found, "folder": str(target), "files": [MANIFEST, *manifest["files"]]}
