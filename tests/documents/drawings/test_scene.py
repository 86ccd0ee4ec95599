"""What stands in the bay, and where sections are cut."""

import pytest
from dossiers import NAMES, dossier

from fitout.documents.drawings.scene import Scene


def test_only_what_stands_in_the_bay_is_drawn():
    scene = Scene(dossier("touring-wagon"))
    assert scene.outside == ("tools",)
    assert "tools" not in scene.by_module
    assert len(scene.forms) == sum(len(forms) for forms in scene.by_module.values())


def test_the_level_of_most_tops_is_the_decks():
    assert Scene(dossier("touring-wagon")).level == pytest.approx(525.0)


@pytest.mark.parametrize("name", NAMES)
def test_a_section_along_cuts_the_tank_and_no_board_along_its_faces(name):
    scene = Scene(dossier(name))
    at = scene.plane(1, ("water tank",))
    low, high = scene.spans(1, ["tank"])["tank"]
    assert low < at < high
    for form in scene.forms:
        a, b = form.vertices[:, 1].min(), form.vertices[:, 1].max()
        assert b - a >= 40.0 or not a < at < b


def test_a_section_across_goes_through_the_arches_where_it_can():
    scene = Scene(dossier("touring-wagon"))
    at = scene.plane(0, ("drawers", "fridge slide"))
    assert 318.0 < at < 842.0
    spans = scene.spans(0, ["drawers", "fridge"])
    assert all(low < at < high for low, high in spans.values())
