"""Declared entries: every one is explained, spelled as said, and frozen."""

import dataclasses

import pytest

from fitout.model import design
from fitout.model.design import ROLE_DOCS, ROLES, ArchSpec, Design
from fitout.model.fault import DesignError, Fault
from fitout.model.restraint import AnchorSpec
from fitout.model.spec import entry
from fitout.modules.registry import KINDS

SECTIONS = [r for r in vars(design).values() if getattr(r, "__module__", "") == design.__name__]
RECORDS = [*(r for r in SECTIONS if r is not Design), *(kind.spec for kind in KINDS)]


def test_every_entry_says_what_it_means():
    assert len(RECORDS) > 15
    for record in RECORDS:
        for field in dataclasses.fields(record):
            assert field.metadata.get("doc"), f"{record.__name__}.{field.name}"


def test_an_entry_may_be_spelled_with_a_word_python_keeps():
    fields = {f.name: f for f in dataclasses.fields(ArchSpec)}
    assert fields["start"].metadata["key"] == "from"
    assert fields["end"].metadata["key"] == "to"


def test_an_entry_without_a_default_must_be_given():
    assert entry("what it is").default is dataclasses.MISSING
    assert entry("what it is", default=3.0).default == 3.0
    with pytest.raises(TypeError):
        AnchorSpec(name="eye")


def test_roles_are_all_explained():
    assert set(ROLES) == set(ROLE_DOCS)
    assert all(ROLE_DOCS.values())


def test_a_design_error_carries_every_fault():
    faults = [
        Fault(path=("bay",), found="a", expected="b"),
        Fault(path=(), found="c", expected="d"),
    ]
    error = DesignError(faults)
    assert error.faults == tuple(faults)
    assert "2 fault(s)" in str(error)
