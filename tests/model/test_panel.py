"""Panels and bars: volume, mass and centre of gravity with everything cut away."""

import dataclasses
import math

import pytest

from fitout.model.outline import Outline, circle, rectangle
from fitout.model.panel import Bar, Face, Grain, Hole, Panel, Pocket
from fitout.model.placement import Placement, X, Y, across_face_rear, along, flat
from fitout.model.stock import Board, Section

PLY = Board(
    key="ply 12", nominal=12.0, thickness=11.7, thickness_tolerance=0.4, density_kg_m3=680.0,
    length=2440.0, width=1220.0,
)  # fmt: skip


def panel(outline: Outline, **changes) -> Panel:
    given = {"name": "side", "module": "drawers", "board": PLY, "placement": flat(0.0, 0.0, 0.0)}
    return Panel(outline=outline, **{**given, **changes})


def test_plain_panel():
    part = panel(Outline(rectangle(700.0, 300.0)), placement=flat(10.0, 20.0, 30.0))
    assert part.id == "drawers/side"
    assert part.thickness == 11.7
    assert part.volume == pytest.approx(700.0 * 300.0 * 11.7)
    assert part.mass_kg == pytest.approx(0.7 * 0.3 * 0.0117 * 680.0)
    assert part.centroid == pytest.approx((360.0, 170.0, 35.85))


def test_what_is_cut_away_is_not_weighed():
    part = panel(
        Outline(rectangle(400.0, 200.0), (rectangle(100.0, 50.0, 20.0, 30.0),)),
        holes=(Hole(300.0, 60.0, 20.0), Hole(350.0, 150.0, 10.0, depth=6.0)),
        pockets=(Pocket(rectangle(150.0, 6.0, 200.0, 100.0), 5.0),),
    )
    through, blind = 100.0 * math.pi * 11.7, 25.0 * math.pi * 6.0
    volume = (80_000.0 - 5_000.0) * 11.7 - through - blind - 900.0 * 5.0
    assert part.volume == pytest.approx(volume)
    x = (80_000.0 * 200.0 - 5_000.0 * 70.0) * 11.7 - through * 300.0 - blind * 350.0
    x -= 4_500.0 * 275.0
    z = 75_000.0 * 11.7 * 5.85 - through * 5.85 - blind * (11.7 - 3.0) - 4_500.0 * (11.7 - 2.5)
    assert part.centroid[0] == pytest.approx(x / volume)
    assert part.centroid[2] == pytest.approx(z / volume)


@pytest.mark.parametrize(("face", "heavier_half"), [(Face.A, "lower"), (Face.B, "upper")])
def test_a_pocket_draws_the_centre_to_the_other_face(face, heavier_half):
    part = panel(
        Outline(rectangle(300.0, 300.0)),
        pockets=(Pocket(rectangle(200.0, 200.0, 50.0, 50.0), 6.0, face=face),),
    )
    middle = part.thickness / 2.0
    assert (part.centroid[2] < middle) == (heavier_half == "lower")
    assert part.centroid[:2] == pytest.approx((150.0, 150.0))


def test_centroid_follows_the_placement():
    shape = Outline(rectangle(100.0, 40.0))
    assert panel(shape, placement=along(0.0, 0.0, 0.0)).centroid == pytest.approx(
        (50.0, -5.85, 20.0)
    )
    assert panel(shape, placement=across_face_rear(0.0, 0.0, 0.0)).centroid == pytest.approx(
        (-5.85, -50.0, 20.0)
    )


def test_local_undoes_the_placement():
    part = panel(Outline(rectangle(100.0, 40.0)), placement=across_face_rear(200.0, 90.0, 15.0))
    assert part.local(part.placement.at(33.0, 7.0)) == pytest.approx((33.0, 7.0))
    assert part.local(part.placement.at(33.0, 7.0, 5.0)) == pytest.approx((33.0, 7.0))


def test_a_hole_is_a_circle():
    hole = Hole(10.0, 20.0, 8.0)
    assert hole.loop == circle(10.0, 20.0, 8.0)
    assert hole.depth is None
    assert hole.face is Face.A


def test_bars():
    tube = Section(
        key="tube", width=40.0, height=25.0, wall=2.0, density_kg_m3=2700.0, stock_length=6000.0
    )
    assert tube.area == pytest.approx(40.0 * 25.0 - 36.0 * 21.0)
    assert dataclasses.replace(tube, wall=None).area == 1000.0
    bar = Bar(
        name="post", module="barrier", section=tube, length=500.0,
        placement=Placement((0.0, 10.0, 0.0), X, Y),
    )  # fmt: skip
    assert bar.id == "barrier/post"
    assert bar.mass_kg == pytest.approx(244.0 * 500.0 * 2700.0e-9)
    assert bar.centroid == pytest.approx((250.0, 30.0, 12.5))


def test_records_are_frozen_and_slotted():
    part = panel(Outline(rectangle(10.0, 10.0)))
    for record in (part, part.outline, PLY, Hole(1.0, 1.0, 1.0), part.placement):
        field = dataclasses.fields(record)[0].name
        with pytest.raises(dataclasses.FrozenInstanceError):
            setattr(record, field, None)
        assert not hasattr(record, "__dict__")


def test_grain_names_the_panels_own_axes():
    assert panel(Outline(rectangle(10.0, 10.0))).grain is Grain.ALONG_U
    assert {str(g) for g in Grain} == {"along", "across", "either"}
