"""What a step's picture shows, and from where."""

import pytest
from dossiers import NAMES, dossier

from fitout.documents.guide.staging import BARELY, Staging
from fitout.documents.views.sight import seen_places


def test_on_the_bench_only_its_own_assembly_is_there():
    made = dossier("touring-wagon")
    staging = Staging(made)
    for step in made.steps:
        if step.phase == "bench":
            stage = staging.stage(step)
            earlier = {
                part
                for other in made.steps[: step.number - 1]
                if other.what == step.what
                for part in other.parts
            }
            assert {form.id for form in stage.forms} == earlier | set(step.parts)
            assert stage.new == set(step.parts)


def test_in_the_vehicle_all_that_is_in_already_and_the_arches_are_there():
    made = dossier("touring-wagon")
    staging = Staging(made)
    last = [s for s in made.steps if s.phase == "vehicle" and s.what.startswith("deck")][-1]
    there = {form.id for form in staging.stage(last).forms}
    assert {form.id for form in staging.vehicle} <= there
    assert "drawers/top" in there
    assert "tools/base" not in there


@pytest.mark.parametrize("name", NAMES)
def test_what_is_new_is_seen_from_the_chosen_corner_or_shown_through(name):
    made = dossier(name)
    staging = Staging(made)
    for step in made.steps:
        stage = staging.stage(step)
        seen = seen_places(stage.forms, stage.eye, 12.0)
        new = sum(len(s) for f, s in zip(stage.forms, seen, strict=True) if f.id in stage.new)
        assert stage.through or new > 0, step.number
    assert BARELY > 0.0


def test_on_the_bench_no_new_part_is_hidden_where_a_corner_shows_all():
    """From the usual corner rails lie behind the barrier's panel, brackets under its shelf."""
    made = dossier("touring-wagon")
    staging = Staging(made)
    for part in ("barrier/panel", "barrier/shelf"):
        step = next(s for s in made.steps if part in s.parts and s.phase == "bench")
        stage = staging.stage(step)
        seen = seen_places(stage.forms, stage.eye, 12.0)
        new = [s for f, s in zip(stage.forms, seen, strict=True) if f.id in stage.new]
        assert len(new) > 2
        assert all(len(places) for places in new)
        assert stage.eye.name != "rear right"
