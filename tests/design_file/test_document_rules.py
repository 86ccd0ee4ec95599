"""Labels that can't be printed are told where they stand in the file."""

import pytest

from fitout.model.documents import PAPERS, DocumentSpec, LabelSheetSpec, label_sheet
from fitout.model.fault import DesignError


def with_labels(whole: str, labels: str, paper: str = "A4") -> str:
    return f"{whole}\ndocuments:\n  paper: {paper}\n  labels: {{{labels}}}\n"


@pytest.mark.parametrize(
    ("labels", "paper", "key", "found"),
    [
        ("width: 99, across: 3", "A4", "width", "302.0 mm"),
        ("across: 4", "A4", "across", "261.5 mm"),
        ("left: 30", "A4", "left", "225.5 mm"),
        ("height: 38", "A4", "height", "304.0 mm"),
        ("down: 8, height: 33.9, top: 30", "letter", "height", "301.2 mm"),
    ],
)
def test_labels_beyond_the_paper(read, whole, labels, paper, key, found):
    with pytest.raises(DesignError) as caught:
        read(with_labels(whole, labels, paper))
    (fault,) = caught.value.faults
    assert fault.path == ("documents", "labels", key)
    assert found in fault.found
    assert fault.line == len(whole.splitlines()) + 4
    assert fault.column > 1


@pytest.mark.parametrize(
    ("labels", "key"),
    [("height: 12", "height"), ("width: 20, across: 5", "width"), ("first: 25", "first")],
)
def test_labels_without_room_or_that_are_not_there(read, whole, labels, key):
    with pytest.raises(DesignError) as caught:
        read(with_labels(whole, labels))
    (fault,) = caught.value.faults
    assert fault.path == ("documents", "labels", key)


@pytest.mark.parametrize("paper", PAPERS)
def test_the_usual_sheet_lies_in_the_middle_of_its_paper(paper):
    sheet = label_sheet(LabelSheetSpec(), paper)
    assert sheet.right_margin == pytest.approx(sheet.left)
    assert sheet.lower_margin == pytest.approx(sheet.top)
    assert sheet.left > 4.0
    assert sheet.count == {"A4": 24, "letter": 30}[paper]
    assert sheet.corner(0)[0] == sheet.left
    assert sheet.corner(sheet.count - 1)[1] == pytest.approx(sheet.lower_margin)


def test_labels_without_margins_are_taken(read, whole):
    design = read(with_labels(whole, "width: 70, height: 37, gap_across: 0"))
    assert isinstance(design.documents, DocumentSpec)
    sheet = label_sheet(design.documents.labels, "A4")
    assert (sheet.left, sheet.top) == (0.0, 0.5)
