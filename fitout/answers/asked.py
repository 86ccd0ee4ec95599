"""What a builder's words ask about: a finding, a part, or a number of the design."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from fitout.answers.numbers import Figure
from fitout.answers.reckonings import reckoning
from fitout.checks.findings import CHECKS, Check
from fitout.checks.subject import Subject
from fitout.design_file import suggestion
from fitout.model.finding import WORST_FIRST, Finding


class UnknownError(Exception):
    """Nothing of that name; the message says what there is."""


@dataclass(frozen=True, slots=True)
class AskedFinding:
    """A finding, the check that tells it, its place among those of its code, and the others."""

    finding: Finding
    check: Check | None
    place: int
    others: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class AskedPart:
    """A panel, bar or item by its id."""

    part: str


@dataclass(frozen=True, slots=True)
class AskedNumber:
    """A number of the design."""

    figure: Figure


Asked = AskedFinding | AskedPart | AskedNumber


def asked(
    words: str, subject: Subject, findings: Iterable[Finding], every: Iterable[Figure]
) -> Asked:
    """What is meant by `tank gap`, `tank gap: bay/seat back`, `drawers/base`, `clearances.tank`.

    Of findings with one code the worst is taken; more words, after a colon, choose by where
    it is.

    Raises:
        UnknownError: when nothing is called so.
    """
    told = list(findings)
    by_name = {figure.name: figure for figure in every}
    if words in by_name:
        return AskedNumber(by_name[words])
    if words in subject.parts:
        return AskedPart(words)
    code, _, where = (part.strip() for part in words.partition(":"))
    of_code = [f for f in told if f.code.casefold() == code.casefold()]
    chosen = [f for f in of_code if where.casefold() in f.where.casefold()]
    if chosen:
        worst = min(chosen, key=_how_bad)
        others = tuple(f for f in of_code if f is not worst)
        check, place = _check_of(subject, worst)
        return AskedFinding(worst, check, place, others)
    raise UnknownError(_unknown(words, of_code, subject.parts, told, by_name))


def _how_bad(finding: Finding) -> tuple[int, float]:
    margin = float("inf") if finding.margin is None else finding.margin
    return WORST_FIRST.index(finding.severity), margin


def _check_of(subject: Subject, finding: Finding) -> tuple[Check | None, int]:
    """The check that tells a finding, and its place; no check where entries or nesting tell it."""
    for check in CHECKS:
        places = [f.where for f in check(subject) if f.code == finding.code]
        if finding.where in places:
            return check, places.index(finding.where)
    return None, 0


def _unknown(
    words: str,
    of_code: list[Finding],
    parts: Collection[str],
    told: list[Finding],
    numbers: Collection[str],
) -> str:
    if of_code:
        places = "; ".join(dict.fromkeys(f.where for f in of_code))
        return f"No {of_code[0].code!r} finding is about that. There are: {places}."
    code = words.partition(":")[0].strip().casefold()
    known = reckoning(code)
    if known is not None:
        return (
            f"`check` tells no {code!r} finding of this design. What it means: {known.means} "
            f"How it is reckoned: {known.formula}"
        )
    codes = list(dict.fromkeys(f.code for f in told))
    hint = suggestion(words, [*codes, *parts, *numbers])
    return (
        f"{words!r} is no finding, part or number of this design. {hint} "
        "Findings are asked for by the word before the colon, such as 'tank gap'; parts as "
        "'drawers/base'; numbers as 'bay.seat_back.foot'."
    )
