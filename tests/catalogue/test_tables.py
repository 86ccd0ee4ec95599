from __future__ import annotations

import dataclasses
import itertools
from pathlib import Path
from typing import Any

import pytest
import yaml

import fitout.catalogue
from fitout.catalogue import DEFAULT_BOARDS, Catalogue, load, names
from fitout.model.fault import DesignError, Fault

TABLES = ("sheets", "slides", "articles", "sections", "latches", "strikers")
FOLDER = Path(fitout.catalogue.__file__).parent


@pytest.fixture(scope="module")
def shipped() -> Catalogue:
    return load()


def faults_of(overrides: dict[str, Any]) -> list[Fault]:
    with pytest.raises(DesignError) as caught:
        load(overrides)
    return list(caught.value.faults)


def test_every_shipped_row_is_read_and_knows_its_name(shipped: Catalogue) -> None:
    for table in TABLES:
        rows = getattr(shipped, table)
        assert tuple(rows) == names()[table]
        assert all(row.key == name for name, row in rows.items())


def test_every_shipped_row_has_a_source_and_no_price(shipped: Catalogue) -> None:
    for table in TABLES:
        for row in getattr(shipped, table).values():
            assert row.source.endswith("."), row.key
            assert row.price is None, row.key


@pytest.mark.parametrize("table", TABLES)
def test_no_name_is_written_twice_in_a_file(table: str) -> None:
    text = (FOLDER / f"{table}.yaml").read_text(encoding="utf-8")
    node = yaml.compose(text)
    assert isinstance(node, yaml.MappingNode)
    keys = [key.value for key, _ in node.value]
    assert len(keys) == len(set(keys))


def test_default_boards_are_sheets(shipped: Catalogue) -> None:
    assert set(DEFAULT_BOARDS.values()) <= set(shipped.sheets)
    assert shipped.sheets[DEFAULT_BOARDS["foam"]].kind == "foam"


def test_the_catalogue_cannot_be_changed(shipped: Catalogue) -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        shipped.sheets = {}  # type: ignore[misc]
    with pytest.raises(TypeError):
        shipped.sheets["mine"] = shipped.sheets["mdf 12"]  # type: ignore[index]


def test_articles_for_bolts_come_with_nut_and_washer_of_their_thread(shipped: Catalogue) -> None:
    articles = shipped.articles
    for bolt in (a for a in articles.values() if a.kind == "bolt"):
        thread = bolt.key.split()[1]
        washer, nut = articles[f"large washer {thread}"], articles[f"lock nut {thread}"]
        assert bolt.diameter == washer.diameter == nut.diameter
        assert bolt.clearance_hole is not None
        assert washer.width is not None
        assert bolt.clearance_hole < washer.width


def test_slides_ship_in_rising_length_and_mass_and_never_rising_rating(shipped: Catalogue) -> None:
    for family in ("full extension", "heavy locking"):
        slides = [s for name, s in shipped.slides.items() if name.startswith(family)]
        assert len(slides) >= 7
        for shorter, longer in itertools.pairwise(slides):
            assert shorter.length < longer.length
            assert shorter.mass_pair_kg < longer.mass_pair_kg
            assert shorter.rating_kg >= longer.rating_kg
            assert shorter.side_clearance == longer.side_clearance


def test_slide_holes_begin_at_the_setback_and_keep_to_the_grid(shipped: Catalogue) -> None:
    for slide in shipped.slides.values():
        for hole in (*slide.carcass_holes, *slide.drawer_holes):
            assert (hole - 35.0) % 32.0 == 0.0, slide.key


def test_a_design_adds_a_row_like_a_shipped_one() -> None:
    mine = {"my ply": {"like": "birch ply 12", "thickness": 11.8, "price": 95}}
    board = load({"sheets": mine}).sheets["my ply"]
    base = load().sheets["birch ply 12"]
    assert (board.key, board.thickness, board.price) == ("my ply", 11.8, 95.0)
    assert board.e_along_mpa == base.e_along_mpa
    assert "birch ply 12" in board.source
    assert board.source != base.source


def test_a_design_changes_a_shipped_row_in_place() -> None:
    change = {"birch ply 12": {"like": "birch ply 12", "density_kg_m3": 695}}
    catalogue = load({"sheets": change})
    assert catalogue.sheets["birch ply 12"].density_kg_m3 == 695.0
    assert catalogue.sheets["birch ply 9"].density_kg_m3 == 680.0


def test_a_row_may_be_like_another_row_of_the_design() -> None:
    rows = {
        "heavy plank": {"like": "plank", "density_kg_m3": 800},
        "plank": {"like": "mdf 18", "length": 3000},
    }
    board = load({"sheets": rows}).sheets["heavy plank"]
    assert (board.length, board.density_kg_m3, board.thickness) == (3000.0, 800.0, 18.0)


def test_a_shipped_row_the_design_changes_is_what_others_of_the_design_are_like() -> None:
    rows = {
        "mdf 12": {"like": "mdf 12", "density_kg_m3": 710},
        "mdf 12 long": {"like": "mdf 12", "length": 2800},
    }
    assert load({"sheets": rows}).sheets["mdf 12 long"].density_kg_m3 == 710.0


def test_a_row_of_its_own_needs_no_like() -> None:
    row = {"kind": "magnet", "mass_kg": 0.02, "source": "weighed"}
    article = load({"articles": {"magnet": row}}).articles["magnet"]
    assert (article.kind, article.mass_kg, article.source) == ("magnet", 0.02, "weighed")


def test_a_slide_may_use_a_screw_the_design_adds() -> None:
    catalogue = load(
        {
            "articles": {"my screw": {"kind": "screw", "mass_kg": 0.001}},
            "slides": {"mine": {"like": "full extension 400", "screw": "my screw"}},
        }
    )
    assert catalogue.slides["mine"].screw == "my screw"


def test_all_faults_of_all_tables_are_told_at_once() -> None:
    found = faults_of(
        {
            "slids": {},
            "sheets": {"a": {"like": "birch pli 12"}, "b": 3, "c": {"nominal": 3}},
            "slides": {"d": {"like": "full extension 300", "rating_kg": "much", "lenght": 4}},
            "sections": {"e": {"like": "aluminium flat 40 x 5", "wall": 2.5}},
        }
    )
    assert {fault.path for fault in found} == {
        ("catalogue", "slids"),
        ("catalogue", "sheets", "a", "like"),
        ("catalogue", "sheets", "b"),
        ("catalogue", "sheets", "c"),
        ("catalogue", "slides", "d", "rating_kg"),
        ("catalogue", "slides", "d", "lenght"),
        ("catalogue", "sections", "e", "wall"),
    }
    hints = {fault.path: fault.hint for fault in found}
    assert "'slides'" in hints[("catalogue", "slids")]
    assert "'birch ply 12'" in hints[("catalogue", "sheets", "a", "like")]
    assert "'length'" in hints[("catalogue", "slides", "d", "lenght")]


def test_rows_like_each_other_are_a_fault() -> None:
    found = faults_of({"sheets": {"a": {"like": "b"}, "b": {"like": "a"}}})
    assert [fault.path[-1] for fault in found] == ["like", "like"]
    assert found[0].found == "a -> b -> a"


def test_an_unknown_screw_is_a_fault_at_the_slide() -> None:
    rows = {"mine": {"like": "full extension 300", "screw": "pan head screw 4x12"}}
    (fault,) = faults_of({"slides": rows})
    assert fault.path == ("catalogue", "slides", "mine", "screw")
    assert "'pan head screw 4 x 12'" in fault.hint


def test_a_screw_that_is_itself_at_fault_is_told_once() -> None:
    rows = {"pan head screw 4 x 12": {"like": "pan head screw 4 x 12", "mass_kg": -1}}
    (fault,) = faults_of({"articles": rows})
    assert fault.path == ("catalogue", "articles", "pan head screw 4 x 12", "mass_kg")


@pytest.mark.parametrize(
    ("field", "value", "wanted"),
    [
        ("thickness", 0, "a number of mm, above 0"),
        ("thickness", "12 mm", "a number of mm, above 0"),
        ("thickness", True, "a number of mm, above 0"),
        ("density_kg_m3", float("nan"), "a number of kg/m³, above 0"),
        ("e_along_mpa", float("inf"), "a number of N/mm², above 0"),
        ("thickness_tolerance", -0.1, "a number of mm, 0 or more"),
        ("price", -1, "a number, 0 or more"),
        ("grain", "yes", "true or false"),
        ("kind", 3, "words"),
        ("thickness_tolerance", 13, "less than the thickness"),
    ],
)
def test_a_field_that_cannot_be_is_a_fault(field: str, value: object, wanted: str) -> None:
    (fault,) = faults_of({"sheets": {"mine": {"like": "birch ply 12", field: value}}})
    assert fault.path == ("catalogue", "sheets", "mine", field)
    assert fault.expected == wanted


@pytest.mark.parametrize("holes", [[], [35], [99, 35], [35, 35], [35, 300], [35, "x"], 35])
def test_slide_holes_must_be_a_rising_list_on_the_slide(holes: object) -> None:
    row = {"like": "full extension 300", "drawer_holes": holes}
    (fault,) = faults_of({"slides": {"mine": row}})
    assert fault.path == ("catalogue", "slides", "mine", "drawer_holes")


def test_a_value_may_be_taken_away() -> None:
    row = {"like": "birch ply 12", "e_along_mpa": None}
    assert load({"sheets": {"mine": row}}).sheets["mine"].e_along_mpa is None


def test_a_table_that_is_no_mapping_is_a_fault() -> None:
    (fault,) = faults_of({"sheets": ["birch ply 12"]})
    assert fault.path == ("catalogue", "sheets")


@pytest.mark.parametrize(
    ("fields", "field", "expected"),
    [
        ({"derate_width": 0.1}, "derate_width", "`rated_width` beside it"),
        ({"derate_width": 10, "rated_width": 450}, "derate_width", "a share of the rating"),
        ({"derate_open": 75}, "derate_open", "a share of the rating"),
        ({"rated_width": -5}, "rated_width", "a number of mm, above 0"),
        ({"derate_open": "most"}, "derate_open", "a number, above 0"),
        ({"rating_kg": 0}, "rating_kg", "a number of kg, above 0"),
    ],
)
def test_what_a_maker_takes_off_a_slide_must_make_sense(
    fields: dict[str, Any], field: str, expected: str
) -> None:
    row = {"like": "full extension 500", **fields}
    (fault,) = faults_of({"slides": {"mine": row}})
    assert fault.path == ("catalogue", "slides", "mine", field)
    assert fault.expected.startswith(expected)


def test_a_slide_without_a_rating_is_located(shipped: Catalogue) -> None:
    slide = shipped.slides["full extension 500"]
    row = {
        f.name: getattr(slide, f.name)
        for f in dataclasses.fields(slide)
        if f.name not in ("key", "rating_kg") and getattr(slide, f.name) is not None
    }
    (fault,) = faults_of({"slides": {"mine": row}})
    assert fault.path == ("catalogue", "slides", "mine")
    assert "rating_kg" in f"{fault.found} {fault.expected} {fault.hint}"
