"""`fitout survey DESIGN`: how sure the bay is, and the sheet to measure with."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from fitout.verbs.declaring import Verbs, verb
from fitout.verbs.saying import FAILED, FAULTY, PASSED, Progress

BODY_NAMES = ("wagon", "hatch", "tub")
"""Kinds of body there is a sheet for (`fitout.survey.bodies`)."""


def add(verbs: Verbs) -> None:
    """Declare the verb."""
    parser = verb(
        verbs,
        "survey",
        "how sure the bay is: which note looks wrong, what to measure next",
        "fitout survey --body wagon --sheet measure.pdf",
        run,
    )
    parser.add_argument("design", nargs="?", help="a design file; not needed with --body")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.add_argument(
        "--sheet", type=Path, metavar="PDF", help="write a sheet to measure with, and no more"
    )
    parser.add_argument("--body", choices=BODY_NAMES, help="a sheet for this kind of body")


def run(options: argparse.Namespace) -> int:
    """Tell of the survey, or write the sheet."""
    if options.sheet is not None and (options.design or options.body):
        return _sheet(options)
    if options.design is None or options.body:
        print("fitout: survey needs a design, or --sheet PDF with --body.", file=sys.stderr)
        return FAULTY
    from fitout import workflow
    from fitout.answers.survey import survey_report
    from fitout.documents.survey_table import survey_object, survey_text

    with Progress() as progress:
        evaluation = workflow.evaluate(workflow.load(options.design), told=progress.checks)
        progress.tell("how sure the bay is")
        report = survey_report(evaluation)
    if options.json:
        print(json.dumps(survey_object(report), indent=1))
    else:
        print(survey_text(report), end="")
    return PASSED if report.consistent else FAILED


def _sheet(options: argparse.Namespace) -> int:
    from fitout import workflow
    from fitout.documents.measuring_sheet import measuring_sheet_pdf
    from fitout.survey.bodies import BODIES
    from fitout.survey.sheet import sheet_of

    if options.body:
        bay, name = BODIES[options.body], f"a {options.body}"
    else:
        design = workflow.load(options.design)
        bay, name = design.bay, design.name
    try:
        options.sheet.write_bytes(measuring_sheet_pdf(sheet_of(bay), name))
    except OSError as error:
        print(f"fitout: {error}; nothing was written.", file=sys.stderr)
        return FAILED
    print(f"Wrote {options.sheet}. Print it on A4, and take tape, level and batten along.")
    return PASSED
