"""Every kind of module is listed once, explained, and made of what the reader can read."""

import dataclasses

from fitout.design_file import schema
from fitout.model.design import ModuleSpec
from fitout.modules.registry import BY_NAME, KINDS


def test_every_kind_is_listed_once_under_its_own_name():
    assert len(BY_NAME) == len(KINDS)
    for kind in KINDS:
        assert BY_NAME[kind.kind] is kind
        assert kind.spec.kind == kind.kind
        assert kind.kind == kind.kind.strip().lower()


def test_every_spec_is_a_frozen_explained_module_spec():
    for kind in KINDS:
        assert issubclass(kind.spec, ModuleSpec)
        assert kind.spec.__dataclass_params__.frozen
        assert kind.spec.__doc__
        assert "__slots__" in vars(kind.spec)


def test_the_schema_knows_every_kind():
    text = str(schema({kind.kind: kind.spec for kind in KINDS}))
    for kind in KINDS:
        assert f"'{kind.kind}'" in text


def test_what_every_module_may_wish_is_left_out_by_default():
    for field in dataclasses.fields(ModuleSpec):
        assert field.default is None
