"""Every file of the export has one writer, and what is made is told before it is."""

from fitout import workflow
from fitout.documents.contents import DOCUMENTS, contents


def test_documents_are_told_in_order_and_no_file_is_made_twice():
    evaluation = workflow.evaluate(workflow.load("designs/canopy-tub.yaml"))
    dossier = workflow.dossier(evaluation, workflow.plan(evaluation))
    told: list[str] = []
    files = contents(dossier, told.append)
    assert told == [document.name for document in DOCUMENTS]
    each = [name for document in DOCUMENTS for name in document.make(dossier)]
    assert sorted(each) == sorted(files)
