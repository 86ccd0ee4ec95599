"""One check per file: a pure function from the subject to findings.

A finding says what was compared with what, by how much, after which source, in one plain
sentence. What could not be checked is a finding of severity `unchecked` that says what it
needs; it is never a pass. Nothing here changes a design or removes what it fails.

To add a check: one file with a function `(Subject) -> Iterator[Finding]`, one entry in
`CHECKS`, a test file. Formulas with a source belong in `mechanics`, distances in
`clearance`; a check compares their answers with a limit and says so.
"""

from fitout.checks.findings import findings, in_order, totals
from fitout.checks.memory import Memory
from fitout.checks.subject import Subject, subject_of

__all__ = ["Memory", "Subject", "findings", "in_order", "subject_of", "totals"]
