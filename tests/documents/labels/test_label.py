"""One label: what it says, what a small one leaves out, and where its marks are."""

import dataclasses

import pytest

from fitout.documents.facing import Facing
from fitout.documents.labels.label import INSET, LINES, Part, label
from fitout.documents.paper.fonts import text_width
from fitout.documents.paper.marks import Area, Mark, Text
from fitout.documents.wording import Wording
from fitout.model.outline import rectangle

PART = Part(
    number="P07",
    copy=(2, 3),
    sheet="S02",
    name="left side",
    module="drawers",
    material="birch ply 12",
    size=(786.2, 501.0, 12.0),
    face="left",
    outline=rectangle(786.2, 501.0),
    grain=True,
    facing=Facing("top", 90.0),
)
TOLD = {
    "name": "left side",
    "size": "786.2 x 501 x 12 mm",
    "face": "this face looks to the left",
    "module": "drawers",
    "material": "birch ply 12",
}


def texts(marks: list[Mark]) -> list[str]:
    return [mark.text for mark in marks if isinstance(mark, Text)]


def test_a_label_says_it_all() -> None:
    told = texts(label(PART, (63.5, 33.9), Wording()))
    assert {"P07", "2/3", "S02", "UP", *TOLD.values()} == set(told)


def test_german_and_inches() -> None:
    told = texts(label(PART, (63.5, 33.9), Wording("de", "in")))
    assert "OBEN" in told
    assert "diese Seite schaut nach links" in told
    assert "30 15/16 x 19 23/32 x 15/32 in" in " ".join(told)


def test_small_labels_leave_lines_out_from_the_last_on() -> None:
    before = len(LINES)
    for height in (33.9, 28.0, 24.0, 21.0, 18.0, 16.0):
        told = " ".join(texts(label(PART, (63.5, height), Wording())))
        there = [TOLD[key] in told for key in LINES]
        assert there == sorted(there, reverse=True)
        assert "P07" in told
        assert sum(there) <= before
        before = sum(there)
    assert before < len(LINES)


@pytest.mark.parametrize("height", [33.9, 25.4, 16.0])
@pytest.mark.parametrize("width", [70.0, 63.5, 35.0])
def test_texts_stay_on_the_label_clear_of_the_code(width: float, height: float) -> None:
    long = dataclasses.replace(
        PART, name="a very long name that a builder gave \U0001f600 " * 3, module="m" * 60
    )
    marks = label(long, (width, height), Wording())
    code = next(mark for mark in marks if isinstance(mark, Area) and mark.layer == "CODE")
    left = min(x for ring in code.rings for x, _ in ring)
    top = max(y for ring in code.rings for _, y in ring)
    for mark in marks:
        if not isinstance(mark, Text) or mark.turned or mark.anchor == "middle":
            continue
        right = mark.at[0] + text_width(mark.text, mark.height, bold=mark.bold)
        assert right <= width
        assert mark.at[1] >= INSET - 0.5 - 1e-9
        assert mark.at[1] + mark.height <= height
        assert right <= left - 4 * 0.5 or mark.at[1] >= top + 4 * 0.5


def test_no_size_is_shortened() -> None:
    marks = label(PART, (35.0, 33.9), Wording("en", "in"))
    told = texts(marks)
    assert "30 15/16 x 19 23/32 x 15/32 in" in " ".join(told)
    assert {"30 15/16 x", "19 23/32 x", "15/32 in"} <= set(told)


@pytest.mark.parametrize(
    ("angle", "beyond"),
    [(0.0, "right"), (90.0, "upper"), (180.0, "left"), (270.0, "lower")],
)
def test_the_mark_stands_at_the_edge_that_is_up(angle: float, beyond: str) -> None:
    part = dataclasses.replace(PART, facing=Facing("top", angle))
    marks = label(part, (63.5, 33.9), Wording())
    wedge = next(m for m in marks if isinstance(m, Area) and m.layer != "CODE").rings[0]
    outline = next(m for m in marks if getattr(m, "closed", False)).points
    tip = wedge[2]
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    assert {
        "right": tip[0] > max(xs),
        "left": tip[0] < min(xs),
        "upper": tip[1] > max(ys),
        "lower": tip[1] < min(ys),
    }[beyond]
