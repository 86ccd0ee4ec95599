"""Boards measured far from what they are sold as; edging and allowances too large for parts."""

import dataclasses
from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.entries import check_left_on
from fitout.model.finding import Severity

Make = Callable[..., Any]

DRAWERS = "drawers: {kind: drawers, width: 650}"


@pytest.mark.parametrize(
    ("sheet", "measured", "doubted"),
    [
        ("birch ply 12", "11.7", False),
        ("birch ply 12", "13.7", False),
        ("birch ply 12", "10.1", True),
        ("birch ply 12", "13.9", True),
        ("birch ply 4", "3.6", False),
        ("birch ply 4", "3.3", True),
    ],
)
def test_a_board_measured_far_from_what_it_is_sold_as(
    evaluated: Make, only: Make, sheet: str, measured: str, doubted: bool
) -> None:
    """Told once, however many purposes it serves."""
    boards = (
        f"boards: {{bottom: {{sheet: {sheet}, measured: {measured}}}, tray: {{sheet: {sheet}}}}}"
    )
    found = only(evaluated(DRAWERS, more=boards), "entry")
    assert [f.severity for f in found] == [Severity.CAUTION] * doubted
    for finding in found:
        assert finding.where == f"boards: {sheet}"
        assert finding.sentence.startswith(f"{sheet} is entered as {measured} mm thick")
        assert f"sold as {sheet.split()[-1]}:" in finding.sentence


def test_what_the_catalogue_itself_says_is_not_doubted(evaluated: Make, only: Make) -> None:
    own = "catalogue: {sheets: {my ply: {like: birch ply 12, thickness: 9.5}}}"
    boards = "boards: {bottom: {sheet: my ply}}"
    assert only(evaluated(DRAWERS, more=f"{own}\n{boards}"), "entry") == []


@pytest.mark.parametrize(("thickness", "doubted"), [("2", False), ("11.8", False), ("22", True)])
def test_edging_thicker_than_its_board(
    evaluated: Make, only: Make, thickness: str, doubted: bool
) -> None:
    boards = f"{{sheet: birch ply 12, measured: 11.8, edging: {{thickness: {thickness}}}}}"
    found = only(evaluated(DRAWERS, more=f"boards: {{front: {boards}}}"), "entry")
    assert [f.severity for f in found] == [Severity.CAUTION] * doubted
    for finding in found:
        assert finding.where == "boards: birch ply 12"
        assert finding.sentence.startswith(f"Edging of {thickness} mm is thicker than the 11.8 mm")


@pytest.mark.parametrize(
    ("allowance", "width", "doubted"),
    [(10.0, 60.0, False), (14.0, 150.0, False), (14.0, 130.0, True), (30.0, 130.0, True)],
)
def test_more_left_on_to_be_scribed_than_a_tenth_of_a_part(
    subject: Make, module: Make, panel: Make, allowance: float, width: float, doubted: bool
) -> None:
    """A part that lies at the right wall is cut larger there; ten millimetres are usual."""
    part = panel("m/top", (0.0, 400.0), (-597.0, -597.0 + width), z=300.0, scribed=True)
    plain = subject(module("m", part))
    cutting = dataclasses.replace(plain.cutting, scribe_allowance=allowance)
    looked_at = dataclasses.replace(plain, cutting=cutting)
    (cut,) = looked_at.cut_panels()
    assert cut.scribe is not None
    found = list(check_left_on(looked_at))
    assert [f.severity for f in found] == [Severity.CAUTION] * doubted
    for finding in found:
        assert f"a tenth of m/top, {width:.0f} mm wide" in finding.sentence
