"""Steps as a table and as JSON."""

import csv
import io
import json

from fitout.documents.assembly import assembly_csv, order_rows
from fitout.model.assembly import Step

STEP = Step(
    number=2,
    phase="vehicle",
    what="drawers: carcass",
    parts=("drawers/base", "drawers/top"),
    joins=(("drawers/base", "bay/floor"),),
    fasteners=(("bolt M8 x 40", 4),),
    tool="ratchet from above",
    people=2,
    how="Bring it in.",
    shifts=((900.0, 0.0, 0.0), (0.0, 0.0, -33.0)),
    after=(1,),
)


def test_a_step_is_a_row() -> None:
    text = assembly_csv([STEP]).decode("utf-8-sig")
    headings, row = csv.reader(io.StringIO(text))
    assert dict(zip(headings, row, strict=True)) == {
        "step": "2",
        "phase": "vehicle",
        "what": "drawers: carcass",
        "parts": "drawers/base; drawers/top",
        "joins": "drawers/base – bay/floor",
        "fasteners": "4 x bolt M8 x 40",
        "tool": "ratchet from above",
        "people": "2",
        "how": "Bring it in.",
        "after step": "1",
    }


def test_a_step_is_an_object() -> None:
    (row,) = json.loads(json.dumps(order_rows([STEP])))
    assert row["moves"] == [[900.0, 0.0, 0.0], [0.0, 0.0, -33.0]]
    assert row["fasteners"] == [{"article": "bolt M8 x 40", "quantity": 4}]
    assert row["after"] == [1]
    assert row["joins"] == [["drawers/base", "bay/floor"]]
