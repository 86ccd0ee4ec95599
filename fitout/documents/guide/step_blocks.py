"""One step on paper: its picture on the left, what it takes and how on the right."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import numpy as np

from fitout.clearance.convex import Array
from fitout.documents.dossier import Dossier
from fitout.documents.guide.instructions import sentences
from fitout.documents.guide.paper import LINE, TEXT
from fitout.documents.guide.picture import Frame, painted
from fitout.documents.guide.staging import Stage, Staging
from fitout.documents.paper.dimension import balloon_marks
from fitout.documents.paper.fonts import shortened, text_width, wrapped
from fitout.documents.paper.marks import (
    BLACK,
    NARROW,
    WHITE,
    Area,
    Colour,
    Mark,
    Stroke,
    Text,
    moved,
)
from fitout.documents.paper.marks import box as framed
from fitout.documents.paper.table import Block
from fitout.documents.tables import unit_of
from fitout.documents.views.forms import Form
from fitout.documents.views.sight import seen_places
from fitout.model.assembly import Step
from fitout.model.outline import Point
from fitout.model.placement import Vector

PICTURE = (96.0, 67.0)
"""Width and height of a picture, mm."""

INSIDE = 9.0
"""Room in the picture for balloons and arrows, mm."""

COLUMN = 101.0
WIDTH = 180.0
"""Where the text begins, and the whole block's width, mm."""

NUMBER = 4.2
"""Radius of the disc with the step's number, mm."""

RADIUS = 4.6
"""Of a balloon with a part's number, and the white ground under it, mm."""

LEAST_SHARE = 0.42
"""A part is shown with so much of the scene around it at least."""

MOST_LISTED, MOST_BALLOONS = 14, 12

BETWEEN = 0.8
"""Between one thing that is told and the next, mm."""

ARROW = 10.0
"""Length of a movement's arrow, mm."""


def step_block(staging: Staging, step: Step, numbers: Mapping[str, str]) -> Block:
    """The marks of a step, from its upper left corner."""
    dossier = staging.dossier
    stage = staging.stage(step)
    texts = _texts(dossier, step, stage, numbers)
    height = max(PICTURE[1], -texts[-1].at[1] + 2.0) + 11.0
    told = {} if any(_made(other, step) for other in dossier.steps) else numbers
    picture = _picture(stage, step, told)
    return Block(
        WIDTH,
        height,
        (*_heading(step), *moved(picture, (0.0, -9.0 - PICTURE[1])), *moved(texts, (0.0, -9.0))),
    )


def _heading(step: Step) -> list[Mark]:
    number = str(step.number)
    height = 3.5 if len(number) < 3 else 2.5
    name = shortened(step.what, 3.5, WIDTH - 2.0 * NUMBER - 4.0, bold=True)
    return [
        _disc((NUMBER, -NUMBER), NUMBER),
        Text((NUMBER, -NUMBER - height / 2.0), number, height, "middle", bold=True, colour=WHITE),
        Text((2.0 * NUMBER + 2.5, -NUMBER - 1.75), name, 3.5, bold=True),
    ]


def _disc(centre: Point, radius: float, colour: Colour = BLACK) -> Area:
    angles = np.linspace(0.0, 2.0 * np.pi, 49)[:-1]
    x, y = centre
    ring = tuple((x + radius * float(np.cos(a)), y + radius * float(np.sin(a))) for a in angles)
    return Area((ring,), colour)


def _texts(dossier: Dossier, step: Step, stage: Stage, numbers: Mapping[str, str]) -> list[Text]:
    """What a step takes, line by line, below its heading."""
    say = dossier.wording.say
    entries = [
        (say("step_parts"), _parts(dossier, step, numbers)),
        (say("step_fasteners"), _fasteners(dossier, step)),
        (say("step_tool"), tool_words(dossier, step.tool)),
    ]
    if step.people > 1:
        entries.append((say("step_people"), str(step.people)))
    if step.after:
        before = ", ".join(str(n) for n in step.after)
        entries.append((say("step_after"), say("step_after_told", steps=before)))
    told = sentences(dossier, step, numbers)
    if stage.through:
        told.append(say("step_through"))
    elif stage.eye.name != "rear right":
        told.append(say("step_corner", corner=say(f"corner {stage.eye.name}")))
    entries += [(say("step_how") if not k else "", words) for k, words in enumerate(told)]
    inset = max(text_width(label, TEXT, bold=True) for label, _ in entries) + 2.5
    found: list[Text] = []
    y = -TEXT
    for label, words in entries:
        if label:
            found.append(Text((COLUMN, y), label, TEXT, bold=True))
        for one in wrapped(words, TEXT, WIDTH - COLUMN - inset):
            found.append(Text((COLUMN + inset, y), one, TEXT))
            y -= LINE
        y -= BETWEEN
    return found


def _parts(dossier: Dossier, step: Step, numbers: Mapping[str, str]) -> str:
    """The parts by number and name; only how many where they were put together before."""
    say = dossier.wording.say
    made = [other.number for other in dossier.steps if _made(other, step)]
    if made:
        return say("step_whole", count=len(step.parts), step=made[-1])
    if len(step.parts) > MOST_LISTED:
        return say("step_count", count=len(step.parts))
    named = (f"{numbers.get(id_, '')} {id_.partition('/')[2]}".strip() for id_ in step.parts)
    return ", ".join(named)


def _made(bench: Step, vehicle: Step) -> bool:
    """Whether a step on the bench makes what the other sets into the vehicle."""
    return (
        bench.phase == "bench"
        and vehicle.phase == "vehicle"
        and bench.what == vehicle.what
        and set(bench.parts) <= set(vehicle.parts)
    )


def _fasteners(dossier: Dossier, step: Step) -> str:
    if not step.fasteners:
        return dossier.wording.say("none_needed")
    return ", ".join(counted(dossier, article, count) for article, count in step.fasteners)


def counted(dossier: Dossier, article: str, count: int) -> str:
    """`4 × bolt M8 x 40`, or `1 m felt strip` of what is sold by the metre."""
    unit = unit_of(dossier.subject.setting.catalogue.articles.get(article))
    return f"{count} m {article}" if unit == "m" else f"{count} × {article}"


def tool_words(dossier: Dossier, tool: str) -> str:
    """The tools in the builder's language, as far as they are one of the usual ones."""
    say = dossier.wording.say
    return ", ".join(
        _ratchet(say, one) if one.startswith("ratchet") else say(f"tool {one}")
        for one in tool.split(", ")
    )


def _ratchet(say: Callable[..., str], tool: str) -> str:
    """A ratchet and from where; what has to be out of the way stays as it is named."""
    told = tool
    for way in ("from above", "from behind", "from the left", "from the right"):
        told = told.replace(way, say(f"tool {way}"))
    if told.startswith("ratchet"):
        told = say("tool ratchet") + told.removeprefix("ratchet")
    return told.replace(" and ", say("tool and"))


def _picture(stage: Stage, step: Step, numbers: Mapping[str, str]) -> list[Mark]:
    """The picture in its frame, from its lower left corner."""
    frame = _frame(stage, step)
    marks = painted(stage.forms, stage.new, stage.eye, frame, through=stage.through)
    new = [form for form in stage.forms if form.id in stage.new]
    points = np.vstack([form.vertices for form in new])
    for shift in step.shifts:
        marks += _arrow(points, shift, stage, frame)
    if len(new) <= MOST_BALLOONS:
        marks += _balloons(new, numbers, stage, frame)
    return [*marks, framed(0.0, 0.0, *PICTURE, NARROW)]


def _balloons(
    new: Sequence[Form], numbers: Mapping[str, str], stage: Stage, frame: Frame
) -> list[Mark]:
    """Part numbers in white discs, led to where each part is seen."""
    before = new if stage.through else stage.forms
    seen = seen_places(before, stage.eye, frame.reduced * 3.0, new)
    every = np.vstack([frame.flat(stage.eye.on_sheet(form.vertices)) for form in new])
    middle = (every.min(axis=0) + every.max(axis=0)) / 2.0
    taken: list[Array] = []
    marks: list[Mark] = []
    for form, own in zip(new, seen, strict=True):
        number = numbers.get(form.id, "")
        if not number or not len(own):
            continue
        flat = np.array(frame.flat(own))
        tip = flat[np.argmin(np.linalg.norm(flat - flat.mean(axis=0), axis=1))]
        centre = _free_place(tip, tip - middle, taken)
        if centre is not None:
            taken.append(centre)
            at, to = (float(tip[0]), float(tip[1])), (float(centre[0]), float(centre[1]))
            marks += [_disc(to, RADIUS, WHITE), *balloon_marks(at, to, number)]
    return marks


def _free_place(tip: Array, outward: Array, taken: Sequence[Array]) -> Array | None:
    """The middle of a balloon off others and within the picture, rather outward than not."""
    base = float(np.arctan2(outward[1], outward[0])) if np.any(outward) else np.pi / 4.0
    for reach in (9.0, 12.0, 16.0, 21.0, 27.0):
        for turn in (0, 30, -30, 60, -60, 90, -90, 130, -130, 180):
            angle = base + np.radians(turn)
            centre = tip + reach * np.array([np.cos(angle), np.sin(angle)])
            inside = np.all(centre > RADIUS + 0.5) and np.all(
                centre < np.array(PICTURE) - RADIUS - 0.5
            )
            if inside and all(np.linalg.norm(centre - o) > 2.0 * RADIUS + 0.6 for o in taken):
                return np.asarray(centre)
    return None


def _frame(stage: Stage, step: Step) -> Frame:
    """What of the scene is shown, how large."""
    scene = np.vstack([stage.eye.on_sheet(form.vertices) for form in stage.forms])
    new = np.vstack(
        [stage.eye.on_sheet(form.vertices) for form in stage.forms if form.id in stage.new]
    )
    low, high = scene.min(axis=0), scene.max(axis=0)
    if step.phase == "vehicle":
        size = np.maximum(new.max(axis=0) - new.min(axis=0), LEAST_SHARE * (high - low))
        centre = (new.max(axis=0) + new.min(axis=0)) / 2.0
        low, high = np.maximum(low, centre - 0.7 * size), np.minimum(high, centre + 0.7 * size)
    room = np.array(PICTURE) - 2.0 * INSIDE
    reduced = float(max((high - low) / room))
    middle, half = (low + high) / 2.0, np.array(PICTURE) * reduced / 2.0
    (left, bottom), (right, top) = (middle - half).tolist(), (middle + half).tolist()
    return Frame((left, bottom, right, top), (0.0, 0.0), reduced)


def _arrow(points: Array, shift: Vector, stage: Stage, frame: Frame) -> list[Mark]:
    """A wide arrow that ends where the part begins, the way it is moved."""
    way = stage.eye.on_sheet(np.array([shift]))[0]
    length = float(np.linalg.norm(way))
    if length < 1e-6:
        return []
    unit = way / length
    across = np.array([-unit[1], unit[0]])
    flat = np.array(frame.flat(stage.eye.on_sheet(points)))
    along, aside = flat @ unit, flat @ across
    tip = (float(along.min()) - 0.8) * unit + float(aside.min() + aside.max()) / 2.0 * across
    # Where the part fills the picture the arrow stands within it.
    low, high = np.full(2, ARROW * 0.2), np.array(PICTURE) - ARROW * 0.2
    start = tip - ARROW * unit
    tip = tip + np.maximum(0.0, low - np.minimum(start, tip))
    tip = tip - np.maximum(0.0, np.maximum(tip, tip - ARROW * unit) - high)
    profile = ((0.0, 0.0), (-4.2, 2.4), (-4.2, 1.1), (-ARROW, 1.1),
               (-ARROW, -1.1), (-4.2, -1.1), (-4.2, -2.4))  # fmt: skip
    ring = tuple(
        (float(p[0]), float(p[1])) for p in (tip + a * unit + b * across for a, b in profile)
    )
    return [Area((ring,), WHITE), Stroke(ring, NARROW, closed=True)]
