"""The examples, sawn: done as told on a bench, every sheet gives exactly its parts."""

from pathlib import Path

import pytest
from dossiers import evaluated
from saw_bench import cut_as_told

from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import Effort, nest
from fitout.cutting.sequence import saw_steps
from fitout.cutting.verify import verify
from fitout.model.cutting import CuttingSpec, SawSpec, YardSpec

DESIGNS = sorted((Path(__file__).parents[2] / "designs").glob("*.yaml"))


@pytest.fixture(scope="module", params=DESIGNS, ids=lambda path: path.stem)
def cuts(request):
    fitout = evaluated(request.param.stem).fitout
    return cut_list(fitout.panels())


@pytest.mark.parametrize("yard", [None, YardSpec(cuts=3, longest=1900.0, heaviest=15.0)])
def test_every_sheet_gives_its_parts(cuts, yard):
    spec = CuttingSpec(by="saw", kerf=3.2, saw=SawSpec(fence=610.0, yard=yard))
    plan = nest(cuts, spec, Effort(work=0))
    assert verify(plan, cuts) == ()
    cut_as_told(plan)
    steps = [step for sheet in plan.sheets for step in saw_steps(sheet, plan.spec_of(sheet))]
    assert any(step.yard for step in steps) == (yard is not None)
    assert all(step.measure <= 610.0 for step in steps if step.tool == "fence")
