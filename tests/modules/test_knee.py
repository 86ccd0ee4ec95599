"""Whether boards bear a knee, lying flat and standing on edge."""

import dataclasses

import pytest

from fitout.catalogue import load
from fitout.modules.knee import bears_knee, edge_bears_knee, fields_for, parted

BIRCH = load().sheets["birch ply 12"]
"""E 10719 along and 6781 across, strength 42.9 and 33.2 N/mm²."""


def plain(**values):
    """A board alike in all directions, weightless, so that a beam's formula holds."""
    usual = {"e_along_mpa": 10_000.0, "e_across_mpa": 10_000.0, "shear_mpa": 5_000.0}
    usual |= {"strength_along_mpa": 1e6, "strength_across_mpa": 1e6, "density_kg_m3": 1e-6}
    return dataclasses.replace(BIRCH, **{**usual, **values})


def sag_of_a_strip(span, width, thickness, e_mpa):
    """A knee's share of 10 N per mm of width, spread over 100 mm of a beam's middle."""
    load, size, inertia = 10.0 * width, 100.0, width * thickness**3 / 12.0
    return load * (8.0 * span**3 - 4.0 * span * size**2 + size**3) / (384.0 * e_mpa * inertia)


@pytest.mark.parametrize(("edges", "turned"), [("u ends", False), ("v ends", True)])
def test_a_narrow_strip_bears_its_share_as_a_beam_does(edges, turned):
    """The stiffness at which a strip sags by just a hundredth of its span, and 3 % about it."""
    span, width = 400.0, 40.0
    e_mpa = sag_of_a_strip(span, width, 12.0, 1.0) / (span / 100.0)
    spans = (width, span) if turned else (span, width)
    for share, bears in ((0.97, False), (1.03, True)):
        board = plain(e_along_mpa=share * e_mpa, e_across_mpa=share * e_mpa)
        assert bears_knee(board, spans, edges, grain_along_u=True) is bears


def test_a_strip_is_stressed_to_half_its_strength_at_most():
    """M = 400 / 2 · (100 − 25) = 15 Nm on W = 40 · 12² / 6 = 960 mm³: 15.6 N/mm²."""
    span, width = 200.0, 40.0
    moment = 10.0 * width / 2.0 * (span / 2.0 - 25.0)
    stress = moment / (width * 12.0**2 / 6.0)
    for share, bears in ((1.9, False), (2.1, True)):
        strong = plain(strength_along_mpa=share * stress)
        assert bears_knee(strong, (span, width), "u ends", grain_along_u=True) is bears


def test_goods_count_besides_the_knee():
    spans = (240.0, 200.0)
    assert bears_knee(BIRCH, spans, "u ends", grain_along_u=True)
    assert not bears_knee(BIRCH, spans, "u ends", grain_along_u=True, load_kg=200.0)


def test_where_the_grain_may_run_either_way_the_weaker_counts():
    spans = (200.0, 330.0)
    across = bears_knee(BIRCH, spans, "v ends", grain_along_u=True)
    along = bears_knee(BIRCH, spans, "v ends", grain_along_u=False)
    assert (across, along) == (False, True)
    assert bears_knee(BIRCH, spans, "v ends") is False


def test_a_board_of_unknown_stiffness_gives_no_answer():
    unknown = dataclasses.replace(BIRCH, e_along_mpa=None)
    assert bears_knee(unknown, (300.0, 300.0), "all") is None
    assert fields_for(unknown, (300.0, 300.0), "all", 12.0) is None
    assert edge_bears_knee(unknown, 60.0, 300.0) is None


def test_without_a_strength_the_sag_decides():
    weak = plain(strength_along_mpa=1.0)
    assert not bears_knee(weak, (300.0, 200.0), "u ends", grain_along_u=True)
    free = plain(strength_along_mpa=None)
    assert bears_knee(free, (300.0, 200.0), "u ends", grain_along_u=True)


@pytest.mark.parametrize(("length", "width"), [(536.0, 180.0), (269.0, 64.0), (120.0, 60.0)])
def test_the_fewest_fields_that_bear_it(length, width):
    count = fields_for(BIRCH, (length, width), "u ends", 12.0)
    clear = (length - (count - 1) * 12.0) / count
    assert bears_knee(BIRCH, (clear, width), "u ends", grain_along_u=True)
    if count > 1:
        wider = (length - (count - 2) * 12.0) / (count - 1)
        assert not bears_knee(BIRCH, (wider, width), "u ends", grain_along_u=True)


def test_supports_part_a_stretch_evenly():
    """Three fields of 92 with two supports of 12 between them make 300."""
    assert parted(100.0, 400.0, 3, 12.0) == (192.0, 296.0)
    assert parted(100.0, 400.0, 1, 12.0) == ()


def test_a_strip_on_edge_bears_the_knee_by_mean_values():
    """W = 12 · 60² / 6 = 7200 mm³ at half of (42.9 + 33.2) / 2 = 19.0 N/mm²: 137 Nm or 548 mm."""
    assert edge_bears_knee(BIRCH, 60.0, 545.0)
    assert not edge_bears_knee(BIRCH, 60.0, 552.0)


def test_a_long_strip_on_edge_sags_too_far():
    """P L² / 48 E I is a hundredth at L² = 0.48 · 10 000 · 12 · 60³ / 12: 1018 mm."""
    board = plain()
    assert edge_bears_knee(board, 60.0, 1015.0)
    assert not edge_bears_knee(board, 60.0, 1022.0)
    assert edge_bears_knee(dataclasses.replace(board, strength_along_mpa=None), 60.0, 1015.0)
