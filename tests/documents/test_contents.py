"""Every file of the export has one writer, and no two documents bear one name."""

from collections import Counter

from dossiers import dossier

from fitout.documents.contents import OF_THE_DOSSIER, OF_THE_FITOUT


def test_no_file_is_made_twice() -> None:
    told = dossier("canopy-tub")
    made: Counter[str] = Counter()
    for document in OF_THE_FITOUT:
        made.update(document.make(told.fitout).keys())
    for document in OF_THE_DOSSIER:
        made.update(document.make(told).keys())
    assert {"assembly.step", "drawings.pdf", "cutlist.csv", "findings.json"} <= set(made)
    assert set(made.values()) == {1}


def test_each_document_has_a_name_of_its_own() -> None:
    names = [document.name for document in (*OF_THE_FITOUT, *OF_THE_DOSSIER)]
    assert len(names) == len(set(names))
