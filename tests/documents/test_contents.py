"""Every file of the export has one writer, and what is made is told before it is."""

import dataclasses

import pytest
from dossiers import dossier

from fitout.documents import contents as room
from fitout.documents.dossier import Dossier


def test_documents_are_told_in_order_and_no_file_is_made_twice(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    made: list[str] = []

    def noted(document: room.Document) -> room.Document:
        def make(told: Dossier) -> room.Files:
            files = document.make(told)
            made.extend(files)
            return files

        return dataclasses.replace(document, make=make)

    monkeypatch.setattr(room, "DOCUMENTS", tuple(map(noted, room.DOCUMENTS)))
    said: list[str] = []
    files = room.contents(dossier("canopy-tub"), said.append)
    assert said == [document.name for document in room.DOCUMENTS]
    assert sorted(made) == sorted(files)
