"""Boards measured far from what their sheets are sold as."""

from collections.abc import Callable
from typing import Any

import pytest

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
