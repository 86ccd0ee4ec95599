"""The general arrangement: plan, side and rear view, and sections across and along the bay.

Visible lines 0.35 wide, cut outlines 0.5, the vehicle in long dashed double-dotted lines as an
adjacent part (ISO 128-2). Views lie to each other in the angle that is asked for (ISO 5456-2);
the plan stands on a sheet of its own where the three don't fit one.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from fitout.clearance.convex import Array
from fitout.documents.dossier import Dossier
from fitout.documents.drawings.clearances import governing, listed, marked, shared_out
from fitout.documents.drawings.scene import Scene, Span
from fitout.documents.drawings.sizes import (
    Size,
    shared_sizes,
    told_places,
    told_sizes,
    zero_lines,
)
from fitout.documents.drawings.sketch import (
    KEPT,
    SPACE,
    SPACE_HEIGHT,
    SPACE_WIDTH,
    TITLE_HEIGHT,
    TITLE_WIDTH,
    Sketch,
)
from fitout.documents.drawings.viewport import Port, Window, scale_for, told, window_of
from fitout.documents.paper.dimension import arrow, leader
from fitout.documents.paper.fonts import shortened, text_width, wrapped
from fitout.documents.paper.layout import Layout
from fitout.documents.paper.marks import MEDIUM, PHANTOM, WIDE, Area, Mark, Pen, Stroke, Text, line
from fitout.documents.paper.room import Box, Shape, bounds, lines_of, text_shape
from fitout.documents.view import PLAN, REAR, SIDE, Eye
from fitout.documents.views.hidden_lines import Seen, visible_lines
from fitout.documents.views.section import hatches, section
from fitout.documents.views.sight import seen_places
from fitout.documents.views.vehicle import bay_outline, opening_line, seat_lines
from fitout.model.outline import Point

HATCH = Pen(0.18)
HATCH_APART = 2.2
"""Distance of hatch lines on paper, mm."""

PAD, BESIDE = 30.0, 20.0
"""Room above and below a view, and beside the outermost, for its dimensions, mm."""

BETWEEN = 34.0
"""Room between two views, mm."""

LONGEST = 50.0
"""Names of modules are cut to this width, mm."""

ABOVE = 40.0
"""No dimension of a view lies further above it, mm."""

NAME = 2.5
TITLE = 3.5
"""Heights of module names and of a view's title, mm."""

ToldThere = tuple[Sequence[Seen], Sequence[Size]]
"""What is seen in a view, and the sizes it tells."""

TANK = ("water tank",)
CARRIED = ("drawers", "fridge slide")
"""Kinds that a section along and a section across are to cut."""


def arrangement_sheets(dossier: Dossier) -> tuple[Sketch, ...]:
    """Views and sections of all that stands in the bay; none if nothing does."""
    scene = Scene(dossier)
    if not scene.forms:
        return ()
    across, along = scene.plane(0, CARRIED), scene.plane(1, TANK)
    return (*_views(scene, across, along), *_sections(scene, across, along))


def _views(scene: Scene, across: float, along: float) -> Iterable[Sketch]:
    """Plan, side and rear on one sheet, or the plan on a sheet of its own."""
    windows = {eye.name: _window(scene, eye) for eye in (PLAN, SIDE, REAR)}
    seen = {eye.name: visible_lines(scene.forms, eye) for eye in (PLAN, SIDE, REAR)}
    sizes = shared_sizes(scene, seen)
    third = scene.dossier.spec.projection == "third angle"
    side, rear, plan = (windows[eye.name] for eye in (SIDE, REAR, PLAN))
    wide, high = side.width + rear.width, side.height
    row = (SPACE_WIDTH - BETWEEN - 2.0 * BESIDE, SPACE_HEIGHT - TITLE_HEIGHT - 2.0 * PAD)
    reduced = scale_for(wide, high, row)
    left = max(BESIDE, (SPACE_WIDTH - BETWEEN - wide / reduced) / 2.0)
    low = TITLE_HEIGHT + 0.5 * PAD
    above = SPACE_HEIGHT - high / reduced - 0.6 * PAD
    if not third and plan.height / reduced + BETWEEN < above - 4.0:
        side_at = (left, above)
        rear_at = (left + side.width / reduced + BETWEEN, above)
        plan_at: Point | None = (left, above - BETWEEN - plan.height / reduced)
    else:
        bottom = max(low, (low + SPACE_HEIGHT - high / reduced) / 2.0 - 4.0)
        order = (rear, side) if third else (side, rear)
        second = left + order[0].width / reduced + BETWEEN
        rear_at, side_at = (
            ((left, bottom), (second, bottom)) if third else ((second, bottom), (left, bottom))
        )
        plan_at = None
    side_port = Port(SIDE, side, reduced, side_at)
    rear_port = Port(REAR, rear, reduced, rear_at)
    layout = _layout()
    ports = [side_port, rear_port]
    if plan_at is not None:
        ports.append(Port(PLAN, plan, reduced, plan_at))
    if plan_at is not None:
        _planes(layout, ports[-1], across, along)
    for port in ports:
        _outlined(layout, scene, port, seen[port.eye.name])
    left_out: list[str] = []
    for port in ports:
        layout.kept = (*KEPT, *_over_and_under(port, ports))
        told_there = (seen[port.eye.name], sizes[port.eye.name])
        layout, more = _dressed(layout, scene, port, _title(scene, port), told_there)
        left_out += more
    layout.kept = KEPT
    _notes(layout, scene, left_out, [port.eye for port in ports])
    yield _sketch(scene, layout, scene.dossier.wording.say("general_arrangement"), "GA1", reduced)
    if plan_at is None:
        yield _plan_sheet(scene, plan, (across, along), (seen[PLAN.name], sizes[PLAN.name]))


def _title(scene: Scene, port: Port) -> str:
    return scene.dossier.wording.say(f"view_{port.eye.name}")


def _over_and_under(port: Port, ports: Iterable[Port]) -> Iterable[Box]:
    """The views above and below one: its dimensions must not lie within them."""
    for one in ports:
        if one is not port and one.corner[0] < port.right and port.corner[0] < one.right:
            yield (*one.corner, one.right, one.top)


def _plan_sheet(
    scene: Scene,
    window: Window,
    planes: tuple[float, float],
    told_there: ToldThere,
) -> Sketch:
    room = (SPACE_WIDTH - 2.0 * PAD, SPACE_HEIGHT - TITLE_HEIGHT - 1.4 * PAD)
    reduced = scale_for(window.width, window.height, room)
    wide, high = window.width / reduced, window.height / reduced
    corner = (
        (SPACE_WIDTH - wide) / 2.0,
        TITLE_HEIGHT + (SPACE_HEIGHT - TITLE_HEIGHT - high) / 2.0 - 2.0,
    )
    layout = _layout()
    port = Port(PLAN, window, reduced, corner)
    _planes(layout, port, *planes)
    _outlined(layout, scene, port, told_there[0])
    layout, left_out = _dressed(layout, scene, port, _title(scene, port), told_there)
    _notes(layout, scene, left_out, [PLAN])
    return _sketch(scene, layout, scene.dossier.wording.say("view_plan"), "GA2", reduced)


def _sections(scene: Scene, across: float, along: float) -> Iterable[Sketch]:
    """A section across and one along, each on its sheet, with the governing clearances."""
    wording = scene.dossier.wording
    planes = [
        ("A", REAR, -across, "section_across"),
        ("B", SIDE, -along, "section_along"),
    ]
    ports = []
    for _, eye, at, _ in planes:
        window = _window(scene, eye, at)
        room = (SPACE_WIDTH - 70.0, SPACE_HEIGHT - TITLE_HEIGHT - 11.0)
        reduced = scale_for(window.width, window.height, room)
        left = (SPACE_WIDTH - window.width / reduced) / 2.0
        over = SPACE_HEIGHT - TITLE_HEIGHT - window.height / reduced - 11.0
        ports.append(Port(eye, window, reduced, (left, TITLE_HEIGHT + 4.0 + 0.4 * over)))
    shown = shared_out(
        governing(scene.dossier),
        [(port, at) for port, (_, _, at, _) in zip(ports, planes, strict=True)],
    )
    for (name, _, at, title), port, clearances in zip(planes, ports, shown, strict=True):
        layout = _layout()
        _cut(layout, scene, port, at)
        _named(layout, scene, port, at)
        rows = marked(layout, port, clearances, wording)
        listed(layout, rows, wording, (0.0, TITLE_HEIGHT - 2.0))
        layout.kept = (*KEPT, (0.0, 0.0, SPACE_WIDTH - TITLE_WIDTH, TITLE_HEIGHT))
        heading = f"{wording.say('view_section', name=name)}  ({told(port.reduced)})"
        layout, _ = _dressed(layout, scene, port, heading, ([], []))
        words = wording.say(title, name=name)
        yield _sketch(scene, layout, words, f"GA-{name}{name}", port.reduced)


def _layout() -> Layout:
    return Layout(SPACE, KEPT)


def _sketch(scene: Scene, layout: Layout, title: str, name: str, reduced: float) -> Sketch:
    return Sketch(
        title=title,
        kind=scene.dossier.wording.say("general_arrangement"),
        name=name,
        marks=tuple(layout.marks),
        scale=told(reduced),
        views=True,
    )


def _plane_of(scene: Scene, eye: Eye) -> float:
    """The height towards the viewer at which the vehicle's outline is taken for a view."""
    if eye is PLAN:
        return scene.level - 1.0
    if eye is SIDE:
        return 0.0
    profiles = [profile for profile, _ in scene.bay.arches.values()]
    ends = [end for profile in profiles for end in (profile[0][0], profile[-1][0])]
    return -(sum(ends) / len(ends) if ends else 0.8 * scene.bay.front)


def _window(scene: Scene, eye: Eye, at: float | None = None) -> Window:
    """What a view shows: the vehicle's outline and all that stands in it."""
    height = _plane_of(scene, eye) if at is None else at
    lines = [*bay_outline(scene.bay, eye, height)]
    if eye is PLAN:
        lines.append(np.zeros((1, 2)))  # the sill, from which places are told
    return window_of([*lines, *(eye.on_sheet(form.vertices) for form in scene.forms)])


def _vehicle(layout: Layout, scene: Scene, port: Port, at: float) -> None:
    """The vehicle's outline, and the seat back in its notches."""
    layout.draw(port.strokes(bay_outline(scene.bay, port.eye, at), PHANTOM, "VEHICLE"))
    if port.eye is SIDE:
        for lines in seat_lines(scene.bay, port.eye, at).values():
            layout.draw(port.strokes(lines, PHANTOM, "VEHICLE"))


def _outlined(layout: Layout, scene: Scene, port: Port, seen: Sequence[Seen]) -> None:
    """The visible lines of a view, the vehicle round it, and the modules' names."""
    _vehicle(layout, scene, port, _plane_of(scene, port.eye))
    if port.eye is PLAN:
        layout.draw(zero_lines(port))
    if port.eye is REAR and scene.bay.opening:
        layout.draw(port.strokes([opening_line(scene.bay)], PHANTOM, "VEHICLE"))
    layout.draw(port.seen(seen))
    _named(layout, scene, port)


def _cut(layout: Layout, scene: Scene, port: Port, at: float) -> None:
    """A section: lines beyond, hatches, cut outlines, the vehicle."""
    cut = section(scene.forms, port.eye, at)
    _vehicle(layout, scene, port, at)
    layout.draw(port.seen(cut.beyond, Pen(0.25)))
    for face, lines in zip(cut.faces, hatches(cut.faces, HATCH_APART * port.reduced), strict=True):
        thin = min(_thickness(ring) for ring in face.rings) < HATCH_APART * port.reduced
        layout.draw(port.strokes(lines, HATCH, "HATCH"))
        for ring in face.rings:
            layout.draw([Stroke(tuple(port.flat(ring)), WIDE if not thin else MEDIUM, closed=True)])


def _thickness(ring: Array) -> float:
    return float((ring.max(axis=0) - ring.min(axis=0)).min())


def _dressed(  # over budget: a view with its title and what is told there
    layout: Layout, scene: Scene, port: Port, words: str, there: ToldThere
) -> tuple[Layout, list[str]]:
    """The layout with a view's dimensions and its title above them, and what found no room.

    Where the title finds no room up there it is put as near above the view as it can be, else
    within, and the dimensions go around it.
    """
    middle, quarter = (port.corner[0] + port.right) / 2.0, (port.right - port.corner[0]) / 4.0
    # Aside of the sheet's centring mark, and above a plan of what the side view tells.
    aside = (middle, middle - quarter, middle + quarter)
    tried = layout.copy()
    left_out = _dimensioned(tried, scene, port, there)
    half = text_width(words, TITLE) / 2.0 + 8.0
    if tried.first(
        [Text((x, _top_of(tried, port, (x - half, x + half)) + 2.5), words, TITLE, "middle")]
        for x in aside
    ):
        return tried, left_out
    above = [port.top + 2.5 + 0.5 * i for i in range(80)]
    within = [port.top - 6.0 - 2.0 * i for i in range(60)]
    places = [*((x, y) for x in aside for y in above), *((middle, y) for y in within)]
    layout.first([Text(at, words, TITLE, "middle")] for at in places)
    return layout, _dimensioned(layout, scene, port, there)


def _dimensioned(layout: Layout, scene: Scene, port: Port, there: ToldThere) -> list[str]:
    """A view's sizes, in a plan the places first; in words what found no room."""
    seen, sizes = there
    left_out = []
    if port.eye is PLAN and not told_places(layout, scene, port, seen):
        left_out.append(scene.dossier.wording.say("places"))
    return [*left_out, *told_sizes(layout, scene, port, sizes)]


def _top_of(layout: Layout, port: Port, between: Span) -> float:
    """How far up a view and what is told above it reach, from one place across to another."""
    shapes = [shape for mark in layout.marks for shape in _shapes(mark)]
    boxes = [bounds((shape,)) for shape in shapes]
    over = [
        high
        for left, _, right, high in boxes
        if left < between[1] and right > between[0] and port.top < high < port.top + ABOVE
    ]
    return max(over, default=port.top)


def _shapes(mark: Mark) -> Iterable[Shape]:
    return (text_shape(mark),) if isinstance(mark, Text) else lines_of(mark)


def _named(layout: Layout, scene: Scene, port: Port, at: float | None = None) -> None:
    """Each module's name where most of it is seen, else on a leader."""
    names = list(scene.by_module)
    forms = [form for name in names for form in scene.by_module[name]]
    if at is not None:
        away = -port.eye.to_viewer
        normal = (float(away[0]), float(away[1]), float(away[2]))
        kept = [form.beyond(normal, -at) for form in forms]
        forms = [form for form in kept if form is not None]
    places = seen_places(forms, port.eye, 6.0 * port.reduced)
    parts = scene.dossier.subject.parts
    for name in names:
        own = [
            p for f, p in zip(forms, places, strict=True) if parts[f.id].module == name and len(p)
        ]
        if not own:
            continue
        every = np.vstack(own)
        order = np.argsort(np.linalg.norm(every - every.mean(axis=0), axis=1), kind="stable")
        points = port.flat(every[order])
        words = shortened(name, NAME, LONGEST)
        if not layout.first(
            [Text((x, y - NAME / 2.0), words, NAME, "middle")] for x, y in points[:400]
        ):
            _ = any(leader(layout, tip, words, dot=True) for tip in points[:12])


def _planes(layout: Layout, port: Port, across: float, along: float) -> None:
    """Where the sections are cut: wide ends, arrows the way they are looked at, letters."""
    low, high = port.corner, (port.right, port.top)
    x = port.at((across, 0.0, 0.0))[0]
    y = port.at((0.0, along, 0.0))[1]
    marks: list[Mark] = []
    for end in (low[1] - 6.0, high[1] + 6.0):
        marks += [
            line((x, end - 3.0), (x, end + 3.0), WIDE),
            line((x, end), (x + 6.0, end)),
            _head((x + 8.0, end), 0.0),
            Text((x + 3.5, end + 1.2), "A", TITLE, "middle"),
        ]
    for end in (low[0] - 6.0, high[0] + 6.0):
        marks += [
            line((end - 3.0, y), (end + 3.0, y), WIDE),
            line((end, y), (end, y + 6.0)),
            _head((end, y + 8.0), np.pi / 2.0),
            Text((end + 2.8, y + 2.5), "B", TITLE, "middle"),
        ]
    layout.draw(marks)


def _head(tip: Point, toward: float) -> Area:
    return arrow(tip, toward)


def _notes(layout: Layout, scene: Scene, left_out: Sequence[str], eyes: Sequence[Eye]) -> None:
    """Where the vehicle is cut in these views, and what is not drawn, left of the title block."""
    wording = scene.dossier.wording
    notes = []
    if REAR in eyes:
        notes.append(wording.say("vehicle_note", at=wording.size(-_plane_of(scene, REAR))))
    if PLAN in eyes:
        notes.append(wording.say("vehicle_plan_note", height=wording.size(scene.level)))
    if scene.outside:
        notes.append(wording.say("outside_note", names=", ".join(scene.outside)))
    if PLAN in eyes:
        notes.append(wording.say("places_note"))
    if left_out:
        notes.append(wording.say("left_out_note", sizes=", ".join(left_out)))
    width = SPACE_WIDTH - TITLE_WIDTH - 26.0
    _paragraphs(layout, notes, width)


def _paragraphs(layout: Layout, notes: Sequence[str], width: float) -> None:
    lines = [words for note in notes for words in wrapped(note, NAME, width)]
    height = 4.0 * len(lines)
    for i, words in enumerate(lines):
        layout.draw([Text((2.0, 2.0 + height - 4.0 * (i + 1)), words, NAME)])
