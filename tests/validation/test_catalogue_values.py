"""The catalogue's shipped values against published ones."""

from __future__ import annotations

import pytest

from fitout.catalogue import Catalogue, load
from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Panel
from fitout.model.placement import Placement


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load()


def en_315_sanded(nominal: float) -> tuple[float, float]:
    """Thickness limits of sanded plywood, EN 315: +(0.2 + 0.03 t) / −(0.4 + 0.03 t) mm."""
    return nominal - (0.4 + 0.03 * nominal), nominal + (0.2 + 0.03 * nominal)


@pytest.mark.parametrize(("nominal", "least", "most"), [(12, 11.24, 12.56), (18, 17.06, 18.74)])
def test_the_band_of_en_315(nominal: float, least: float, most: float) -> None:
    """The formula of EN 315 against its own numbers for 12 and 18 mm."""
    assert en_315_sanded(nominal) == pytest.approx((least, most), abs=1e-9)


def test_birch_plywood_takes_in_the_whole_band_of_en_315(catalogue: Catalogue) -> None:
    """EN 315, sanded: each mean lies in the band, and mean ± tolerance just covers it."""
    birch = [board for board in catalogue.sheets.values() if "birch" in board.key]
    assert len(birch) >= 10
    for board in birch:
        least, most = en_315_sanded(board.nominal)
        assert least <= board.thickness <= most, board.key
        farther = max(most - board.thickness, board.thickness - least)
        assert board.thickness_tolerance == pytest.approx(farther, abs=0.006), board.key


@pytest.mark.parametrize(("nominal", "mean"), [(6.5, 6.4), (9, 9.2), (12, 12.0)])
def test_mean_thickness_on_a_birch_data_sheet(
    catalogue: Catalogue, nominal: float, mean: float
) -> None:
    """A birch plywood maker's data sheet; its mean thicknesses are those of the handbook."""
    assert catalogue.sheets[f"birch ply {nominal:g}"].thickness == mean


def test_mean_thickness_of_12_and_18_lies_within_a_data_sheet_s_limits(
    catalogue: Catalogue,
) -> None:
    """A birch plywood data sheet: 11.5 to 12.5 and 17.1 to 18.1 mm."""
    assert 11.5 <= catalogue.sheets["birch ply 12"].thickness <= 12.5
    assert 17.1 <= catalogue.sheets["birch ply 18"].thickness <= 18.1


def test_a_sheet_of_695_kg_m3_weighs_what_the_data_sheet_says() -> None:
    """A birch plywood data sheet: 12 mm, 1220 × 2440, 695 kg/m³ weighs 24.8 kg."""
    row = {"like": "birch ply 12", "density_kg_m3": 695}
    board = load({"sheets": {"mine": row}}).sheets["mine"]
    whole = Panel(
        name="sheet",
        module="stock",
        outline=Outline(rectangle(board.length, board.width)),
        board=board,
        placement=Placement(),
    )
    assert whole.mass_kg == pytest.approx(24.8, abs=0.05)


@pytest.mark.parametrize(("thread", "medium"), [("M6", 6.6), ("M8", 9.0), ("M10", 11.0)])
def test_clearance_holes_of_iso_273(catalogue: Catalogue, thread: str, medium: float) -> None:
    """ISO 273, medium series."""
    bolts = [a for a in catalogue.articles.values() if a.key.startswith(f"bolt {thread} ")]
    assert bolts
    assert {bolt.clearance_hole for bolt in bolts} == {medium}


@pytest.mark.parametrize(("thread", "proof_n"), [("M6", 11_600), ("M8", 21_200), ("M10", 33_700)])
def test_proof_loads_of_iso_898(catalogue: Catalogue, thread: str, proof_n: float) -> None:
    """ISO 898-1, property class 8.8, coarse thread."""
    bolts = [a for a in catalogue.articles.values() if a.key.startswith(f"bolt {thread} ")]
    assert {bolt.rating_n for bolt in bolts} == {proof_n}


@pytest.mark.parametrize(
    ("sheet", "least", "most"), [("pine ply 12", 11.4, 12.6), ("pine ply 18", 17.3, 18.7)]
)
def test_pine_plywood_limits(catalogue: Catalogue, sheet: str, least: float, most: float) -> None:
    """A pine plywood declaration of performance; it gives a density of 545 kg/m³."""
    board = catalogue.sheets[sheet]
    assert board.thickness - board.thickness_tolerance == pytest.approx(least)
    assert board.thickness + board.thickness_tolerance == pytest.approx(most)
    assert board.density_kg_m3 == 545.0


@pytest.mark.parametrize(
    ("sheet", "strength", "e"), [("mdf 12", 22.0, 2500.0), ("mdf 18", 20.0, 2200.0)]
)
def test_mdf_minima(catalogue: Catalogue, sheet: str, strength: float, e: float) -> None:
    """EN 622-5:2009 Table 3, > 9 to 12 and > 12 to 19 mm, from memory."""
    board = catalogue.sheets[sheet]
    assert board.strength_along_mpa == board.strength_across_mpa == strength
    assert board.e_along_mpa == board.e_across_mpa == e


def test_mdf_density_lies_in_the_wood_handbook_s_range(catalogue: Catalogue) -> None:
    """Wood Handbook FPL-GTR-190 Table 12-1: MDF has a specific gravity of 0.7 to 0.9."""
    for sheet in ("mdf 12", "mdf 18"):
        assert 700.0 <= catalogue.sheets[sheet].density_kg_m3 <= 900.0


def test_aluminium_5052_h32(catalogue: Catalogue) -> None:
    """Aluminum Design Manual Table 3.3-1M: yield at least 160 MPa, E 70.3 GPa."""
    board = catalogue.sheets["aluminium 5052 sheet 3"]
    assert (board.strength_along_mpa, board.e_along_mpa) == (160.0, 70_300.0)
