"""What one build leaves over is cut from by the next, through the command line."""

import csv
from pathlib import Path

from fitout import cli, workflow
from fitout.documents import contents

DESIGN = Path(__file__).parent.parent / "designs" / "small-hatch.yaml"


def rows(file):
    with file.open(encoding="utf-8-sig", newline="") as stream:
        return list(csv.DictReader(stream))


def test_an_offcut_of_one_build_is_used_by_the_next(tmp_path, monkeypatch):
    needed = [d for d in contents.OF_THE_DOSSIER if d.name in ("cut files", "tables")]
    monkeypatch.setattr(contents, "OF_THE_DOSSIER", tuple(needed))
    monkeypatch.setattr(contents, "OF_THE_FITOUT", ())
    text = DESIGN.read_text(encoding="utf-8")
    first, again = tmp_path / "first.yaml", tmp_path / "again.yaml"
    first.write_text(text, encoding="utf-8")
    assert cli.main(["build", str(first), "--out", str(tmp_path / "first")]) == 0
    bought = rows(tmp_path / "first" / "purchase.csv")
    assert not [row for row in bought if row["from"] == "offcut"]
    left = (tmp_path / "first" / "offcuts.yaml").read_bytes()

    # The builder copies the file beside the next design and names it there.
    (tmp_path / "offcuts.yaml").write_bytes(left)
    text += "\nstock: {offcuts: offcuts.yaml}\n"
    again.write_text(text, encoding="utf-8")
    assert cli.main(["build", str(again), "--out", str(tmp_path / "second")]) == 0
    sheets = [row for row in rows(tmp_path / "second" / "purchase.csv") if row["kind"] != "bar"]
    used = [row for row in sheets if "offcut" in row["from"]]
    assert used
    offered = {offcut.label: offcut for offcut in workflow.load(again).stock.offcuts}
    drawn = (tmp_path / "second" / "sheets.svg").read_text(encoding="utf-8")
    lying = {label for label in offered if f"offcut {label}, " in drawn}
    assert len(lying) == sum(int(row["quantity"]) for row in used)
    # Fewer sheets are bought, and every part is still cut once, some from offcuts.
    count = [
        sum(int(row["quantity"]) for row in table if row["from"] == "bought" and row["what"])
        for table in (bought, sheets)
    ]
    assert count[1] < count[0]
    first_parts, parts = (
        sorted((row["part"], row["copy"]) for row in rows(tmp_path / which / "nesting.csv"))
        for which in ("first", "second")
    )
    assert parts == first_parts
    # What was used is no longer left over; what was not still is; nothing was written back.
    over = (tmp_path / "second" / "offcuts.yaml").read_text(encoding="utf-8")
    for label in offered:
        assert (f'"{label}"' in over) != (label in lying)
    assert (tmp_path / "offcuts.yaml").read_bytes() == left
    assert again.read_text(encoding="utf-8") == text
