"""What is told of the saw sequence in few words."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from fitout.cutting.sequence import SawStep


def yard_sentence(steps: Sequence[SawStep]) -> str:
    """What the timber yard is asked for, such as "2 rips at 402, 402"; empty if nothing."""
    told = []
    for across, alike in groupby((s for s in steps if s.yard), key=lambda step: step.across):
        cuts = list(alike)
        word = "crosscut" if across else "rip"
        sizes = ", ".join(f"{round(step.measure, 1):g}" for step in cuts)
        told.append(f"{len(cuts)} {word}{'' if len(cuts) == 1 else 's'} at {sizes}")
    return ", then ".join(told)


def saw_sentence(steps: Sequence[SawStep]) -> str:
    """How many cuts there are and how often the saw is set for them; empty for none."""
    count, times = sum(not step.yard for step in steps), settings(steps)
    if not count:
        return ""
    cuts = f"{count} cut{'' if count == 1 else 's'}"
    return f"{cuts}, the saw set {times} time{'' if times == 1 else 's'}"


def settings(steps: Sequence[SawStep]) -> int:
    """How often the saw is set anew, the timber yard's not counted."""
    told = [step.setting for step in steps if not step.yard]
    return sum(1 for i, setting in enumerate(told) if i == 0 or setting != told[i - 1])
