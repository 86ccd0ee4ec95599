"""Birch plywood: the laminate model and the catalogue against the handbook's table.

Handbook of Finnish Plywood, section 3.1, birch of 1.4 mm veneers, sanded: from memory, and
reproduced by the laminate model to the last printed digit.
"""

from __future__ import annotations

import pytest

from fitout.catalogue import load
from tests.support.birch_laminate import birch

# nominal mm, plies, mean thickness mm, f along, f across, E along, E across (N/mm²)
HANDBOOK = [
    (4, 3, 3.6, 65.9, 10.6, 16_471, 1_029),
    (6.5, 5, 6.4, 50.9, 29.0, 12_737, 4_763),
    (9, 7, 9.2, 45.6, 32.1, 11_395, 6_105),
    (12, 9, 12.0, 42.9, 33.2, 10_719, 6_781),
    (15, 11, 14.8, 41.3, 33.8, 10_316, 7_184),
    (18, 13, 17.6, 40.2, 34.1, 10_048, 7_452),
    (21, 15, 20.4, 39.4, 34.3, 9_858, 7_642),
    (24, 17, 23.2, 38.9, 34.4, 9_717, 7_783),
]
Row = tuple[float, int, float, float, float, int, int]


@pytest.mark.parametrize("row", HANDBOOK, ids=lambda row: f"{row[0]:g} mm")
def test_the_laminate_model_prints_the_handbook_s_row(row: Row) -> None:
    """Handbook of Finnish Plywood, section 3.1, from memory."""
    _, plies, thickness, f_along, f_across, e_along, e_across = row
    board = birch(plies)
    assert board.thickness == pytest.approx(thickness, abs=1e-9)
    assert board.strength_along_mpa == pytest.approx(f_along, abs=0.05)
    assert board.strength_across_mpa == pytest.approx(f_across, abs=0.05)
    assert board.e_along_mpa == pytest.approx(e_along, abs=0.5)
    assert board.e_across_mpa == pytest.approx(e_across, abs=0.5)


@pytest.mark.parametrize("row", HANDBOOK, ids=lambda row: f"{row[0]:g} mm")
def test_the_catalogue_holds_the_handbook_s_row(row: Row) -> None:
    """Handbook of Finnish Plywood, section 3.1, from memory; density 680 kg/m³ likewise."""
    nominal, _, thickness, f_along, f_across, e_along, e_across = row
    board = load().sheets[f"birch ply {nominal:g}"]
    assert (board.nominal, board.thickness, board.density_kg_m3) == (nominal, thickness, 680.0)
    assert (board.strength_along_mpa, board.strength_across_mpa) == (f_along, f_across)
    assert (board.e_along_mpa, board.e_across_mpa) == (e_along, e_across)
