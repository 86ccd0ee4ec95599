"""`fitout trip DESIGN`: each day of each trip."""

from __future__ import annotations

import argparse
import json
import sys
import textwrap

from fitout.verbs.declaring import Verbs, verb
from fitout.verbs.saying import FAILED, NO_APPROVAL, PASSED, WIDTH, Progress, line


def add(verbs: Verbs) -> None:
    """Declare the verb."""
    parser = verb(
        verbs,
        "trip",
        "each day of a trip: masses, axle loads, water, battery, fuel",
        "fitout trip my-car.yaml --trip 'long weekend'",
        run,
    )
    parser.add_argument("design", help="a design file with `trips`")
    parser.add_argument("--trip", metavar="NAME", help="this one only")
    parser.add_argument("--json", action="store_true", help="print one JSON object")


def run(options: argparse.Namespace) -> int:
    """Go through each trip, or the one asked for."""
    from fitout import workflow
    from fitout.documents.trip_table import trips_object, trips_text

    design = workflow.load(options.design)
    try:
        with Progress() as progress:
            reports = workflow.trips(design, options.trip, progress.checks)
    except workflow.RefusedError as refused:
        print(textwrap.fill(f"fitout: {refused}", WIDTH), file=sys.stderr)
        return FAILED
    code = PASSED if all(report.passed for report in reports) else FAILED
    if options.json:
        print(json.dumps(trips_object(design.name, reports), indent=1))
        return code
    print(f"{textwrap.fill(design.name, WIDTH)}\n")
    for report in reports:
        print(f"{trips_text([report])}\n")
        for finding in report.findings:
            print(line(finding))
        verdict = f"Trip {report.plan.name}: {'nothing fails' if report.passed else 'it fails'}"
        print(f"\n{textwrap.fill(f'{verdict}. {NO_APPROVAL}', WIDTH)}\n")
    return code
