"""All checks together on whole designs: order, totals, sentences, and the same answer twice."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from fitout import workflow
from fitout.checks import Memory
from fitout.checks.findings import CHECKS, COMFORT, ORDER, PEOPLE
from fitout.model.finding import Severity
from fitout.workflow import Evaluation

Make = Callable[..., Any]

ROOT = Path(workflow.__file__).parent
DESIGNS = Path(__file__).parents[2] / "designs"

MODULES = (
    "drawers: {kind: drawers, width: 450, stack: [{carries: 20 kg}, {carries: 10 kg}]}",
    "slide: {kind: fridge slide, item: fridge, right_of: drawers}",
)


@pytest.fixture
def good(evaluated: Make) -> Evaluation:
    result: Evaluation = evaluated(*MODULES)
    return result


def test_what_hurts_most_comes_first(evaluated: Make) -> None:
    found = evaluated(*MODULES, below="fuel tank", width="800").findings
    ranks = [ORDER.index(f.severity) for f in found]
    assert ranks == sorted(ranks)
    assert ranks[0] == 0


def test_of_cautions_those_come_first_that_may_hurt_people() -> None:
    design = workflow.load(DESIGNS / "touring-wagon.yaml")
    found = workflow.evaluate(design).findings
    codes = [f.code for f in found if f.severity is Severity.CAUTION]
    ranks = [0 if code in PEOPLE else 2 if code in COMFORT else 1 for code in codes]
    assert ranks == sorted(ranks)
    assert set(ranks) == {0, 1, 2}


@pytest.mark.parametrize("code", sorted(PEOPLE | COMFORT))
def test_a_code_that_is_ranked_is_one_that_a_check_gives(code: str) -> None:
    files = [p for p in (ROOT / "checks").glob("*.py") if p.name != "findings.py"]
    assert any(f'"{code}"' in p.read_text(encoding="utf-8") for p in files)


def test_totals_count_findings_and_parts(good: Evaluation) -> None:
    totals = good.totals
    for severity in Severity:
        assert totals[str(severity)] == sum(f.severity is severity for f in good.findings)
    assert totals["panels"] == len(list(good.fitout.panels()))
    assert totals["laden_kg"] == pytest.approx(totals["empty_kg"] + totals["contents_kg"])
    assert totals["contents_kg"] == pytest.approx(20.0 + 10.0 + 10.0)


def test_the_total_and_the_sentence_tell_one_centre_of_gravity(good: Evaluation) -> None:
    (whole,) = [f for f in good.findings if f.code == "total mass"]
    x, y, z = good.totals["centre_of_gravity_mm"]
    side = "left" if y >= 0 else "right"
    assert f"{x:.0f} mm forward of the sill, {abs(y):.0f} mm {side}" in whole.sentence
    assert f"{z:.0f} mm above the floor" in whole.sentence
    assert whole.value == pytest.approx(good.totals["laden_kg"], abs=1e-3)


def test_every_finding_is_a_whole_sentence_with_a_source(good: Evaluation) -> None:
    boards = good.setting.catalogue.sheets
    names = {*good.subject.modules, good.design.name, *boards}
    for finding in good.findings:
        assert finding.sentence.endswith("."), finding
        assert finding.sentence[0].isupper() or finding.sentence.startswith(tuple(names)), finding
        assert finding.source, finding
        known = ("bay", "line ")
        assert any(name in finding.where for name in (*names, *known)), finding
        if finding.limit is not None:
            assert finding.value is not None
            assert finding.margin is not None
            assert abs(finding.margin) == pytest.approx(
                abs(finding.value - finding.limit), abs=2e-4
            )


def test_the_same_design_gives_the_same_findings_with_or_without_a_memory(
    good: Evaluation,
) -> None:
    memory = Memory()
    for _ in range(2):
        again = workflow.evaluate(good.design, memory)
        assert json.dumps(again.as_object()) == json.dumps(good.as_object())


def test_a_memory_of_another_design_changes_nothing(evaluated: Make) -> None:
    memory = Memory()
    designs = [evaluated(*MODULES, width=w).design for w in ("1200", "1150", "1200")]
    for design in designs:
        fresh, remembered = workflow.evaluate(design), workflow.evaluate(design, memory)
        assert remembered.findings == fresh.findings


def test_checks_are_listed_once() -> None:
    assert len(set(CHECKS)) == len(CHECKS)
