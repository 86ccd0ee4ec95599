"""Conflicts of wishes, remarks of modules, parts no sheet can give."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.arrange.wishes import Conflict, Line, Wish
from fitout.checks.arrangement import check_arrangement, check_remarks, check_sheets
from fitout.model.finding import Severity
from fitout.model.module import Remark
from fitout.model.panel import Grain

Make = Callable[..., Any]


def test_room_for_all(subject: Make, module: Make) -> None:
    tray = module("tray", in_bay=False)
    (finding,) = check_arrangement(subject(module("a"), module("b"), tray))
    assert (finding.severity, finding.value) == (Severity.PASS, 2.0)
    assert finding.sentence == "Modules with the room they asked for: 2 of 2."


def test_each_conflict_names_its_modules_and_millimetres(subject: Make, module: Make) -> None:
    wishes = (
        Wish(text="a's width of 700", line=Line(()), path=("modules", "a", "width")),
        Wish(text="a stands left of b", line=Line(()), path=("modules", "a", "left_of")),
        Wish(text="b's width of 600", line=Line(()), path=("modules", "b", "width")),
        Wish(text="the left wall", line=Line(()), path=("bay",), gives=False),
    )
    conflict = Conflict(axis="across", by=108.0, wishes=wishes)
    finding, rest = check_arrangement(subject(module("a"), module("b"), conflicts=[conflict]))
    assert rest.severity is Severity.UNCHECKED
    assert finding.severity is Severity.FAIL
    assert (finding.where, finding.value, finding.margin) == ("a, b", -108.0, -108.0)
    assert finding.sentence == conflict.sentence


def test_remarks_of_a_module_are_cautions(subject: Make, module: Make) -> None:
    whole = module("a", remarks=(Remark("open deck", "The deck stays open."),))
    (finding,) = check_remarks(subject(whole))
    assert (finding.code, finding.where) == ("open deck", "a")
    assert finding.severity is Severity.CAUTION
    assert finding.sentence == "The deck stays open."


@pytest.mark.parametrize(
    ("length", "width", "grain", "over"),
    [
        (2400.0, 1200.0, Grain.ALONG_U, None),
        (2500.0, 1200.0, Grain.ALONG_U, 20.0),
        (1200.0, 2400.0, Grain.ALONG_V, None),
        (1200.0, 2400.0, Grain.ALONG_U, 1170.0),
        (1200.0, 2400.0, Grain.EITHER, None),
        (2400.0, 1240.0, Grain.EITHER, 10.0),
    ],
)
def test_sheets(
    subject: Make,
    module: Make,
    panel: Make,
    length: float,
    width: float,
    grain: Grain,
    over: float | None,
) -> None:
    """A sheet of 2500 × 1250 with 10 trimmed all round gives 2480 × 1230 along its grain."""
    board = panel("a/board", (0.0, length), (0.0, width), 100.0, grain=grain)
    found = list(check_sheets(subject(module("a", board))))
    if over is None:
        assert found == []
        return
    (finding,) = found
    assert finding.severity is Severity.FAIL
    assert (finding.where, finding.value) == ("a/board", pytest.approx(-over))
    assert (
        "does not go on a sheet of test ply 10 (2500 × 1250, edges trimmed by 10)"
        in finding.sentence
    )


@pytest.mark.parametrize(
    ("length", "width", "grain", "told"),
    [
        (2500.0, 1200.0, Grain.ALONG_U, "it is 20 mm too long. One of these could give: the depth"),
        (
            1200.0,
            1394.0,
            Grain.ALONG_U,
            "it is 164 mm too wide. One of these could give: the width",
        ),
        (
            1394.0,
            1200.0,
            Grain.ALONG_V,
            "it is 164 mm too wide. One of these could give: the depth",
        ),
        (
            2481.0,
            1235.0,
            Grain.EITHER,
            "it is 1 mm too long and 5 mm too wide. One of these could give: the depth of a, "
            "the width",
        ),
    ],
)
def test_only_what_exceeds_the_sheet_is_told_and_what_could_give(
    subject: Make, module: Make, panel: Make, length: float, width: float, grain: Grain, told: str
) -> None:
    board = panel("a/board", (0.0, length), (0.0, width), 100.0, grain=grain)
    (finding,) = check_sheets(subject(module("a", board)))
    assert f"{told} of a; a larger sheet (under `boards:`); a butt joint" in finding.sentence


@pytest.mark.parametrize(
    ("length", "width", "grain", "told"),
    [
        (2500.0, 1200.0, Grain.ALONG_U, "over a bearer at 1250 mm of its length."),
        (5200.0, 1200.0, Grain.ALONG_U, "over a bearer at 1733, 3467 mm of its length."),
        (1200.0, 1394.0, Grain.ALONG_U, "over a bearer at 697 mm of its width."),
        (2481.0, 1235.0, Grain.EITHER, "at 1240 mm of its 2481 mm and at 618 mm of its 1235 mm."),
    ],
)
def test_the_joint_that_would_split_it_is_told(
    subject: Make, module: Make, panel: Make, length: float, width: float, grain: Grain, told: str
) -> None:
    board = panel("a/board", (0.0, length), (0.0, width), 100.0, grain=grain)
    (finding,) = check_sheets(subject(module("a", board)))
    assert finding.sentence.endswith(told)


def test_a_design_fails_by_what_it_is_too_wide(evaluated: Make, only: Make) -> None:
    """700 and 520, 2 between, 3 to either wall, in 1200: 28 too much."""
    fits = "a: {kind: drawers, width: 650}", "b: {kind: drawers, width: 520, right_of: a}"
    assert {f.severity for f in only(evaluated(*fits), "arrangement")} == {Severity.PASS}
    wide = "a: {kind: drawers, width: 700}", "b: {kind: drawers, width: 520, right_of: a}"
    (finding,) = only(evaluated(*wide), "arrangement")
    assert finding.severity is Severity.FAIL
    assert finding.margin == pytest.approx(-28.0)
    assert finding.where == "a, b"
    assert "these wishes collide by 28.0 mm" in finding.sentence


def test_a_design_fails_when_its_sheet_is_too_small(evaluated: Make, only: Make) -> None:
    drawers = "a: {kind: drawers, width: 1000}"
    small = "catalogue: {sheets: {small ply: {like: birch ply 12, length: 900, width: 600}}}"
    assert only(evaluated(drawers), "sheet size") == []
    found = only(
        evaluated(drawers, more=f"{small}\nboards: {{deck: {{sheet: small ply}}}}"), "sheet size"
    )
    assert [f.severity for f in found] == [Severity.FAIL]
    assert "small ply" in found[0].sentence


def test_drawers_in_a_long_bay_are_as_deep_as_their_sheets_give(
    evaluated: Make, only: Make
) -> None:
    """Of 1520 fore and aft a sheet of 1220 gives 1190; a depth asked for is told of."""
    long = "front_wall: 1520"
    found = evaluated("a: {kind: drawers, width: 800}", front=long)
    assert only(found, "sheet size") == []
    assert found.fitout.modules[0].berth.size[0] == pytest.approx(1190.0)
    (finding,) = only(
        evaluated("a: {kind: drawers, width: 800, depth: 1300}", front=long), "sheet size"
    )
    assert finding.sentence.endswith(
        "it is 100 mm too wide. One of these could give: the depth of a; a larger sheet "
        "(birch ply 12 square, `boards: deck:`); a butt joint over a bearer at 650 mm of its width."
    )
