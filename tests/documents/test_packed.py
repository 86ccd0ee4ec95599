"""A dossier goes to another process and makes the same documents there."""

from types import MappingProxyType

import pytest
from dossiers import NAMES, dossier

from fitout.documents.contents import OF_THE_DOSSIER
from fitout.documents.packed import packed, unpacked

QUICK = ("tables", "trips", "cut files", "labels", "report", "assembly.glb")
"""Those that ask most of what a dossier holds, and are soon made."""

THOROUGH = {"touring-wagon": pytest.mark.thorough}


@pytest.mark.parametrize(
    "name", [pytest.param(name, marks=THOROUGH.get(name, ())) for name in NAMES]
)
def test_what_is_unpacked_makes_the_same_documents(name: str) -> None:
    told = dossier(name)
    again = unpacked(packed(told))
    for document in OF_THE_DOSSIER:
        if document.name in QUICK:
            assert document.make(again) == document.make(told), document.name


def test_what_only_spares_time_stays_behind() -> None:
    told = dossier("small-hatch")
    assert told.subject.memory.answers
    again = unpacked(packed(told))
    assert not again.subject.memory.answers
    assert not any("manifold" in vars(body.shape) for body in again.subject.bodies.values())
    assert len(packed(told)) < 3_000_000


def test_a_read_only_mapping_stays_read_only() -> None:
    again = unpacked(packed(MappingProxyType({"a": 1})))
    assert again == {"a": 1}
    with pytest.raises(TypeError):
        again["a"] = 2


def test_what_cannot_be_packed_is_refused() -> None:
    with pytest.raises((AttributeError, TypeError, ValueError), match="pickle"):
        packed(lambda: None)
