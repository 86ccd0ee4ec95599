"""The cut list and the bill as tables: every row of theirs, and the sums."""

from dossiers import dossier

from fitout.documents.bill import bill_rows, bill_sums
from fitout.documents.dossier import Dossier
from fitout.documents.drawings.bill_sheets import bill_sheets
from fitout.documents.paper.marks import Text


def _told(dossier: Dossier, kind: str) -> list[str]:
    sheets = [sketch for sketch in bill_sheets(dossier) if sketch.name.startswith(kind)]
    return [m.text for sheet in sheets for m in sheet.marks if isinstance(m, Text)]


def test_the_cut_list_names_every_part_once_with_its_size(demo: Dossier) -> None:
    told = _told(demo, "cut-list")
    for line in demo.cuts.cut_list.lines:
        assert told.count(line.number) == 1
        start = told.index(line.number)
        row = told[start : start + 24]
        assert demo.wording.length(line.length) in row
        assert demo.wording.length(line.width) in row


def test_the_bill_tells_every_row_and_the_sum_of_all(demo: Dossier) -> None:
    told = _told(demo, "bill")
    joined = " ".join(told)
    for row in bill_rows(demo):
        assert row.name in joined
    assert f"{bill_sums(bill_rows(demo))[-1].mass_kg:.2f}" in told
    assert "All together" in told


def test_no_more_sheets_than_the_tables_ask_for() -> None:
    names = [sheet.name for sheet in bill_sheets(dossier("touring-wagon"))]
    assert names == ["cut-list", "cut-list-2", "bill", "bill-2"]
