import pytest

from fitout.answers.asked import AskedFinding, AskedNumber, AskedPart, UnknownError, asked
from fitout.answers.numbers import figures
from fitout.checks.tank import check_tank


@pytest.fixture(scope="module")
def ask(design, evaluation):
    every = figures(design)
    return lambda words: asked(words, evaluation.subject, evaluation.findings, every)


def test_a_code_means_its_worst_finding(ask, evaluation) -> None:
    meant = ask("Tank gap")
    assert isinstance(meant, AskedFinding)
    margins = [f.margin for f in evaluation.findings if f.code == "tank gap"]
    assert meant.finding.margin == min(margins)
    assert meant.check is check_tank
    assert len(meant.others) == len(margins) - 1


def test_words_after_the_colon_choose_by_place(ask) -> None:
    meant = ask("tank gap: left wall")
    assert "left wall" in meant.finding.where


def test_parts_and_numbers_are_meant_by_name(ask) -> None:
    assert ask("drawers/base") == AskedPart("drawers/base")
    meant = ask("bay.seat_back.foot")
    assert isinstance(meant, AskedNumber)
    assert meant.figure.value == 716.0


def test_a_finding_this_design_has_not_is_explained_all_the_same(ask) -> None:
    with pytest.raises(UnknownError, match=r"no 'roof load' finding.* what the roof carries\."):
        ask("Roof load: the roof")


def test_an_unknown_name_tells_the_nearest(ask) -> None:
    with pytest.raises(UnknownError, match="Did you mean tank gap"):
        ask("tank gab")
    with pytest.raises(UnknownError, match=r"There are: .*left wall"):
        ask("tank gap: roof rack")
