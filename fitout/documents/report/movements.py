"""What can be opened, as the picture plays it: sliders, what must be open first, who moves."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from fitout.checks.courses import moved_by
from fitout.checks.motions import played
from fitout.checks.subject import Subject
from fitout.model.bay import Obstacle, Swing
from fitout.model.item import Piece
from fitout.model.module import Motion, MotionKind
from fitout.model.placement import Placement, Vector

DOOR = "door"


@dataclass(frozen=True, slots=True, kw_only=True)
class Movement:
    """A slider: a shift (mm) or a turn (degrees) and the movements that come before it.

    `needs` are open and `shut` closed before it starts, by their numbers. `label` is for the
    reader, `module` empty for what the vehicle moves. What is `lifted` is put aside at the end.
    """

    label: str
    module: str
    turns: bool
    lifted: bool
    direction: Vector
    point: Vector
    travel: float
    needs: tuple[int, ...]
    shut: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Loose:
    """A lid of a bought-in part: its pieces in that part's axes, and the movements it follows."""

    id: str
    of: str
    pieces: tuple[Piece, ...]
    placement: Placement
    follows: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Movements:
    """Every movement, and which ones each part follows, the one that carries the others first."""

    each: tuple[Movement, ...]
    follows: Mapping[str, tuple[int, ...]]
    loose: tuple[Loose, ...]
    leaves: tuple[tuple[Obstacle, int], ...]


def movements_of(subject: Subject) -> Movements:
    """The doors of the vehicle first, then every motion of the modules."""
    doors = [swing for swing in subject.fitout.bay.swings if swing.kind == DOOR]
    runs = [(motion, course) for motion, course, _ in played(subject) if motion.travel > 0.0]
    numbers = {motion.id: len(doors) + i for i, (motion, _) in enumerate(runs)}
    open_doors = tuple(range(len(doors)))
    each = [_door(door) for door in doors]
    for motion, course in runs:
        travel = motion.travel if course is None else min(motion.travel, course.reaches)
        each.append(_movement(motion, travel, open_doors, numbers))
    follows = _follows(subject, [motion for motion, _ in runs], numbers)
    loose = [
        Loose(
            id=motion.id,
            of=motion.of,
            pieces=motion.pieces,
            placement=subject.parts[motion.of].placement,
            follows=(*follows.get(motion.of, ()), numbers[motion.id]),
        )
        for motion, _ in runs
        if motion.of and motion.pieces
    ]
    leaves = tuple((leaf, i) for i, door in enumerate(doors) for leaf in door.leaves)
    return Movements(each=tuple(each), follows=follows, loose=tuple(loose), leaves=leaves)


def _door(door: Swing) -> Movement:
    return Movement(
        label=door.name,
        module="",
        turns=True,
        lifted=False,
        direction=door.direction,
        point=door.point,
        travel=door.travel,
        needs=(),
        shut=(),
    )


def _movement(
    motion: Motion, travel: float, doors: Sequence[int], numbers: Mapping[str, int]
) -> Movement:
    first = doors if motion.tailgate == "open" else ()
    return Movement(
        label=motion.name,
        module=motion.module,
        turns=motion.kind is MotionKind.HINGE,
        lifted=motion.kind is MotionKind.REMOVE,
        direction=motion.direction,
        point=motion.point,
        travel=travel,
        needs=(*first, *_known(motion.needs, numbers)),
        shut=tuple(_known(motion.shut, numbers)),
    )


def _known(ids: Iterable[str], numbers: Mapping[str, int]) -> list[int]:
    return [numbers[id_] for id_ in ids if id_ in numbers]


def _follows(
    subject: Subject, motions: Iterable[Motion], numbers: Mapping[str, int]
) -> dict[str, tuple[int, ...]]:
    found: dict[str, tuple[int, ...]] = {}
    # A module that is taken out as one carries what moves in it.
    for motion in sorted(motions, key=lambda m: len(subject.moved(m)) > 0):
        if motion.of:
            continue
        for part in moved_by(subject, motion):
            found[part.id] = (*found.get(part.id, ()), numbers[motion.id])
    return found
