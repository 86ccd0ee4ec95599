"""Drawings of bars: length, every hole from one end, section and wall."""

from fitout.documents.dossier import Dossier
from fitout.documents.drawings.bar_sheets import bar_block, bar_sheets, scale_of
from fitout.documents.paper.marks import Text
from fitout.documents.paper.room import overlaps


def test_every_bar_is_dimensioned_whole(wagon: Dossier) -> None:
    words = wagon.wording
    assert len(wagon.cuts.cut_list.bars) == 3
    for bar in wagon.cuts.cut_list.bars:
        marks = bar_block(bar, words).marks
        told = [mark.text for mark in marks if isinstance(mark, Text)]
        assert overlaps(marks) == []
        assert words.length(bar.length) in told
        assert {words.length(at) for at, _ in bar.bars[0].holes} <= set(told)
        assert {words.length(bar.section.width), words.length(bar.section.height)} <= set(told)
        if bar.section.wall is not None:
            assert f"wall {words.length(bar.section.wall)}" in told
        assert bar.length / scale_of(bar) <= 270.0
        assert "measured from the end towards the" in " ".join(told)


def test_bars_share_sheets_and_none_makes_none(wagon: Dossier, sawn: Dossier) -> None:
    (sheet,) = bar_sheets(wagon)
    assert sheet.number == "B01–B03"
    assert bar_sheets(sawn) == ()
