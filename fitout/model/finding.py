"""A finding: one checked fact, as data."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How a finding came out. `unchecked` is never a pass."""

    PASS = "pass"  # noqa: S105 - a verdict, not a password
    CAUTION = "caution"
    FAIL = "fail"
    UNCHECKED = "unchecked"


WORST_FIRST = (Severity.FAIL, Severity.CAUTION, Severity.UNCHECKED, Severity.PASS)
"""The order findings are told in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One checked fact.

    `code` names the check, `where` the parts it is about. `margin` is how much is left
    before the limit (negative when broken), in `unit`. `sentence` is plain English and
    complete by itself; `source` names the standard, handbook or "common practice". Gaps and
    masses carry their standard uncertainty `u`, in `unit`; gaps also the `probability` that
    they are above 0 once everything is made.
    """

    code: str
    severity: Severity
    where: str
    sentence: str
    source: str
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    margin: float | None = None
    u: float | None = None
    probability: float | None = None
