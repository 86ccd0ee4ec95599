"""The command line: verbs, printing and exit codes; no arithmetic."""

from __future__ import annotations

import argparse
import json
import os
import sys
import textwrap
import time
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from fitout import __version__, workflow
from fitout.design_file import file_text, new_design, show_faults
from fitout.documents.findings import faults_object
from fitout.model.fault import DesignError
from fitout.model.finding import Finding, Severity
from fitout.survey.bodies import BODIES
from fitout.terminal import watched_plan

PASSED, FAILED, FAULTY = 0, 1, 2
STOPPED, UNHEARD = 130, 141
"""What shells report for a program ended by Ctrl-C, or by the end of its reader."""

MARKS = {
    Severity.FAIL: "FAIL",
    Severity.CAUTION: "caution",
    Severity.UNCHECKED: "unchecked",
    Severity.PASS: "pass",
}
WIDTH = 80
PATIENCE_S = 1.0
"""How long someone at a terminal is left without a word."""

NO_APPROVAL = "This is no approval under any regulation."


@dataclass(slots=True)
class Progress:
    """Says on a terminal what is being done once that has taken longer than a second."""

    start: float
    width: int = 0

    def tell(self, what: str) -> None:
        """What is being done now; the line before is written over."""
        if time.monotonic() - self.start > PATIENCE_S and sys.stderr.isatty():
            line = f"fitout: checking {what} …"
            print(f"\r{line:<{self.width}}", end="", file=sys.stderr, flush=True)
            self.width = len(line)

    def done(self) -> None:
        """Wipe the line."""
        if self.width:
            print(f"\r{'':<{self.width}}\r", end="", file=sys.stderr, flush=True)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a verb; returns the exit code: 0 all pass, 1 some fail, 2 the design is at fault."""
    for stream in (sys.stdout, sys.stderr):
        # Findings hold ° and ×; a console that can't show them must not end in a traceback.
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    options = _parser().parse_args(arguments)
    try:
        code: int = options.run(options)
        sys.stdout.flush()
    except DesignError as error:
        if getattr(options, "json", False):
            print(json.dumps(faults_object(options.design, error), indent=1))
        _say_faults(error, options.design)
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


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="fitout",
        description="Measured cargo bay in; a checked fit-out and its cut files out.",
        epilog="Start with `fitout new my-car`, then `fitout check my-car.yaml`.",
    )
    parser.add_argument("--version", action="version", version=f"fitout {__version__}")
    verbs = parser.add_subparsers(title="verbs", required=True, metavar="VERB")

    new = verbs.add_parser("new", help="write a commented starter design")
    new.add_argument("name", help="the design's name; the file is NAME.yaml")
    new.set_defaults(run=_new)

    check = verbs.add_parser("check", help="every finding: fit, clearances, mass, loads")
    check.add_argument("design", help="a design file")
    check.add_argument("--json", action="store_true", help="print one JSON object")
    check.set_defaults(run=_check)

    trip = verbs.add_parser(
        "trip",
        help="each day of a trip: masses, axle loads, water, battery, fuel",
        epilog="For example `fitout trip my-car.yaml --trip 'long weekend'`.",
    )
    trip.add_argument("design", help="a design file with `trips`")
    trip.add_argument("--trip", metavar="NAME", help="this one only")
    trip.add_argument("--json", action="store_true", help="print one JSON object")
    trip.set_defaults(run=_trip)

    survey = verbs.add_parser(
        "survey", help="how sure the bay is: which note looks wrong, what to measure next"
    )
    survey.add_argument("design", nargs="?", help="a design file; not needed with --body")
    survey.add_argument("--json", action="store_true", help="print one JSON object")
    survey.add_argument(
        "--sheet", type=Path, metavar="PDF", help="write a sheet to measure with, and no more"
    )
    survey.add_argument("--body", choices=BODIES, help="a sheet for this kind of body")
    survey.set_defaults(run=_survey)

    build = verbs.add_parser("build", help="write cut list, cut files, sheets and the rest")
    build.add_argument("design", help="a design file")
    build.add_argument("--out", type=Path, help="folder to write (exports/NAME otherwise)")
    build.add_argument(
        "--seconds",
        type=int,
        metavar="N",
        help="nest for so long at most and take the best so far; Ctrl-C does the same",
    )
    build.set_defaults(run=_build)
    return parser


def _new(options: argparse.Namespace) -> int:
    try:
        path = new_design(options.name, Path.cwd())
    except FileExistsError as error:
        print(f"fitout: {error.filename} is there already; nothing was written.", file=sys.stderr)
        return FAILED
    except (ValueError, OSError) as error:
        print(f"fitout: {error}; nothing was written.", file=sys.stderr)
        return FAILED
    print(f"Wrote {path.name}. Next: measure, edit it, and run `fitout check {path.name}`.")
    return PASSED


def _check(options: argparse.Namespace) -> int:
    design, progress = workflow.load(options.design), Progress(time.monotonic())
    try:
        evaluation = workflow.evaluate(design, told=progress.tell)
    finally:
        progress.done()
    if options.json:
        # Plain ASCII: whatever encoding the pipe has, the reader gets every letter back.
        print(json.dumps(evaluation.as_object(), indent=1))
    else:
        _say_findings(evaluation)
    return PASSED if evaluation.passed else FAILED


def _survey(options: argparse.Namespace) -> int:
    if options.sheet is not None and (options.design or options.body):
        return _sheet(options)
    if options.design is None or options.body:
        print("fitout: survey needs a design, or --sheet PDF with --body.", file=sys.stderr)
        return FAULTY
    from fitout.documents.survey_table import survey_object, survey_text

    report = workflow.survey_report(workflow.evaluate(workflow.load(options.design)))
    if options.json:
        print(json.dumps(survey_object(report), indent=1))
    else:
        print(survey_text(report), end="")
    return PASSED if report.consistent else FAILED


def _trip(options: argparse.Namespace) -> int:
    from fitout.documents.trip_table import trips_object, trips_text

    design = workflow.load(options.design)
    try:
        reports = workflow.trips(design, options.trip)
    except workflow.RefusedError as refused:
        print(textwrap.fill(f"fitout: {refused}", WIDTH), file=sys.stderr)
        return FAILED
    if options.json:
        print(json.dumps(trips_object(design.name, reports), indent=1))
        return PASSED if all(report.passed for report in reports) else FAILED
    print(f"{textwrap.fill(design.name, WIDTH)}\n")
    for report in reports:
        print(f"{trips_text([report])}\n")
        for finding in report.findings:
            print(_line(finding))
        verdict = f"Trip {report.plan.name}: {'nothing fails' if report.passed else 'it fails'}"
        print(f"\n{textwrap.fill(f'{verdict}. {NO_APPROVAL}', WIDTH)}\n")
    return PASSED if all(report.passed for report in reports) else FAILED


def _sheet(options: argparse.Namespace) -> int:
    if options.body:
        bay, name = BODIES[options.body], f"a {options.body}"
    else:
        design = workflow.load(options.design)
        bay, name = design.bay, design.name
    try:
        options.sheet.write_bytes(workflow.measuring_sheet(bay, name))
    except OSError as error:
        print(f"fitout: {error}; nothing was written.", file=sys.stderr)
        return FAILED
    print(f"Wrote {options.sheet}. Print it on A4, and take tape, level and batten along.")
    return PASSED


def _build(options: argparse.Namespace) -> int:
    from fitout.documents.export import ExportError

    design = workflow.load(options.design)
    target = options.out or Path("exports") / Path(options.design).stem
    try:
        evaluation = workflow.build(
            design, target, _progress, partial(watched_plan, most_s=options.seconds)
        )
    except workflow.RefusedError as refused:
        for line in f"fitout: {refused}".splitlines():
            print(textwrap.fill(line, WIDTH, subsequent_indent="    "), file=sys.stderr)
        return FAILED
    except ExportError as error:
        print(f"fitout: {error}", file=sys.stderr)
        return FAILED
    counts = evaluation.totals
    print(f"Wrote {target}: {counts['panels']} panels, {counts['laden_kg']} kg laden.")
    print(_summary(evaluation))
    return PASSED


def _progress(step: str) -> None:
    print(f"… {step}", file=sys.stderr, flush=True)


def _say_faults(error: DesignError, file: str) -> None:
    try:
        text = file_text(file)
    except DesignError:
        text = ""
    print(show_faults(error, text, file), file=sys.stderr)


def _say_findings(evaluation: workflow.Evaluation) -> None:
    print(f"{textwrap.fill(evaluation.design.name, WIDTH)}\n")
    for finding in evaluation.findings:
        print(_line(finding))
    print(f"\n{_summary(evaluation)}")


def _line(finding: Finding) -> str:
    mark = f"{MARKS[finding.severity]:<9} "
    text, *entries = f"{finding.code}: {finding.sentence}".splitlines()
    room = " " * len(mark)
    # Entries to paste stand on lines of their own and are not broken.
    lines = [textwrap.fill(text, WIDTH, initial_indent=mark, subsequent_indent=room)]
    return "\n".join([*lines, *(f"{room}{entry}" for entry in entries)])


def _summary(evaluation: workflow.Evaluation) -> str:
    counts = evaluation.totals
    verdict = "Nothing fails" if evaluation.passed else f"Failing: {counts['fail']}"
    text = (
        f"{verdict}; passing: {counts['pass']}; cautions: {counts['caution']}; "
        f"not checked: {counts['unchecked']}. {NO_APPROVAL}"
    )
    return textwrap.fill(text, WIDTH)
