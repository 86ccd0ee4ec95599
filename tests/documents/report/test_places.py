"""What a finding names is found in the picture."""

import numpy as np
import pytest

from fitout.documents.dossier import Dossier
from fitout.documents.report.places import Places, numbered
from fitout.model.finding import Severity


@pytest.fixture(scope="module")
def places(wagon: Dossier) -> Places:
    return Places(wagon.subject)


@pytest.mark.parametrize(
    ("where", "ids"),
    [
        ("drawers/top", ("drawers/top",)),
        ("drawers/top – bay/tailgate", ("drawers/top", "bay/tailgate")),
        ("fridge/fridge lid", ("fridge/fridge",)),
        ("fridge/fridge lid: packed", ("fridge/fridge",)),
        ("bins left: lid 1", ("bins left/lid 1",)),
        ("the rear axle", ()),
        ("Touring wagon", ()),
        ("bay", ()),
    ],
)
def test_ids(places: Places, where: str, ids: tuple[str, ...]) -> None:
    assert places.ids(where) == ids


def test_modules_motions_and_boards_are_all_their_parts(wagon: Dossier, places: Places) -> None:
    modules = wagon.subject.modules
    every = tuple(part.id for part in modules["drawers"].parts())
    assert places.ids("drawers") == every
    assert places.ids("the whole of drawers") == every
    assert places.ids("drawers: carcass") == every
    moved = tuple(p.id for p in modules["drawers"].parts() if p.moves == "drawer 1")
    assert moved
    assert places.ids("drawers/drawer 1: open tailgate") == moved
    assert places.ids("drawers: drawer 1") == moved
    thick = {p.id for p in wagon.fitout.panels() if p.board.key == "birch ply 18"}
    assert set(places.ids("birch ply 18")) == thick


def test_a_gap_is_pointed_to_where_it_is(wagon: Dossier, places: Places) -> None:
    gaps = [f for f in wagon.findings if f.code.startswith("gap ")]
    assert len(gaps) > 20
    for finding in gaps:
        point = places.point(finding.where)
        assert point is not None
        body = wagon.subject.bodies[finding.where.split(" – ")[0]]
        assert (np.array(point) > body.lo - 0.1).all()
        assert (np.array(point) < body.hi + 0.1).all()
        x, y, z = (f"{abs(value):.0f}" for value in point)
        assert f"{x} forward, {y} " in finding.sentence
        assert f"{z} up" in finding.sentence
    assert places.point("drawers") is None


def test_most_findings_are_somewhere(wagon: Dossier, places: Places) -> None:
    nowhere = {f.where for f in wagon.findings if not places.ids(f.where)}
    whole = {"bay", "Touring wagon", "the vehicle", "the front axle", "the rear axle", "the roof",
             *wagon.design.trips}  # fmt: skip
    assert nowhere <= whole
    assert all(f.severity in Severity for f in wagon.findings)


def test_numbers_of_what_is_drawn() -> None:
    assert numbered(["b", "x", "a"], {"a": 0, "b": 1}) == [1, 0]
