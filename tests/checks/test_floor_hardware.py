"""What is bought for the bolts to the vehicle is what the fixing schedule reckons with."""

import csv
import io
from collections import Counter
from pathlib import Path

import pytest
from dossiers import NAMES, evaluated

from fitout import workflow
from fitout.checks.floor_hardware import BELOW, FLOOR, TOPS
from fitout.checks.order import steps
from fitout.checks.restraint_grip import LARGE_WASHERS
from fitout.checks.restraint_rows import fixing_rows
from fitout.documents.fixing_table import fixings_csv
from fitout.documents.tables import hardware_csv

DEMOS = Path(__file__).parents[2] / "designs"
PURPOSES = (FLOOR, TOPS, BELOW)


def read(table):
    return list(csv.DictReader(io.StringIO(table.decode("utf-8-sig"))))


@pytest.fixture(scope="module", params=NAMES)
def told(request):
    """A demo evaluated, its two tables read back."""
    evaluation = evaluated(request.param)
    goods = evaluation.setting.catalogue
    lines = workflow.hardware(evaluation.fitout)
    for_floor = [line for line in lines if line.purpose.startswith(PURPOSES)]
    table = hardware_csv(for_floor, {**goods.goods, **goods.slides})
    return evaluation, read(table), read(fixings_csv(fixing_rows(evaluation.subject)))


def counted(rows, *kinds):
    """How many of each size there are of some kinds of article."""
    return sum(int(row["quantity"]) for row in rows if row["kind"] in kinds)


def test_the_hardware_list_and_the_fixing_schedule_agree_in_every_demo(told):
    evaluation, hardware, fixings = told
    bought = {row["article"]: int(row["quantity"]) for row in hardware}
    assert fixings
    assert counted(hardware, "bolt", "countersunk bolt") == len(fixings)
    on_ply = Counter(row["washer or plate on the ply (mm)"] for row in fixings)
    let_in = counted([r for r in hardware if r["article"].startswith("let-in")], "plate")
    assert counted(hardware, "washer") + let_in == len(fixings)
    for size, count in on_ply.items():
        if size:
            usual = {f"large washer M{d}" for d, w in LARGE_WASHERS.items() if f"{w:g}" == size}
            of_size = [a for a in bought if f" {size} " in a and not a.startswith("floor")]
            assert sum(bought.get(a, 0) for a in {*of_size, *usual}) == count
    steel = evaluation.design.restraint.floor.plate
    under = [row for row in fixings if f"{steel:g} mm plate" in row["below"]]
    plates = sum(n for a, n in bought.items() if a.startswith(f"floor plate {steel:g} x {steel:g}"))
    nuts = [row for row in fixings if row["into"] == "nut" and "rated" not in row["below"]]
    assert plates == len(under)
    assert counted(hardware, "nut") == len(nuts)


def test_the_usual_washer_is_bought_only_where_it_lies_on_steel(told):
    _, hardware, fixings = told
    usual = sum(int(r["quantity"]) for r in hardware if r["article"] == "large washer M8")
    assert usual == sum(1 for row in fixings if not row["washer or plate on the ply (mm)"])


def test_the_steps_take_exactly_what_is_bought(told):
    evaluation, hardware, _ = told
    taken = Counter()
    for step in steps(evaluation.subject):
        taken.update(dict(step.fasteners))
    whole = Counter()
    for line in (x for module in evaluation.fitout.modules for x in module.hardware):
        whole[line.article] += line.quantity
    for row in hardware:
        assert taken[row["article"]] == whole[row["article"]]


def test_the_ledger_weighs_what_is_bought(told):
    evaluation, _, _ = told
    from fitout.checks.ledger import summed
    from fitout.checks.mass_lines import hardware_lines

    rows = evaluation.setting.catalogue.goods
    for module in evaluation.fitout.modules:
        lines = list(hardware_lines(evaluation.subject, module))
        asked = sum(rows[x.article].mass_kg * x.quantity for x in module.hardware)
        assert (summed(lines).mass_kg if lines else 0.0) == pytest.approx(asked)


BOXED = "box: {kind: drawers, stack: [{carries: 20 kg}]}"


def bought_for(evaluation):
    return {
        line.article: line.quantity
        for line in workflow.hardware(evaluation.fitout)
        if line.purpose == FLOOR
    }


@pytest.mark.parametrize(
    ("restraint", "expected"),
    [
        ("{}", ["bolt M8 x 40", "large washer M8", "lock nut M8"]),
        ("{bolt: {washer: 24}}", ["bolt M8 x 40", "large washer M8", "lock nut M8"]),
        (
            "{bolt: {grade: 10.9, washer: 50}}",
            ["bolt M8 x 40 10.9", "washer 50 M8", "lock nut M8"],
        ),
        ("{bolt: {into: captive nut}}", ["bolt M8 x 40", "large washer M8"]),
        ("{bolt: {into: rivet nut}}", ["bolt M8 x 40", "large washer M8", "rivet nut M8"]),
        (
            "{bolt: {washer: 40}, floor: {sheet: 1, plate: 80, plate_thickness: 4}}",
            ["bolt M8 x 40", "washer 40 M8", "floor plate 80 x 80 x 4 M8", "lock nut M8"],
        ),
    ],
)
def test_each_entry_is_bought(evaluated, restraint, expected):
    found = bought_for(evaluated(BOXED, more=f"restraint: {restraint}"))
    assert list(found) == expected
    bolts = next(iter(found.values()))
    assert bolts > 0
    # Without a plate beneath, a second washer as large as the first lies there.
    twice = expected[1] if "nut M8" in expected[-1] and len(expected) == 3 else ""
    double = twice if expected[-1] == "lock nut M8" else ""
    assert found == {name: bolts * (2 if name == double else 1) for name in expected}


def test_a_builders_own_washer_is_taken_with_its_price(evaluated):
    more = """restraint: {bolt: {washer: 40}}
catalogue:
  articles:
    wide washer from the shelf: {like: large washer M8, width: 40, mass_kg: 0.03, price: 0.4}"""
    found = bought_for(evaluated(BOXED, more=more))
    assert "wide washer from the shelf" in found
    assert "washer 40 M8" not in found


def test_bolts_to_the_module_below_are_of_the_class_entered(evaluated):
    modules = (
        "box: {kind: box, height: 200, width: 900, depth: 900}",
        "drawers: {kind: drawers, on: box, width: 700, stack: [{carries: 20 kg}]}",
    )
    graded = evaluated(*modules, more="restraint: {bolt: {grade: 10.9}}")
    lines = [x for x in workflow.hardware(graded.fitout) if x.purpose.startswith(BELOW)]
    assert {x.article for x in lines} == {"bolt M6 x 30 10.9", "large washer M6", "insert nut M6"}
    assert len({x.quantity for x in lines}) == 1
