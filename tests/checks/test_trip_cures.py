"""All that makes a trip pass, and the lines that say so."""

import re
from pathlib import Path

import pytest
import yaml
from made_up_trip import ground, plan

from fitout import workflow
from fitout.checks.trip_cures import entries, whole_cure
from fitout.checks.trip_days import gone_through
from fitout.checks.trip_problems import problems
from fitout.model.spec import Days, Measured
from fitout.model.trips import EnergySpec, FridgeSpec, PackedSpec, WaterSpec
from fitout.model.vehicle import CarriedSpec

DESIGNS = Path(__file__).parents[2] / "designs"


def test_a_trip_that_passes_needs_nothing() -> None:
    cure = whole_cure(plan())
    assert cure is not None
    assert cure.words == ""
    assert entries(plan(), cure.plan) == ()


def test_one_cure_after_another_until_it_passes() -> None:
    made = plan(
        ground(limits={"roof": 30.0}),
        packing={"back/drawer": 56.0, "front/shelf": 10.0},
        water=WaterSpec(besides=10.0),
        energy=EnergySpec(battery=600.0, fridge=FridgeSpec(power=30.0)),
    )
    cure = whole_cure(made)
    assert cure is not None
    assert problems(cure.plan, gone_through(cure.plan)) == ()
    assert cure.words.count(";") == 3
    assert entries(made, cure.plan)[:2] == (
        "packing: {back/drawer: 50 kg, front/shelf: 16 kg}",
        "stays_home: [roof box]",
    )


def test_what_has_no_cure_is_none() -> None:
    assert whole_cure(plan(ground(limits={"gross": 2020.0}))) is None


def test_every_kind_of_change_has_its_entry() -> None:
    boat = CarriedSpec(name="boat", mass=Measured(30.0, 1.0), at=(200.0, 0.0, 600.0))
    one = plan(
        carries=(boat,),
        packing={"back/drawer": PackedSpec(start=9.0, each_day=1.0)},
        energy=EnergySpec(battery=600.0),
    )
    other = plan(
        carries=(CarriedSpec(name="boat", mass=Measured(30.0, 1.0), at=(300.0, 0.0, 600.0)),),
        packing={"back/drawer": PackedSpec(start=7.0, each_day=1.0)},
        water=WaterSpec(start=30.0, each_person=4.0),
        energy=EnergySpec(battery=900.0),
        refill={"water": (Days(2, 3),)},
    )
    assert entries(one, other) == (
        "packing: {back/drawer: {start: 7 kg, each_day: 1 kg}}",
        "carries: [{name: boat, mass: 30 kg ± 1 kg, at: [300, 0, 600], where: inside}]",
        "water: {start: 30 l, each_person: 4 l}",
        "refill: {water: [2, 3]}",
        "energy: {battery: 900 Wh}",
    )


def plain(node: object) -> str:
    """Nodes as one line of a design file."""
    if isinstance(node, dict):
        return f"{{{', '.join(f'{key}: {plain(value)}' for key, value in node.items())}}}"
    if isinstance(node, list):
        return f"[{', '.join(plain(value) for value in node)}]"
    return str(node)


def put_in(text: str, trip: str, lines: tuple[str, ...]) -> str:
    """A design's text with entries put into one of its trips."""
    entries_of = yaml.load(text, Loader=yaml.BaseLoader)["trips"][trip]
    for line in lines:
        for key, value in yaml.load(line, Loader=yaml.BaseLoader).items():
            held = entries_of.get(key)
            entries_of[key] = {**held, **value} if isinstance(held, dict) else value
    block = re.compile(rf"(?m)^  {trip}:\n(?:    .*\n)+")
    assert len(block.findall(text)) == 1
    return block.sub(lambda _: f"  {trip}: {plain(entries_of)}\n", text)


@pytest.mark.parametrize("name", ["touring-wagon", "canopy-tub", "small-hatch"])
def test_a_demo_s_failing_trip_passes_with_the_entries_put_in(name: str, tmp_path: Path) -> None:
    """The first trip passes; the second fails on a named day, and its cure, put in, passes."""
    path = DESIGNS / f"{name}.yaml"
    good, bad = workflow.trips(workflow.load(path))
    assert good.passed
    assert good.problems == ()
    assert not bad.passed
    cure = whole_cure(bad.plan)
    assert cure is not None
    lines = entries(bad.plan, cure.plan)
    assert lines
    cured = tmp_path / "cured.yaml"
    text = put_in(path.read_text(encoding="utf-8"), bad.plan.name, lines)
    cured.write_text(text, encoding="utf-8", newline="\n")
    again = {report.plan.name: report for report in workflow.trips(workflow.load(cured))}
    assert again[bad.plan.name].passed
