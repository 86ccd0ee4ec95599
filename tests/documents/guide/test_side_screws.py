"""Places of the screws from side to side: told, inside both panels, clear of all else."""

import numpy as np
import pytest
from dossiers import dossier

from fitout.checks.order_fasteners import reaches
from fitout.documents.guide.naming import Names
from fitout.documents.guide.side_screws import places, side_screws
from fitout.model.panel import Panel
from fitout.modules.fitting import within

PAIR = ("drawers/right side left", "drawers/left side right")


@pytest.mark.parametrize("name", ["small-hatch", "canopy-tub"])
def test_six_screws_lie_on_both_sides_clear_of_slides_holes_and_edge_screws(name):
    made = dossier(name)
    subject = made.subject
    rows = places(made, *PAIR, 6)
    points = [(x, 0.0, z) for z, row in rows for x in row]
    assert len(set(points)) == 6
    for id_ in PAIR:
        panel = subject.parts[id_]
        local = np.array([panel.local(point) for point in points])
        assert within(panel, local, 15.0).all()
        for hole in panel.holes:
            off = np.hypot(local[:, 0] - hole.x, local[:, 1] - hole.y)
            assert off.min() > hole.diameter / 2.0 + 3.5
    slides = [b for i, b in subject.bodies.items() if "slide" in i and i.startswith("drawers/")]
    near = [s for s in slides if any(abs(float(s.lo[1] - subject.bodies[i].hi[1])) < 1.0
            or abs(float(s.hi[1] - subject.bodies[i].lo[1])) < 1.0 for i in PAIR)]  # fmt: skip
    assert near
    for x, _, z in points:
        assert all(
            not (s.lo[0] - 5.0 < x < s.hi[0] + 5.0 and s.lo[2] - 5.0 < z < s.hi[2] + 5.0)
            for s in near
        )
        for plate in ("drawers/base", "drawers/top"):
            panel = subject.parts[plate]
            for hole in panel.holes:
                if any(reaches(panel, hole, subject.bodies[i]) for i in PAIR):
                    at = panel.placement.at(hole.x, hole.y)
                    assert abs(at[0] - x) > 7.0 or abs(at[2] - z) > 40.0


def test_the_guide_tells_as_many_places_as_screws_are_bought():
    made = dossier("small-hatch")
    step = next(s for s in made.steps if PAIR[1] in s.parts)
    assert ("column to column", "wood screw 3.5 x 16", 6) in step.uses
    (words,) = side_screws(made, *PAIR, Names(made.wording, step, {}))
    assert words.startswith("Drill these 6 screws as you place them")
    assert words.count(" above the lower edge") == 2


def test_panels_without_room_are_told_so_in_words():
    made = dossier("small-hatch")
    step = made.steps[0]
    (words,) = side_screws(made, *PAIR, Names(made.wording, step, {}), count=400)
    assert "have no holes drawn" in words


def test_only_upright_sides_have_such_places():
    made = dossier("small-hatch")
    assert isinstance(made.subject.parts["drawers/base"], Panel)
    assert places(made, "drawers/base", PAIR[0], 6) == ()
