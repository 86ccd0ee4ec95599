"""Everything must go in through the opening: straight, turned, or in pieces."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Sequence

from fitout.checks.freeing import corners_of
from fitout.checks.pitched import Pitched
from fitout.checks.subassemblies import SubAssembly, separable, sub_assemblies
from fitout.checks.subject import Subject
from fitout.checks.too_large import proof_of
from fitout.checks.verdict import at_least, remark
from fitout.checks.ways_in import Entry, Shortfall, Split, shortfall, smallest_split, way_in
from fitout.clearance.passage import Turn, Way
from fitout.model.finding import Finding, Severity

CODE = "goes in"
SOURCE = "support functions against the opening's planes, exact; room for fingers: common practice"

PROVED = "ball in the opening; isoperimetric inequality of convex bodies (Dyer and Frieze, 1991)"

TRIED = "Only turns about one axis at a time were tried, and as it passes only tilting"
"""What a search that found nothing did not do."""

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
    if entry.pitched is not None:
        return _pitched(subject, sub, entry.pitched)
    near = shortfall(subject, sub)
    parts = smallest_split(subject, sub)
    if parts is not None:
        return _in_pieces(subject, sub, near, parts)
    return _stuck(subject, sub, near)


def _through(subject: Subject, sub: SubAssembly, entry: Entry, way: Way) -> Finding:
    wanted = subject.setting.rules.hand
    gap = entry.gap
    sentence = (
        f"{sub.id} goes in {how(subject, sub, way)}; tightest {gap:.0f} mm at {_listed(way.tight)}"
    )
    if way.turn is not None:
        sentence += f", with {abs(way.turn.angle_deg):.1f}°"
        if entry.straight is not None:
            sentence += f". Straight it would keep only {entry.straight:.0f} mm"
    return _with_room_for_hands(sub, (gap, wanted), entry.hand >= wanted, sentence)


def _pitched(subject: Subject, sub: SubAssembly, pitched: Pitched) -> Finding:
    wanted = subject.setting.rules.hand
    words = []
    if pitched.low_deg < -0.5:
        words.append(f"nose down to {-pitched.low_deg:.0f}°")
    if pitched.high_deg > 0.5:
        words.append(f"nose up to {pitched.high_deg:.0f}°")
    sentence = (
        f"{sub.id} goes in when it is tilted as it passes the opening, "
        f"{' and '.join(words) or 'hardly at all'}; at least {pitched.gap:.0f} mm are left at sill "
        f"and upper edge"
    )
    return _with_room_for_hands(sub, (pitched.gap, wanted), pitched.gap >= wanted, sentence)


def _with_room_for_hands(
    sub: SubAssembly, gap_of: tuple[float, float], enough: bool, sentence: str
) -> Finding:
    """What goes in, and whether with what is wanted for hands (what there is, what is wanted)."""
    gap, wanted = gap_of
    found = at_least(CODE, sub.id, gap, wanted, "mm", sentence + ".", SOURCE)
    if enough:
        return found
    sentence += f": mind your fingers, {wanted:g} mm are wanted."
    return dataclasses.replace(found, severity=Severity.CAUTION, sentence=sentence)


def _in_pieces(subject: Subject, sub: SubAssembly, near: Shortfall, parts: Split) -> Finding:
    joints, pieces = parts
    wanted = subject.setting.rules.hand
    found = [(entry, piece) for piece in pieces if (entry := way_in(subject, piece)).way]
    entry, piece = min(found, key=lambda f: f[0].gap)
    assert entry.way is not None
    names = "; ".join(_contents(p) for p in pieces)
    made = "1 joint" if len(joints) == 1 else f"{len(joints)} joints"
    sentence = (
        f"No way in was found for {sub.id} as one: {missing(near)}. It goes in as "
        f"{len(pieces)} pieces, with {made} made inside: {names}. Tightest is {_contents(piece)}, "
        f"{how(subject, piece, entry.way)}: {entry.gap:.0f} mm at {_listed(entry.way.tight)}."
    )
    found_so = at_least(CODE, sub.id, entry.gap, wanted, "mm", sentence, SOURCE)
    return dataclasses.replace(found_so, severity=Severity.CAUTION)


def _stuck(subject: Subject, sub: SubAssembly, near: Shortfall) -> Finding:
    proof = proof_of(subject.fitout.bay, sub.bodies)
    if proof is not None:
        what = "it" if len(sub.parts) == 1 else proof.part
        sentence = (
            f"{sub.id} does not go in through the opening, however it is moved: "
            f"{proof.words.replace('it is', f'{what} is', 1).replace('it shows', f'{what} shows')}."
        )
        return at_least(CODE, sub.id, -near.missing, 0.0, "mm", sentence, PROVED)
    more = ", nor for its pieces" if separable(subject, sub) else ""
    sentence = (
        f"No way in was found for {sub.id}{more}: {missing(near)}. {TRIED}, so try it with "
        f"cardboard before you cut."
    )
    return remark(CODE, sub.id, Severity.UNCHECKED, sentence, SOURCE)


def missing(near: Shortfall) -> str:
    """Why it does not go in, in words."""
    turned = "as it stands" if abs(near.turn.angle_deg) < 0.05 else called(near.turn)
    if near.missing <= 0.0:
        return (
            f"it passes the opening ({turned}, {-near.missing:.0f} mm to spare), but can't be "
            f"moved from there to its place"
        )
    return f"at best, {turned}, {near.missing:.0f} mm are missing on every side"


def how(subject: Subject, sub: SubAssembly, way: Way) -> str:
    """How it is carried through the opening, in words."""
    words = [called(turn) for turn in way.before]
    if way.turn is not None:
        words.append(f"{_name(way.turn)} {_span(way.turn, way.span_deg)}")
    if words:
        return ", then ".join(words)
    lip = subject.fitout.bay.opening[0][0]
    return (
        "straight, lowered over the sill"
        if corners_of(sub.bodies)[:, 2].min() < lip
        else "straight"
    )


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
