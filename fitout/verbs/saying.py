"""How findings and faults are said in the terminal: within 80 columns, the worst first."""

from __future__ import annotations

import sys
import textwrap
import time
from dataclasses import dataclass

from fitout import workflow
from fitout.design_file import file_text, show_faults
from fitout.model.fault import DesignError
from fitout.model.finding import Finding, Severity

PASSED, FAILED, FAULTY = 0, 1, 2
"""Exit codes: nothing fails, something does, the design file (or the command) is at fault."""

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


def say_faults(error: DesignError, file: str) -> None:
    """Every fault with its line of the file, on the error stream."""
    try:
        text = file_text(file)
    except DesignError:
        text = ""
    print(show_faults(error, text, file), file=sys.stderr)


def say_findings(evaluation: workflow.Evaluation) -> None:
    """Every finding and the count of each kind."""
    print(f"{textwrap.fill(evaluation.design.name, WIDTH)}\n")
    for finding in evaluation.findings:
        print(line(finding))
    print(f"\n{summary(evaluation)}")


def line(finding: Finding) -> str:
    """One finding; entries to paste stand on lines of their own."""
    mark = f"{MARKS[finding.severity]:<9} "
    text, *entries = f"{finding.code}: {finding.sentence}".splitlines()
    room = " " * len(mark)
    # Entries to paste stand on lines of their own and are not broken.
    lines = [textwrap.fill(text, WIDTH, initial_indent=mark, subsequent_indent=room)]
    return "\n".join([*lines, *(f"{room}{entry}" for entry in entries)])


def summary(evaluation: workflow.Evaluation) -> str:
    """The verdict in a sentence."""
    counts = evaluation.totals
    verdict = "Nothing fails" if evaluation.passed else f"Failing: {counts['fail']}"
    text = (
        f"{verdict}; passing: {counts['pass']}; cautions: {counts['caution']}; "
        f"not checked: {counts['unchecked']}. {NO_APPROVAL}"
    )
    return textwrap.fill(text, WIDTH)
