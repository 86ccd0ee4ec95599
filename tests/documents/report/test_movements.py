"""What can be opened, and what comes first."""

import dataclasses

import pytest

from fitout.checks.subject import Subject
from fitout.documents.dossier import Dossier
from fitout.documents.report.movements import movements_of
from fitout.model.module import MotionKind


def test_every_motion_has_its_slider_after_the_doors(wagon: Dossier) -> None:
    told = movements_of(wagon.subject).each
    motions = [m for module in wagon.fitout.modules for m in module.motions]
    assert [(m.module, m.label) for m in told] == [
        ("", "tailgate"), *((m.module, m.name) for m in motions)
    ]  # fmt: skip
    for movement, motion in zip(told[1:], motions, strict=True):
        assert movement.travel == pytest.approx(motion.travel)
        assert movement.turns == (motion.kind is MotionKind.HINGE)
        assert (0 in movement.needs) == (motion.tailgate == "open")


def test_a_lid_rides_on_what_it_covers(wagon: Dossier) -> None:
    told = movements_of(wagon.subject)
    (lid,) = told.loose
    slide, own = lid.follows
    assert told.each[slide].label == "fridge"
    assert told.each[own].label == "fridge lid"
    assert slide in told.each[own].needs
    assert told.follows["fridge/fridge"] == (slide,)


def test_a_module_taken_out_as_one_carries_its_drawers() -> None:
    from dossiers import dossier

    made = dossier("small-hatch")
    told = movements_of(made.subject)
    labels = [movement.label for movement in told.each]
    out, drawer = labels.index("lift out"), labels.index("drawer 1 left")
    assert told.each[out].lifted
    chains = {told.follows[part.id] for part in made.fitout.modules[0].parts()}
    assert (out, drawer) in chains
    assert all(chain[0] == out for chain in chains)


def test_a_motion_that_is_blocked_gets_as_far_as_it_does(wagon: Dossier) -> None:
    # The drawers' motion asks for more than there is behind the sill: a leaf's own swing stops.
    modules = list(wagon.fitout.modules)
    at = next(i for i, m in enumerate(modules) if m.name == "deck")
    piece = modules[at].motions[0]
    far = dataclasses.replace(piece, travel=3000.0)
    modules[at] = dataclasses.replace(modules[at], motions=(far,))
    fitout = dataclasses.replace(wagon.fitout, modules=tuple(modules))
    subject: Subject = dataclasses.replace(
        wagon.subject, fitout=fitout, modules={m.name: m for m in modules}
    )
    (told,) = [m for m in movements_of(subject).each if m.label == piece.name]
    assert piece.travel <= told.travel < 3000.0
