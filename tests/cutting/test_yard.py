"""What the timber yard cuts, and what is then still too large for the car."""

import dataclasses

import pytest

from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import Effort, nest
from fitout.cutting.plan import Cut, Rect
from fitout.cutting.yard import raw_parts, too_large_to_carry, yard_cuts
from fitout.model.cutting import CuttingSpec, OffcutSpec, SawSpec, StockSpec, YardSpec


def spec(**yard):
    return CuttingSpec(by="saw", kerf=3.0, trim=10.0, saw=SawSpec(yard=YardSpec(**yard)))


@pytest.fixture
def strips(make):
    """One sheet of three strips 380 wide along it."""
    cuts = cut_list([make(2420.0, 380.0, name=f"n{i}") for i in range(3)])
    (sheet,) = nest(cuts, CuttingSpec(by="saw", kerf=3.0, trim=10.0), Effort(work=0)).sheets
    return sheet


def test_without_limits_it_cuts_as_often_as_it_does(strips):
    for count in (1, 2):
        assert len(yard_cuts(strips, spec(cuts=count))) == count


def test_it_stops_once_every_piece_can_be_taken_along(strips):
    """1220 less 390 and the kerf leaves 827; less 380 and the kerf, 444."""
    assert len(yard_cuts(strips, spec(cuts=5, widest=1220.0))) == 0
    assert len(yard_cuts(strips, spec(cuts=5, widest=827.0))) == 1
    assert len(yard_cuts(strips, spec(cuts=5, widest=826.0))) == 2
    # 2440 × 827 × 11.8 mm at 680 kg/m³ are 16.19 kg.
    assert len(yard_cuts(strips, spec(cuts=5, heaviest=16.2))) == 1
    assert len(yard_cuts(strips, spec(cuts=5, heaviest=16.1))) == 2


def test_what_stays_too_large_is_told(strips):
    assert too_large_to_carry(strips, spec(cuts=2, widest=450.0)) == ()
    ((left, divides),) = too_large_to_carry(strips, spec(cuts=1, widest=450.0))
    assert (left.length, left.width, divides) == (2440.0, pytest.approx(827.0), True)
    # Strips stay as long as they are, and no cut would make them shorter.
    long = too_large_to_carry(strips, spec(cuts=3, longest=2000.0))
    assert len(long) == 4
    assert not any(divides for _, divides in long)
    assert too_large_to_carry(strips, dataclasses.replace(spec(), saw=SawSpec())) == ()


def test_what_is_at_home_the_yard_does_not_cut(make, ply):
    stock = StockSpec(offcuts=(OffcutSpec(sheet=ply.key, size=(900.0, 900.0), thickness=11.8),))
    plan = nest(cut_list([make()]), spec(cuts=3), Effort(work=0), stock)
    (sheet,) = plan.sheets
    assert sheet.origin == "offcut"
    assert yard_cuts(sheet, spec(cuts=3)) == ()


def test_the_kerf_lies_beyond_the_cut():
    cut = Cut(Rect(10.0, 10.0, 980.0, 480.0), across=True, at=300.0)
    first, second = raw_parts(cut, Rect(0.0, 0.0, 1000.0, 500.0), 3.0)
    assert (first, second) == (Rect(0.0, 0.0, 300.0, 500.0), Rect(303.0, 0.0, 697.0, 500.0))
    assert raw_parts(cut, Rect(0.0, 0.0, 303.0, 500.0), 3.0)[1] is None
