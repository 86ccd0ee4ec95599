"""Straps that hold a tank in its cradle or a fridge on its tray.

A strap runs over the thing in a loop. Upwards both its legs pull. Where no fence stands in the
way, the thing slips by about the thickness of its base, until the strap's leg at its foot pulls
at 45 degrees: a strap then holds cos 45° of its tension. Friction is not counted on.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator
from dataclasses import dataclass

from fitout.checks.restraint_cases import CRASH_SOURCE, NO_APPROVAL, Case, crash, everyday
from fitout.checks.subject import Subject
from fitout.checks.verdict import at_most, remark
from fitout.mechanics.boards import STANDARD_GRAVITY
from fitout.mechanics.bolts import Basis
from fitout.model.finding import Finding, Severity
from fitout.model.hardware import Article
from fitout.model.item import Item
from fitout.model.module import Module

BREAKS = 2.0
"""A lashing bears at least twice its lashing capacity before it breaks: EN 12195-2 (from
memory)."""

SLANTED = math.cos(math.radians(45.0))
STOPS = {"rear": ("rear fence", "rear stop"), "front": ("front fence", "front stop")}
SOURCE = (
    "statics of a loop strap, no friction; lashing capacity by its label, EN 12195-2, from memory"
)


@dataclass(frozen=True, slots=True)
class Strapped:
    """A thing of `mass_kg` under `count` straps; `fenced` are the ends that a stop holds."""

    module: Module
    item: Item
    mass_kg: float
    strap: Article
    count: int
    fenced: frozenset[str]

    def tension_n(self, case: Case) -> float:
        """The tension of each strap in a case, N."""
        weight = self.mass_kg * STANDARD_GRAVITY
        up = weight * (case.g * case.way[2] - case.weight)
        pull = max(0.0, up) / (2.0 * self.count)
        end = "front" if case.way[0] > 0.0 else "rear"
        if case.way[0] and end not in self.fenced:
            pull += weight * case.g * abs(case.way[0]) / (self.count * SLANTED)
        return pull

    def holds_n(self, basis: Basis) -> float | None:
        """What a strap holds, None where its label has not been read."""
        rating = self.strap.rating_n
        return None if rating is None else rating * (1.0 if basis == "working" else BREAKS)


def strapped(subject: Subject) -> Iterator[Strapped]:
    """The things held by straps, by module."""
    articles = subject.setting.catalogue.articles
    for module in subject.fitout.modules:
        lines = [h for h in module.hardware if articles.get(h.article, None) is not None]
        straps = [h for h in lines if articles[h.article].kind == "strap"]
        held = [i for i in module.items if not i.article]
        if not straps or len(held) != 1:
            continue
        fenced = frozenset(
            end
            for end, names in STOPS.items()
            if any(p.name.startswith(names) for p in module.panels)
        )
        item = held[0]
        mass = item.mass_kg + item.contents_kg
        count = sum(h.quantity for h in straps)
        yield Strapped(module, item, mass, articles[straps[0].article], count, fenced)


def check_straps(subject: Subject) -> Iterator[Finding]:
    """Each strapped thing on the road and in the crash; what its straps must bear if unknown."""
    for thing in strapped(subject):
        road = max(everyday(subject), key=thing.tension_n)
        if thing.strap.rating_n is None:
            yield _unknown(subject, thing, road)
            continue
        yield _held(thing, road, "strap", road.source)
        thrown = max(crash(subject), key=thing.tension_n, default=None)
        if thrown is not None:
            found = _held(thing, thrown, "strap in a crash", CRASH_SOURCE)
            if found.severity is Severity.FAIL:
                found = dataclasses.replace(found, severity=Severity.CAUTION)
            yield found


def _unknown(subject: Subject, thing: Strapped, road: Case) -> Finding:
    thrown = max((thing.tension_n(c) for c in crash(subject)), default=0.0) / BREAKS
    wanted = [
        f"{tension / 10.0:.0f} daN {when}"
        for tension, when in ((thing.tension_n(road), "on the road"), (thrown, "in the crash case"))
        if tension
    ]
    asked = " and ".join(wanted) or "next to nothing"
    sentence = (
        f"What the {thing.count} x {thing.strap.key} of {thing.item.id} hold is not known: each "
        f"must have a lashing capacity (LC on its label) of {asked}. Enter it as `rating_n` under "
        f"`catalogue: articles:`. {NO_APPROVAL}"
    )
    return remark("strap", thing.item.id, Severity.UNCHECKED, sentence, SOURCE)


def _held(thing: Strapped, case: Case, code: str, source: str) -> Finding:
    tension, holds = thing.tension_n(case), thing.holds_n(case.basis)
    assert holds is not None
    share = tension / holds
    start = "In our own prudent crash case " if case.basis == "ultimate" else ""
    sentence = (
        f"{start}{thing.item.id} ({thing.mass_kg:.0f} kg), {case.words}, pulls each of its "
        f"{thing.count} straps with {tension:.0f} N, {100.0 * share:.0f} % of what they hold."
    )
    if share > 1.0:
        needed = math.ceil(thing.count * share)
        sentence += (
            f" {needed} such straps would hold it, or {thing.count} with a lashing capacity of "
            f"{tension / (10.0 * holds / (thing.strap.rating_n or 1.0)):.0f} daN."
        )
    where = thing.item.id
    sentence = f"{sentence} {NO_APPROVAL}"
    return at_most(code, where, 100.0 * share, 100.0, "%", sentence, f"{source}; {SOURCE}")
