"""Governing clearances: the same as the findings', shown where they are square."""

import numpy as np
import pytest
from dossiers import NAMES, dossier

from fitout.documents.drawings.clearances import governing, listed, marked, plain, shared_out
from fitout.documents.drawings.sketch import SPACE, TITLE_BLOCK
from fitout.documents.drawings.viewport import Port, Window
from fitout.documents.paper.layout import Layout
from fitout.documents.paper.marks import Text
from fitout.documents.paper.room import overlaps
from fitout.documents.view import REAR, SIDE
from fitout.documents.wording import Wording


@pytest.mark.parametrize("name", NAMES)
def test_they_are_those_of_the_findings(name):
    made = dossier(name)
    told = {
        finding.where: (finding.value, finding.limit)
        for finding in made.findings
        if finding.code in ("gap to the vehicle", "gap between parts")
    }
    found = governing(made)
    assert found
    for clearance in found:
        value, limit = told[f"{clearance.a} – {clearance.b}"]
        assert clearance.witness.gap == pytest.approx(value, abs=0.02)
        assert clearance.limit == pytest.approx(limit)
    assert [c.spare for c in found] == sorted(c.spare for c in found)


def ports():
    window = Window(-800.0, -50.0, 1300.0, 1050.0)
    return [(Port(eye, window, 10.0, (60.0, 100.0)), 0.0) for eye in (REAR, SIDE)]


def test_each_is_shown_where_it_lies_square():
    found = governing(dossier("touring-wagon"))
    across, along = shared_out(found, ports())
    for clearances, eye in ((across, REAR), (along, SIDE)):
        for clearance in clearances:
            assert abs(float(np.array(clearance.witness.direction) @ eye.to_viewer)) < 0.36
    assert any(c.b == "bay/seat back at 21°" for c in along)


def test_marks_and_rows_belong_together_and_overlap_nothing():
    layout = Layout(SPACE, (TITLE_BLOCK,))
    _, along = shared_out(governing(dossier("touring-wagon")), ports())
    rows = marked(layout, ports()[1][0], along, Wording())
    listed(layout, rows, Wording(), (0.0, 54.0))
    letters = [m.text[0] for m in layout.marks if isinstance(m, Text) and m.layer == "DIMENSION"]
    assert letters == [row[0] for row in rows]
    assert len(rows) >= 6
    assert overlaps(layout.marks) == []


def test_names_in_words():
    assert plain("bay/left wall") == "left wall"
    assert plain("tank/tank") == "tank"
    assert plain("drawers/base") == "drawers: base"


def test_a_base_board_s_thickness_is_no_clearance():
    """Sides stand on their base: the way from them to the floor leads through it."""
    for name in NAMES:
        told = {(clearance.a, clearance.b) for clearance in governing(dossier(name))}
        assert not [a for a, b in told if b == "bay/floor" and "side" in a]
    assert ("tank/tank", "bay/floor") not in {
        (c.a, c.b) for c in governing(dossier("touring-wagon"))
    }


def test_names_are_wrapped_before_they_are_cut():
    layout = Layout(SPACE, (TITLE_BLOCK,))
    long = "bins left: divider 3 in front of the wheel arch – left wheel arch"
    listed(layout, [(chr(97 + i), long, "2.3", "2") for i in range(6)], Wording(), (0.0, 54.0))
    words = [m.text for m in layout.marks if isinstance(m, Text)]
    assert not any("…" in word for word in words)
    assert sum(word.startswith("bins left") for word in words) == 6
    crowded = Layout(SPACE, (TITLE_BLOCK,))
    listed(crowded, [(chr(97 + i), long, "2.3", "2") for i in range(16)], Wording(), (0.0, 54.0))
    assert sum(isinstance(m, Text) and "…" in m.text for m in crowded.marks) == 16
