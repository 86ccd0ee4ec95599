"""What one build leaves over is cut from by the next."""

from pathlib import Path

from fitout import workflow
from fitout.cutting.verify import verify
from fitout.documents.cut_files import cut_files

DESIGN = Path(__file__).parent.parent / "designs" / "small-hatch.yaml"


def test_an_offcut_of_one_build_is_used_by_the_next(tmp_path):
    first = workflow.evaluate(workflow.load(DESIGN))
    plan = workflow.plan(first)
    left = cut_files(plan, first.design.stock, first.design.name)["offcuts.yaml"]
    (tmp_path / "offcuts.yaml").write_bytes(left)
    again = tmp_path / "again.yaml"
    text = DESIGN.read_text(encoding="utf-8") + "\nstock: {offcuts: offcuts.yaml}\n"
    again.write_text(text, encoding="utf-8")

    second = workflow.evaluate(workflow.load(again))
    plan = workflow.plan(second)
    used = [sheet for sheet in plan.sheets if sheet.origin == "offcut"]
    assert used
    assert {sheet.label.rpartition(" ")[0] for sheet in used} == {"Small hatch"}
    assert verify(plan, plan.cut_list) == ()
    # What was used is no longer left over; what was not still is; nothing was written back.
    over = cut_files(plan, second.design.stock, "Again")["offcuts.yaml"].decode()
    for offcut in second.design.stock.offcuts:
        assert (f'"{offcut.label}"' in over) != (offcut.label in {sheet.label for sheet in used})
    assert (tmp_path / "offcuts.yaml").read_bytes() == left
    assert again.read_text(encoding="utf-8") == text
