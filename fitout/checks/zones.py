"""Room that must stay free: air to vents, a lid's swing, hands at taps, a tray's void."""

from __future__ import annotations

from collections.abc import Iterator

from fitout.checks.gaps import place_between
from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE, at_least
from fitout.clearance.body import body_of_pieces
from fitout.clearance.contact import contacts, near_pairs_between
from fitout.model.finding import Finding
from fitout.model.item import Zone
from fitout.model.module import Module, MotionKind
from fitout.model.placement import Placement


def check_zones(subject: Subject) -> Iterator[Finding]:
    """Each kept-free zone against every body but its owner and those it may meet."""
    for module in subject.fitout.modules:
        if module.berth is None:
            continue
        for item in module.items:
            for zone in item.zones:
                skip = {item.id, *(b for a, b in subject.joined if a == item.id)}
                placement = item.placement
                open_gate = zone.when == "out"
                if open_gate:
                    placement = placement.moved(dx=-_travel(module, item.moves))
                    skip |= {p.id for p in module.parts() if p.moves == item.moves}
                yield from _free(subject, item.id, zone, placement, skip, open_gate)
        for access in module.accesses:
            skip = set(access.except_ids)
            yield from _free(subject, module.name, access.zone, access.placement, skip, False)


def _travel(module: Module, motion: str | None) -> float:
    for m in module.motions:
        if m.name == motion and m.kind is MotionKind.SLIDE:
            return m.travel
    return 0.0


def _free(
    subject: Subject,
    owner: str,
    zone: Zone,
    placement: Placement,
    skip: set[str],
    open_gate: bool,
) -> Iterator[Finding]:
    body = body_of_pieces(f"{owner}: {zone.name}", [zone.piece], placement)
    others = [subject.bodies[i] for i in _present(subject, open_gate) if i not in skip]
    pairs = near_pairs_between([body], others, 0.0)
    pairs[:, 1] += 1
    found = contacts([body, *others], 0.5, subject.cache, pairs)
    worst = max(
        ((c.depth, others[j - 1]) for (_, j), c in found.items() if c.clashes),
        key=lambda pair: pair[0],
        default=None,
    )
    where = f"{owner}: {zone.name}"
    if worst is None:
        sentence = f"{owner}: the room for {zone.name} is free."
        yield at_least("kept free", where, 0.0, 0.0, "mm", sentence, COMMON_PRACTICE)
        return
    depth, other = worst
    at = place_between(body, other)
    sentence = f"{owner}: {other.id} stands {depth:.1f} mm in the room for {zone.name}{at}."
    yield at_least("kept free", where, -depth, 0.0, "mm", sentence, COMMON_PRACTICE)


def _present(subject: Subject, open_gate: bool) -> Iterator[str]:
    for id_, part in subject.parts.items():
        if subject.modules[part.module].berth is not None:
            yield id_
    for id_, obstacle in subject.obstacles.items():
        if not (open_gate and obstacle.kind == "tailgate"):
            yield id_


def check_voids(subject: Subject) -> Iterator[Finding]:
    """What lies outside the bay against its own measured void."""
    for module in subject.fitout.modules:
        for void in module.voids:
            for word, needed, available in zip(
                ("fore and aft", "across", "upwards"), void.needed, void.available, strict=True
            ):
                sentence = (
                    f"{void.name} takes {needed:.1f} mm {word} of the {available:.1f} mm its void "
                    f"has."
                )
                yield at_least(
                    "void",
                    f"{void.name}: {word}",
                    available - needed,
                    0.0,
                    "mm",
                    sentence,
                    COMMON_PRACTICE,
                )
