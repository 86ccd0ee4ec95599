"""What has no dimensions stands in a table, whole and from the same datum."""

from fitout.documents.dossier import Dossier
from fitout.documents.drawings.features import corners
from fitout.documents.drawings.panel_picture import letters, plan_of
from fitout.documents.drawings.panel_tables import tables


def test_tables_hold_all_that_is_numbered(demo: Dossier) -> None:
    words, seen = demo.wording, 0
    for line in demo.cuts.cut_list.lines:
        plan = plan_of(line.panel)
        found = {table.title: table for table in tables(line, plan, words)}
        seen += len(found)
        assert all(line.number in title for title in found)
        assert all(len(row) == len(t.columns) for t in found.values() for row in t.rows)
        holes = words.say("hole_table", number=line.number)
        assert (holes in found) is (not plan.holes_run)
        if holes in found:
            told = sorted(row[1:3] for row in found[holes].rows)
            wanted = [(words.length(h.x), words.length(h.y)) for h in line.panel.holes]
            assert told == sorted(wanted)
        points = [] if plan.corners_run else list(plan.corners)
        places = [(words.length(c.x), words.length(c.y)) for c in points]
        for one in plan.free:
            places += [(words.length(c.x), words.length(c.y)) for c in corners(one.loop)]
        title = words.say("corner_table", number=line.number)
        told = [r[1:3] for t in tables(line, plan, words) if t.title == title for r in t.rows]
        assert sorted(told) == sorted(places)
        assert len(letters(plan)) == len(plan.free)
    assert seen > 0


def test_a_panel_with_few_features_has_no_table(sawn: Dossier) -> None:
    line = sawn.cuts.cut_list.line("P04")
    assert list(tables(line, plan_of(line.panel), sawn.wording)) == []
