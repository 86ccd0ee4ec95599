"""Labels as another program paints them and another reader decodes them; every part has one."""

import dataclasses
from collections import Counter
from pathlib import Path

import pytest
from dossiers import NAMES, dossier, told_in
from paper_seen import needs_poppler, painted

from fitout.documents.labels.book import label_pages, labels_pdf, parts
from fitout.documents.paper.marks import Area, Text
from fitout.model.documents import LabelSheetSpec, label_sheet

each_demo = pytest.mark.parametrize("name", NAMES)


def wanted(name: str) -> Counter[str]:
    """Part numbers, each as often as it is cut."""
    cuts = dossier(name).cuts.cut_list
    return Counter({line.number: line.quantity for line in (*cuts.lines, *cuts.bars)})


@each_demo
def test_every_part_has_its_label(name: str) -> None:
    listed = list(parts(dossier(name)))
    assert Counter(part.number for part in listed) == wanted(name)
    assert len({(part.number, part.copy) for part in listed}) == len(listed)
    assert {f"{part.module}/{part.name}" for part in listed} == set(dossier(name).numbers)


@needs_poppler
@pytest.mark.parametrize("dpi", [100, 200, 300])
def test_an_independent_reader_finds_every_part_number(dpi: int, tmp_path: Path) -> None:
    reader = pytest.importorskip("zxingcpp", reason="needs zxing-cpp")
    pages = painted(labels_pdf(dossier("small-hatch")), tmp_path, dpi)
    found = Counter(code.text for page in pages for code in reader.read_barcodes(page))
    assert found == wanted("small-hatch")


@needs_poppler
def test_codes_on_low_and_on_narrow_labels_are_read(tmp_path: Path) -> None:
    reader = pytest.importorskip("zxingcpp", reason="needs zxing-cpp")
    small = LabelSheetSpec(across=5, down=16, width=35.6, height=16.9, gap_across=2.5)
    for number, entries in enumerate(({"paper": "letter"}, {"labels": small})):
        folder = tmp_path / str(number)
        folder.mkdir()
        pages = painted(labels_pdf(told_in(dossier("small-hatch"), **entries)), folder, 200)
        found = Counter(code.text for page in pages for code in reader.read_barcodes(page))
        assert found == wanted("small-hatch")


@each_demo
@pytest.mark.parametrize(
    ("language", "lengths", "paper"), [("en", "mm", "A4"), ("de", "in", "letter")]
)
def test_all_that_is_wanted_stands_on_the_usual_label(
    name: str, language: str, lengths: str, paper: str
) -> None:
    made = told_in(dossier(name), language=language, lengths=lengths, paper=paper)
    texts = {m.text for page in label_pages(made) for m in page.marks if isinstance(m, Text)}
    told = " ".join(texts)
    for part in parts(made):
        for word in (part.number, part.module, part.material, part.sheet):
            assert word in told
        assert made.wording.length(part.size[0]) in told


@each_demo
def test_nothing_reaches_beyond_its_label(name: str) -> None:
    made = dossier(name)
    sheet = label_sheet(made.spec.labels, made.spec.paper)
    corners = [sheet.corner(i) for i in range(sheet.count)]
    for page in label_pages(made):
        for mark in page.marks:
            if isinstance(mark, Area):
                xs = [x for ring in mark.rings for x, _ in ring]
                ys = [y for ring in mark.rings for _, y in ring]
                assert any(
                    x - 1e-9 <= min(xs)
                    and max(xs) <= x + sheet.width
                    and y - 1e-9 <= min(ys)
                    and max(ys) <= y + sheet.height
                    for x, y in corners
                )


def test_printing_starts_at_the_first_free_label() -> None:
    made = dossier("small-hatch")
    later = told_in(made, labels=LabelSheetSpec(first=23))
    count = sum(wanted("small-hatch").values())
    assert len(label_pages(made)) == -(-count // 24)
    assert len(label_pages(later)) == -(-(count + 22) // 24)
    numbers = [m for m in label_pages(later)[0].marks if isinstance(m, Text) and m.height == 7.0]
    assert len(numbers) == 2


def test_no_parts_give_one_sheet_that_says_whose_it_is() -> None:
    made = dossier("small-hatch")
    cuts = dataclasses.replace(
        made.cuts, cut_list=dataclasses.replace(made.cuts.cut_list, lines=(), bars=()), sheets=()
    )
    (page,) = label_pages(dataclasses.replace(made, cuts=cuts))
    assert any("Small hatch" in m.text for m in page.marks if isinstance(m, Text))
    assert labels_pdf(dataclasses.replace(made, cuts=cuts)).startswith(b"%PDF-")


def test_the_same_bytes_each_time() -> None:
    assert labels_pdf(dossier("small-hatch")) == labels_pdf(dossier("small-hatch"))
