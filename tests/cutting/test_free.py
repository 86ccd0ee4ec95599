"""The router's placing engine, rule by rule."""

import itertools

import pytest
import shapely

from fitout.cutting.free import RULES, apart, fill
from fitout.cutting.layout import Blank
from fitout.cutting.plan import Rect


def blanks(*sizes, turnable=False):
    return [Blank(f"P{i}", 1, *size, turnable) for i, size in enumerate(sizes)]


def box(rect):
    return shapely.box(rect.x, rect.y, rect.x + rect.length, rect.y + rect.width)


@pytest.mark.parametrize("rule", RULES)
def test_each_rule_lays_each_blank_once_and_knows_all_that_is_free(rule):
    wanted = blanks((60, 40), (50, 50), (30, 20), (90, 10), (20, 70), turnable=True)
    layouts = fill(wanted, (100.0, 100.0), rule)
    laid = [p.blank for layout in layouts for p in layout.laid]
    assert sorted(laid, key=lambda b: b.number) == wanted
    for layout in layouts:
        taken = []
        for p in layout.laid:
            size = (p.blank.length, p.blank.width)
            taken.append(box(Rect(p.x, p.y, *(size[::-1] if p.turned else size))))
        for a, b in itertools.combinations(taken, 2):
            assert a.intersection(b).area == pytest.approx(0.0, abs=1e-9)
        rest = shapely.box(0, 0, 100, 100).difference(shapely.union_all(taken))
        free = shapely.union_all([box(r) for r in layout.free])
        assert free.symmetric_difference(rest).area == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize(
    ("rule", "place"),
    [
        # Free after the first blank: 40 x 100 beside it and 100 x 30 above it.
        ("least short side", (60.0, 0.0)),
        ("least area", (0.0, 70.0)),
        ("least long side", (0.0, 70.0)),
        ("low and left", (60.0, 0.0)),
        ("left and low", (0.0, 70.0)),
    ],
)
def test_which_room_a_blank_takes(rule, place):
    layout = fill(blanks((60, 70), (39, 20)), (100.0, 100.0), rule)[0]
    assert (layout.laid[1].x, layout.laid[1].y) == place


def test_a_blank_larger_than_a_sheet_is_refused():
    with pytest.raises(ValueError, match="larger than a sheet"):
        fill(blanks((40, 90)), (100.0, 50.0), "least area")


def test_free_rectangles_are_made_to_lie_apart():
    cross = [Rect(0.0, 40.0, 100.0, 20.0), Rect(40.0, 0.0, 20.0, 99.0)]
    parts = apart(cross)
    assert parts[0] == cross[0]
    assert sum(part.area for part in parts) == pytest.approx(2000.0 + 20.0 * 79.0)
    for a, b in itertools.combinations(parts, 2):
        assert box(a).intersection(box(b)).area == 0.0


@pytest.mark.parametrize("rule", RULES)
def test_more_sheets_than_wanted_are_given_up(rule):
    wanted = blanks((60, 60), (50, 50))
    assert len(fill(wanted, (100.0, 100.0), rule)) == 2
    assert fill(wanted, (100.0, 100.0), rule, most=1) == []
    assert fill(wanted[:1], (100.0, 100.0), rule, most=1) == fill(wanted[:1], (100.0, 100.0), rule)
