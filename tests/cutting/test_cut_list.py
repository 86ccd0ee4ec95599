"""The cut list: what is one line, in which order, with which sums."""

import dataclasses

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.cutting.cut_list import cut_list
from fitout.cutting.frame import Turn, reframed
from fitout.model.outline import Outline, circle, rectangle
from fitout.model.panel import Bar, Grain, Hole, Pocket
from fitout.model.placement import Placement
from fitout.model.stock import Section

TUBE = Section(
    key="tube 25", width=25.0, height=25.0, wall=2.0, density_kg_m3=2700.0, stock_length=3000.0
)


def bar(name="bar", length=500.0, holes=(), module="frame"):
    return Bar(
        name=name, module=module, section=TUBE, length=length, placement=Placement(), holes=holes
    )


def test_equal_panels_share_a_line(make):
    cuts = cut_list([make(name="left"), make(name="right", module="bin"), make(500.0)])
    assert [(line.number, line.quantity) for line in cuts.lines] == [("P01", 2), ("P02", 1)]
    line = cuts.line("P01")
    assert line.name == "left / right"
    assert line.modules == ("box", "bin")
    assert [panel.id for panel in line.panels] == ["box/left", "bin/right"]


def test_order_is_module_then_board_then_size(make, ply):
    thin = dataclasses.replace(ply, key="ply 6", thickness=6.4)
    panels = [
        make(300.0, name="c", module="second"),
        make(200.0, name="a", module="first"),
        make(400.0, name="d", module="second", board=thin),
        make(500.0, name="e", module="second"),
        make(600.0, name="b", module="first", board=thin),
    ]
    # "second" appears first, and "ply 12" sorts before "ply 6".
    assert [line.name for line in cut_list(panels).lines] == ["e", "c", "d", "a", "b"]


def test_one_line_measures(make):
    line = cut_list([make(200.0, 1000.0, grain=Grain.ALONG_V, scribed=True, edging="oil")]).lines[0]
    assert (line.length, line.width, line.thickness) == pytest.approx((1000.0, 200.0, 11.8))
    assert line.grain_locked
    assert line.scribed
    assert line.edging == "oil"
    assert line.mass_each_kg == pytest.approx(1.0 * 0.2 * 0.0118 * 680.0)
    # 0.2 m² of a sheet of 2.9768 m² that costs 100.
    assert line.price == pytest.approx(100.0 * 0.2 / 2.9768)


def test_no_sheet_price_no_share(make, ply):
    line = cut_list([make(board=dataclasses.replace(ply, price=None))]).lines[0]
    assert line.price is None


def test_scribed_is_told_if_any_copy_is(make):
    line = cut_list([make(name="a"), make(name="b", scribed=True)]).lines[0]
    assert line.quantity == 2
    assert line.scribed


def test_boards_of_other_thickness_are_other_parts(make, ply):
    other = dataclasses.replace(ply, thickness=12.1)
    assert len(cut_list([make(), make(name="b", board=other)]).lines) == 2


def test_every_copy_knows_its_place_in_the_bay(make):
    part = make(holes=(Hole(30.0, 40.0, 5.0),), placement=Placement((7.0, 8.0, 9.0)))
    turned = dataclasses.replace(reframed(part, Turn(2, flipped=True)), name="other")
    line = cut_list([part, turned]).lines[0]
    assert line.quantity == 2
    for panel in line.panels:
        hole = panel.holes[0]
        assert (hole.x, hole.y) == pytest.approx((30.0, 40.0))
        assert panel.centroid == pytest.approx(part.centroid, abs=1e-9)


def test_bars_group_by_section_length_and_holes(make):
    drilled = bar("c", holes=((20.0, 6.0), (300.0, 6.0)))
    end_for_end = bar("d", holes=((200.0, 6.0), (480.0, 6.0)))
    cuts = cut_list(
        [make()], [bar("a", 400.0), bar("b", 500.0), drilled, end_for_end, bar("e", 400.0)]
    )
    found = [(line.number, line.name, line.quantity) for line in cuts.bars]
    assert found == [("B01", "b", 1), ("B02", "c / d", 2), ("B03", "a / e", 2)]
    assert cuts.bars[2].mass_kg == pytest.approx(2 * 0.4 * 184e-6 * 2700.0)
    assert cuts.mass_kg == pytest.approx(
        cuts.lines[0].mass_kg + sum(line.mass_kg for line in cuts.bars)
    )


def test_an_unknown_number_is_refused(make):
    with pytest.raises(KeyError):
        cut_list([make()]).line("P02")


def test_numbers_keep_their_width(make):
    cuts = cut_list([make(100.0 + i, name=f"n{i}") for i in range(101)])
    assert (cuts.lines[0].number, cuts.lines[-1].number) == ("P001", "P101")


sizes = st.sampled_from([200.0, 250.5, 300.0, 410.25])


@settings(max_examples=25, deadline=None)
@given(
    rows=st.lists(
        st.tuples(sizes, sizes, st.sampled_from(Grain), st.booleans(), st.booleans()),
        min_size=1,
        max_size=12,
    ),
    shuffle=st.randoms(use_true_random=False),
)
def test_mass_is_the_sum_of_the_panels_whatever_their_order(make, rows, shuffle):
    panels = [
        make(
            name=f"n{i}",
            outline=Outline(rectangle(a, b), (circle(100, 100, 40),) if cut_out else ()),
            grain=grain,
            pockets=(Pocket(rectangle(60, 8, 20, 20), 5.0),) if sunk else (),
        )
        for i, (a, b, grain, cut_out, sunk) in enumerate(rows)
    ]
    cuts = cut_list(panels)
    assert cuts.mass_kg == pytest.approx(sum(panel.mass_kg for panel in panels), rel=1e-12)
    assert sum(line.quantity for line in cuts.lines) == len(panels)
    other = list(panels)
    shuffle.shuffle(other)

    def told(lines):
        return [(x.number, x.length, x.width, {p.id for p in x.panels}) for x in lines]

    # Names decide between parts of the same size, so only their order may differ.
    assert {frozenset(row[3]) for row in told(cut_list(other).lines)} == {
        frozenset(row[3]) for row in told(cuts.lines)
    }
