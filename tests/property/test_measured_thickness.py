"""A board's thickness as measured: every joint of the boards made of it changes with it."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout import workflow
from fitout.catalogue import names
from fitout.design_file import read_text
from fitout.model.finding import Severity
from fitout.model.outline import Outline
from fitout.modules.joinery import GROOVE_PLAY
from fitout.modules.registry import KINDS

TEXT = (Path(__file__).parents[2] / "designs" / "small-hatch.yaml").read_text(encoding="utf-8")
BOARDS = "  carcass: birch ply 9\n  drawer: birch ply 9\n  front: birch ply 9\n"


def evaluated(carcass, bottom):
    boards = (
        f"  carcass: {{sheet: birch ply 9, measured: {carcass}}}\n"
        "  drawer: birch ply 9\n  front: birch ply 9\n"
        f"  bottom: {{sheet: birch ply 6.5, measured: {bottom}}}\n"
    )
    assert BOARDS in TEXT
    text = TEXT.replace(BOARDS, boards)
    design = read_text(text, "hatch.yaml", {kind.kind: kind.spec for kind in KINDS}, names())
    return workflow.evaluate(design)


@settings(max_examples=5, deadline=None)
@given(carcass=st.floats(8.6, 9.6).map(lambda t: round(t, 1)),
       bottom=st.floats(6.0, 6.8).map(lambda t: round(t, 1)))  # fmt: skip
def test_every_joint_follows(carcass, bottom):
    evaluation = evaluated(carcass, bottom)
    panels = list(evaluation.fitout.panels())
    nine = [panel for panel in panels if panel.board.key == "birch ply 9"]
    assert nine
    assert {panel.thickness for panel in nine} == {carcass}
    grooves = [pocket for panel in panels for pocket in panel.pockets if pocket.holds]
    assert grooves
    for pocket in grooves:
        x0, y0, x1, y1 = Outline(pocket.loop).bounds
        assert min(x1 - x0, y1 - y0) == pytest.approx(bottom + GROOVE_PLAY)
    # What was joined still meets, and nothing runs into anything.
    failing = [f for f in evaluation.findings if f.severity is Severity.FAIL]
    assert [f.sentence for f in failing if "gap" in f.code] == []
    # Outer sizes are the berth's, whatever the boards measure; what lies within gives way.
    sides = {panel.name: panel for panel in panels if panel.module == "drawers"}
    bottoms = [panel for name, panel in sides.items() if name.endswith("bottom")]
    assert {panel.thickness for panel in bottoms if panel.board.key == "birch ply 6.5"} == {bottom}
