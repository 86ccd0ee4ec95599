"""Ribs, thicker sheets and turned grain: what is advised passes when it is checked again."""

import dataclasses
import re
from collections.abc import Callable
from typing import Any

import pytest

from fitout import catalogue
from fitout.checks.bending import bent_panel
from fitout.checks.loads import panel_details
from fitout.checks.panel_cures import panel_cure
from fitout.model.module import PlateDuty
from fitout.model.panel import Grain
from fitout.model.placement import along

Make = Callable[..., Any]

SHEETS = catalogue.load({}).sheets


def duty(**entries: Any) -> PlateDuty:
    usual = {"panel": "a/shelf", "load_kg": 60.0, "spans": (800.0, 640.0), "edges": "all"}
    return PlateDuty(**{"purpose": "its goods", **usual, **entries})


@pytest.fixture
def cure(subject: Make, module: Make, panel: Make) -> Callable[..., str]:
    """What is advised for a panel of 840 × 680 at z = 300, with what else is there."""

    def ask(wanted: PlateDuty, *others: Any, **entries: Any) -> str:
        usual = {"board": SHEETS["birch ply 9"], "grain": Grain.ALONG_U, **entries}
        part = panel("a/shelf", (0.0, 840.0), (-340.0, 340.0), 300.0, **usual)
        whole = subject(module("a", part, *others, plates=(wanted,)))
        return panel_cure(whole, part, wanted)

    return ask


def test_a_rib_is_told_where_it_goes(cure: Make) -> None:
    """In the middle of the span, from the panel's edge: 20 beyond the span and a half of it."""
    told = cure(duty())
    found = re.search(
        r"[Aa] rib of birch ply 12, (\d+) high, at (\d+) mm from its (\w+) edge", told
    )
    assert found
    assert (found[2], found[3]) in {("420", "rear"), ("340", "right")}
    assert re.search(r"it then sags \d+\.\d mm", told)


def test_what_takes_less_wood_comes_first(cure: Make) -> None:
    """One low rib against three millimetres all over; for a knee, high ribs against six."""
    told = cure(duty())
    assert told.index("rib") < told.index("birch ply 12 would do (")
    told = cure(duty(edges="v ends", load_kg=0.0, patch=True))
    assert told.startswith("Ribs of birch ply 12, 80 high, along both free edges and at 287 and")
    assert told.index("Ribs") < told.index("birch ply 15 would do (")
    told = cure(duty(edges="v ends", load_kg=0.0, patch=True), board=SHEETS["birch ply 12"])
    assert told.index("birch ply 15 would do (") < told.index("ribs of")


def test_no_rib_where_something_is_beneath(cure: Make, item: Make) -> None:
    """Ten millimetres of room leave none for a rib; thicker it must be."""
    below = item("a/tank", (0.0, 840.0), (-340.0, 340.0), (0.0, 290.0))
    told = cure(duty(), below)
    assert "rib" not in told
    assert "would do" in told


def test_a_panel_that_stands_gets_no_ribs(subject: Make, module: Make, panel: Make) -> None:
    part = panel("a/shelf", (0.0, 840.0), (0.0, 680.0), 0.0, board=SHEETS["birch ply 9"])
    part = dataclasses.replace(part, placement=along(0.0, 0.0, 0.0))
    wanted = duty()
    assert "rib" not in panel_cure(subject(module("a", part, plates=(wanted,))), part, wanted)


def test_the_grain_is_turned_where_that_does(
    cure: Make, subject: Make, module: Make, panel: Make
) -> None:
    """A strip that spans along v, its grain along u: turned it is stiffer by 10 719 to 6 781."""
    board = SHEETS["birch ply 12"]
    wanted = duty(edges="v ends", load_kg=30.0)
    weak, strong = (
        bent_panel(subject(module("a")).memory, board, wanted, grain)
        for grain in (Grain.ALONG_U, Grain.ALONG_V)
    )
    assert weak is not None
    assert strong is not None
    between = dataclasses.replace(wanted, most_sag=(weak.sag + strong.sag) / 2.0)
    told = cure(between, board=board)
    assert told.startswith("With its face grain along its 680 mm it would do")
    assert f"it then sags {strong.sag:.1f} mm" in told


def test_what_is_advised_passes(subject: Make, module: Make, panel: Make) -> None:
    """The sheet that a failing panel is told of is tried in its place."""
    wanted = duty()
    part = panel("a/shelf", (0.0, 840.0), (-340.0, 340.0), 300.0, board=SHEETS["birch ply 4"])
    told = panel_cure(subject(module("a", part, plates=(wanted,))), part, wanted)
    sheet = re.search(r"(birch ply [\d.]+) would do \(", told)
    assert sheet
    better = dataclasses.replace(part, board=SHEETS[sheet[1]])
    whole = subject(module("a", better, plates=(wanted,)))
    details = [d for m in whole.fitout.modules for d in panel_details(whole, m)]
    assert all((d.share or 0.0) <= 1.0 for d in details)


def test_nothing_does(cure: Make) -> None:
    assert cure(duty(load_kg=9_000.0)).startswith("No thicker sheet of its sort would do")
