"""Each size of the arrangement once, where it is seen; in the plan each module's place."""

import pytest
from dossiers import NAMES, dossier, told_in

from fitout.documents.drawings.arrangement import arrangement_sheets
from fitout.documents.drawings.scene import Scene
from fitout.documents.drawings.sizes import shared_sizes, told_places, told_sizes
from fitout.documents.drawings.viewport import Port, Window
from fitout.documents.paper.layout import Layout
from fitout.documents.paper.marks import Text
from fitout.documents.view import PLAN, REAR, SIDE
from fitout.documents.views.hidden_lines import visible_lines


def _seen(scene):
    return {eye.name: visible_lines(scene.forms, eye) for eye in (PLAN, SIDE, REAR)}


@pytest.mark.parametrize("name", NAMES)
def test_every_different_size_of_a_module_is_told_in_one_view(name):
    scene = Scene(dossier(name))
    told = [size for sizes in shared_sizes(scene, _seen(scene)).values() for size in sizes]
    keys = [(size.axis, *(round(end, 1) for end in size.span)) for size in told if size.name]
    assert len(set(keys)) == len(keys)
    wanted = {
        (axis, *(round(end, 1) for end in span))
        for axis in range(3)
        for span in scene.spans(axis).values()
    }
    assert set(keys) == wanted


def test_what_stands_behind_the_drawers_is_told_in_the_plan():
    """The hatch's tank is 642.4 wide with its base, of which nothing is seen from behind."""
    scene = Scene(dossier("small-hatch"))
    sizes = shared_sizes(scene, _seen(scene))
    widths = {eye: [s.name for s in sizes[eye.name] if s.axis == 1 and s.name]
              for eye in (REAR, PLAN)}  # fmt: skip
    assert widths == {REAR: ["drawers"], PLAN: ["tank"]}


@pytest.mark.parametrize("name", NAMES)
def test_no_sheet_tells_a_number_in_two_views_and_none_is_left_out(name):
    """The demos' sizes all find room; heights are not told again beside the rear view."""
    made = dossier(name)
    for sheet in arrangement_sheets(made):
        words = [m.text for m in sheet.marks if isinstance(m, Text)]
        assert not any(word.startswith("Sizes that find no room") for word in words)
        if sheet.name == "GA1":
            heights = [m.text for m in sheet.marks if isinstance(m, Text) and m.turned == 90.0]
            assert len(set(heights)) == len(heights)


@pytest.mark.parametrize("entries", [{}, {"projection": "first angle"}])
def test_the_plan_tells_how_far_modules_stand_from_the_sill_and_the_middle(entries):
    made = told_in(dossier("canopy-tub"), **entries)
    scene = Scene(made)
    words = {m.text for s in arrangement_sheets(made) for m in s.marks if isinstance(m, Text)}
    told = made.wording.length
    for axis in (0, 1):
        for name, span in scene.spans(axis).items():
            for end in span:
                assert {told(abs(end)), f"{told(abs(end))} {name}"} & words, (name, end)
    assert made.wording.say("places_note") in words


def test_an_end_that_is_not_seen_has_its_module_s_name():
    """The wagon's fridge ends under the deck."""
    made = dossier("touring-wagon")
    front = Scene(made).spans(0)["fridge"][1]
    words = {m.text for s in arrangement_sheets(made) for m in s.marks if isinstance(m, Text)}
    assert f"{made.wording.length(front)} fridge" in words


def test_what_finds_no_room_is_named():
    scene = Scene(dossier("small-hatch"))
    seen = _seen(scene)
    port = Port(SIDE, Window(-200.0, -50.0, 900.0, 800.0), 10.0, (5.0, 5.0))
    narrow = Layout((0.0, 0.0, 120.0, 95.0))
    left_out = told_sizes(narrow, scene, port, shared_sizes(scene, seen)[SIDE.name])
    assert any(words.startswith("drawers ") for words in left_out)
    plan = Port(PLAN, Window(-50.0, -600.0, 900.0, 600.0), 10.0, (2.0, 2.0))
    assert not told_places(Layout((0.0, 0.0, 100.0, 125.0)), scene, plan, seen[PLAN.name])
