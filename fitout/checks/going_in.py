"""Everything must go in through the opening: straight, turned, or in pieces."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fitout.checks.subassemblies import SubAssembly, separable, sub_assemblies
from fitout.checks.subject import Subject
from fitout.checks.verdict import at_least, remark
from fitout.checks.ways_in import Entry, corners_of, smallest_split, way_in
from fitout.clearance.passage import Turn, Way
from fitout.model.finding import Finding, Severity
from fitout.model.module import Joint

CODE = "goes in"
SOURCE = "support functions against the opening's planes, exact; room for fingers: common practice"

SIDES = {
    0: ("rolled left side up", "rolled right side up"),
    1: ("tilted nose-down", "tilted nose-up"),
    2: ("turned nose to the left", "turned nose to the right"),
}
"""What a turn about each axis is called, one way round and the other."""


def check_going_in(subject: Subject) -> Iterator[Finding]:
    """Each thing that is carried in against the opening and the empty bay behind it."""
    for sub in sub_assemblies(subject):
        if subject.modules[sub.module].berth is None:
            yield _elsewhere(sub)
        else:
            yield _goes_in(subject, sub)


def _elsewhere(sub: SubAssembly) -> Finding:
    sentence = (
        f"{sub.id} does not stand in the bay: whether it goes in through the vehicle's doors "
        f"was not checked, which needs their openings."
    )
    return remark(CODE, sub.id, Severity.UNCHECKED, sentence)


def _goes_in(subject: Subject, sub: SubAssembly) -> Finding:
    entry = way_in(subject, sub)
    if entry.way is not None:
        return _through(subject, sub, entry, entry.way)
    parts = smallest_split(subject, sub)
    if parts is not None:
        return _in_pieces(sub, entry, *parts)
    return _stuck(subject, sub, entry)


def _through(subject: Subject, sub: SubAssembly, entry: Entry, way: Way) -> Finding:
    wanted = subject.setting.rules.hand
    gap = way.gap + entry.hand
    sentence = (
        f"{sub.id} goes in {how(subject, sub, way)}; tightest {gap:.0f} mm at {_listed(way.tight)}"
    )
    if way.turn is not None:
        sentence += f", with {abs(way.turn.angle_deg):.1f}°"
        if entry.straight is not None:
            sentence += f". Straight it would keep only {entry.straight:.0f} mm"
    found = at_least(CODE, sub.id, gap, wanted, "mm", sentence + ".", SOURCE)
    if entry.hand >= wanted:
        return found
    return _caution(found, f"{sentence}: mind your fingers, {wanted:g} mm are wanted.")


def _caution(found: Finding, sentence: str) -> Finding:
    """The same finding as a caution, in other words."""
    import dataclasses

    return dataclasses.replace(found, severity=Severity.CAUTION, sentence=sentence)


def _in_pieces(
    sub: SubAssembly, entry: Entry, joints: tuple[Joint, ...], pieces: tuple[SubAssembly, ...]
) -> Finding:
    names = "; ".join(_contents(piece) for piece in pieces)
    sentence = (
        f"{sub.id} does not go in as one ({missing(entry)}). It does in {len(pieces)} pieces, "
        f"with {len(joints)} joint{'s' if len(joints) > 1 else ''} made inside: {names}."
    )
    return remark(CODE, sub.id, Severity.CAUTION, sentence, SOURCE)


def _stuck(subject: Subject, sub: SubAssembly, entry: Entry) -> Finding:
    if entry.short <= 0.0:
        sentence = (
            f"No way to its place was found for {sub.id}, though it passes the opening: look "
            f"whether it can be turned in the bay."
        )
        return remark(CODE, sub.id, Severity.UNCHECKED, sentence, SOURCE)
    more = ", nor in pieces" if separable(subject, sub) else ""
    sentence = f"{sub.id} does not go in through the opening{more}: {missing(entry)}."
    return at_least(CODE, sub.id, -entry.short, 0.0, "mm", sentence, SOURCE)


def missing(entry: Entry) -> str:
    """Why it does not go in, in words."""
    if entry.short <= 0.0:
        return "it passes the opening but can't be turned to its place inside"
    turn = entry.turn
    turned = "as it stands" if turn is None or abs(turn.angle_deg) < 0.05 else called(turn)
    return f"at best, {turned}, {entry.short:.0f} mm are missing on every side"


def how(subject: Subject, sub: SubAssembly, way: Way) -> str:
    """How it is carried through the opening, in words."""
    words = []
    if way.before is not None:
        words.append(called(way.before))
    if way.turn is not None:
        words.append(f"{_name(way.turn)} {_span(way.turn, way.span_deg)}")
    if words:
        return " and ".join(words)
    lip = subject.fitout.bay.opening[0][0]
    return "straight, lowered over the sill" if corners_of(sub)[:, 2].min() < lip else "straight"


def called(turn: Turn) -> str:
    """A turn by one angle, in words."""
    return f"{_name(turn)} {abs(turn.angle_deg):.0f}°"


def _name(turn: Turn) -> str:
    return SIDES[turn.axis][turn.angle_deg < 0.0]


def _span(turn: Turn, span: tuple[float, float]) -> str:
    """The angles that work, smallest first, both counted the way the turn is."""
    sign = -1.0 if turn.angle_deg < 0.0 else 1.0
    low, high = sorted((sign * span[0], sign * span[1]))
    return f"{low:.1f}° to {high:.1f}°"


def _contents(piece: SubAssembly) -> str:
    names = [id_.split("/", 1)[1] for id_ in piece.parts]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} with {names[-1]}"


def _listed(names: Sequence[str]) -> str:
    return " and ".join(names)
