"""The mass ledger against the OCC geometry kernel, which shares no code with ours.

The solids are those the STEP file is written from; OCC (Open CASCADE, through the package
cadquery-ocp) integrates their volumes by BRepGProp. With `-m thorough` they are read back from
the file itself.
"""

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

import pytest
from dossiers import evaluated
from OCP.BRepGProp import BRepGProp
from OCP.GProp import GProp_GProps
from OCP.STEPControl import STEPControl_Reader

from fitout.checks.ledger import summed
from fitout.checks.mass_lines import empty_lines
from fitout.documents.solids import solid_of
from fitout.documents.step import assembly_step
from fitout.model.panel import Bar, Panel
from fitout.workflow import Evaluation

DESIGNS = sorted((Path(__file__).resolve().parents[2] / "designs").glob("*.yaml"))

each_design = pytest.mark.parametrize("path", DESIGNS, ids=lambda p: p.stem)


@pytest.fixture(scope="module")
def evaluation() -> Callable[[Path], Evaluation]:
    return lambda path: evaluated(path.stem)


def volume_and_centre(shape: Any) -> tuple[float, tuple[float, float, float]]:
    found = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, found)
    centre = found.CentreOfMass()
    return found.Mass(), (centre.X(), centre.Y(), centre.Z())


def made(evaluation: Evaluation) -> list[tuple[Panel | Bar, float]]:
    """What is made of boards and bars, with the density of each."""
    parts: Iterable[Any] = evaluation.fitout.parts()
    return [
        (p, p.board.density_kg_m3 if isinstance(p, Panel) else p.section.density_kg_m3)
        for p in parts
        if isinstance(p, Panel | Bar)
    ]


@each_design
def test_the_sum_is_volume_times_density_and_items(
    path: Path, evaluation: Callable[[Path], Evaluation]
) -> None:
    """Within 0.1 %: a bar's holes are not taken off in the ledger."""
    lines = empty_lines(evaluation(path).subject)
    by_kernel, moment = 0.0, [0.0, 0.0, 0.0]
    for part, density in made(evaluation(path)):
        volume, centre = volume_and_centre(solid_of(part))
        by_kernel += volume * density * 1e-9
        moment = [m + volume * density * 1e-9 * c for m, c in zip(moment, centre, strict=True)]
    bought = [x for x in lines if x.kind in ("item", "hardware")]
    sum_made = summed(x for x in lines if x.kind in ("panel", "bar"))
    assert sum_made.mass_kg == pytest.approx(by_kernel, rel=1e-3)
    assert sum_made.centre == pytest.approx([m / by_kernel for m in moment], abs=0.5)
    whole = by_kernel + sum(x.mass_kg for x in bought)
    assert summed(lines).mass_kg == pytest.approx(whole, rel=1e-3)


@pytest.mark.thorough
@each_design
def test_so_it_is_read_back_from_the_step_file(
    path: Path, evaluation: Callable[[Path], Evaluation], tmp_path: Path
) -> None:
    """All solids of the file: boards and bars as told, bought things as their blocks."""
    file = tmp_path / "assembly.step"
    file.write_bytes(assembly_step(evaluation(path).fitout))
    reader = STEPControl_Reader()
    assert reader.ReadFile(str(file))
    reader.TransferRoots()
    volume, _ = volume_and_centre(reader.OneShape())
    told = sum(volume_and_centre(solid_of(p))[0] for p in evaluation(path).fitout.parts())
    assert volume == pytest.approx(told, rel=1e-4)
