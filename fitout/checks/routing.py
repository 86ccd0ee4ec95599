"""Whether what a router is to cut can be cut: sound outlines, hollows wide enough for the bit."""

from __future__ import annotations

import importlib.util
from collections import defaultdict
from collections.abc import Iterator
from functools import partial

from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE
from fitout.cutting.routable import crossing, enters, widest_bit
from fitout.model.finding import Finding, Severity
from fitout.model.outline import Loop
from fitout.model.panel import Panel

SQUEEZER = "spyrrow"
SOURCE = f"bit diameter against the hollow: {COMMON_PRACTICE}"


def check_routing(subject: Subject) -> Iterator[Finding]:
    """Outlines that cross themselves fail; hollows narrower than the bit are cautions by bit.

    Holes are no hollows: they are drilled.
    """
    narrow: dict[float, list[str]] = defaultdict(list)
    bit = subject.cutting.kerf
    for panel in subject.fitout.panels():
        outline = panel.outline
        at = subject.memory.recall(("crossing", outline), partial(crossing, outline))
        if at is not None:
            yield _crossed(panel, at)
        spec = subject.cutting.of(panel.board.key)
        if spec.by != "router":
            continue
        for what, loop in _hollows(panel):
            if not enters(loop, spec.kerf):
                narrow[widest_bit(loop, spec.kerf)].append(f"{what} of {panel.id}")
    for widest, places in sorted(narrow.items()):
        yield _too_narrow(places, widest, bit)
    if subject.cutting.squeeze_seconds > 0 and importlib.util.find_spec(SQUEEZER) is None:
        yield Finding(
            code="squeeze",
            severity=Severity.CAUTION,
            where="cutting",
            sentence=(
                f"`squeeze_seconds` needs `{SQUEEZER}`, which is not installed, so sheets are not "
                "pressed together: install fitout with the extra `squeeze`."
            ),
            source="installed packages",
        )


def _hollows(panel: Panel) -> Iterator[tuple[str, Loop]]:
    for pocket in panel.pockets:
        yield f"the {pocket.purpose}", pocket.loop
    for loop in panel.outline.inner:
        yield "a cut-out", loop


def _crossed(panel: Panel, at: tuple[float, float]) -> Finding:
    return Finding(
        code="outline",
        severity=Severity.FAIL,
        where=panel.id,
        sentence=(
            f"The outline of {panel.id} crosses itself {at[0]:.1f} mm along and {at[1]:.1f} mm "
            "across from its corner, so it can't be cut: change the sizes that bring its edges "
            "together there."
        ),
        source="plane geometry",
    )


def _too_narrow(places: list[str], widest: float, bit: float) -> Finding:
    listed = ", ".join(dict.fromkeys(places))
    cure = f"take a bit of {widest:g} mm or less" if widest else "cut it another way"
    return Finding(
        code="router bit",
        severity=Severity.CAUTION,
        where="cutting",
        value=widest,
        limit=bit,
        unit="mm",
        margin=widest - bit,
        sentence=(
            f"A router bit of {bit:g} mm doesn't go into {listed}: {cure} there, or for all of it "
            "(`cutting: kerf`), or have that board sawn (`cutting: by`)."
        ),
        source=SOURCE,
    )
