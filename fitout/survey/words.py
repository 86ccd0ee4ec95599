"""The bay's measured numbers, and what notes measure, in the words a builder would use."""

from __future__ import annotations

from collections.abc import Sequence

from fitout.model.fault import Path
from fitout.model.notes import NoteSpec

SINGLE: dict[Path, str] = {
    ("wheel_arches", "from"): "rear end of the wheel arches",
    ("wheel_arches", "to"): "front end of the wheel arches",
    ("wheel_arches", "height"): "height of the wheel arches",
    ("wheel_arches", "between"): "width between the wheel arches",
    ("wheel_arches", "between", "left"): "centre line to the left wheel arch",
    ("wheel_arches", "between", "right"): "centre line to the right wheel arch",
    ("seat_back", "foot"): "depth to the seat back's foot",
    ("seat_back", "leans"): "lean of the seat back",
    ("seat_back", "top"): "height of the seat back's upper edge",
    ("front_wall",): "depth to the front wall",
    ("opening", "lip"): "height of the sill's lip",
    ("opening", "height"): "height of the opening's upper edge",
}
"""Numbers of which a bay has one, by their key path."""

SEAT_LEVEL, FLOOR_LEVEL = "level on the seat back", "level on the floor"
"""What notes of angles measure."""


def entry_words(path: Path, order: Sequence[int]) -> str:
    """A measured number by its key path below `bay`.

    `order` lists the sections of the file from the sill forward; they are numbered so.
    """
    if path in SINGLE:
        return SINGLE[path]
    if path[0] == "sections":
        section = f"section {order.index(int(path[1])) + 1}"
        if path[2] == "at":
            return f"{section}'s distance from the sill"
        if path[2] == "roof":
            return f"roof height at {section}"
        return f"{_across(path[4:], 'wall')} at {section}, {path[3]} up"
    if path[0] == "opening":
        return f"{_across(path[3:], 'jamb')} of the opening, {path[2]} up"
    if path[0] == "tailgate":
        return f"tailgate's inner face, {path[2]} up"
    return " ".join(str(step).replace("_", " ") for step in path)


def _across(side: Path, what: str) -> str:
    return f"centre line to the {side[0]} {what}" if side else "width"


def describe(note: NoteSpec) -> str:
    """What a note measures."""
    if note.between is not None:
        return f"{note.between[0]} to {note.between[1]}"
    if note.across is not None:
        return f"width {note.across[0]:g} forward, {note.across[1]:g} up"
    if note.up is not None:
        return f"roof height {note.up:g} forward"
    if note.forward is not None:
        return f"depth {note.forward:g} up"
    if note.string is not None:
        return f"{note.offset_to} off the string {note.string[0]} to {note.string[1]}"
    if note.angle is None and isinstance(note.supersedes, str):
        return note.supersedes
    return SEAT_LEVEL if note.angle == "seat_back" else FLOOR_LEVEL
