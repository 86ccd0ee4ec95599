"""The flow as a whole: the example designs, what breaks them, the same bytes every time."""

import dataclasses
import re
from pathlib import Path

import pytest
from dossiers import dossier, evaluated

from fitout import workflow
from fitout.catalogue.boards import MEASURED_TOLERANCE, boards_of
from fitout.documents.contents import OF_THE_DOSSIER, OF_THE_FITOUT
from fitout.model.design import BaySpec, BoardSpec, ClearanceSpec, Design
from fitout.model.fault import DesignError
from fitout.model.finding import Severity
from fitout.model.spec import Measured

ROOT = Path(__file__).resolve().parent.parent
DESIGNS = {path.stem: path for path in sorted((ROOT / "designs").glob("*.yaml"))}

each_design = pytest.mark.parametrize("name", DESIGNS)


def read(text: str, folder: Path) -> Design:
    path = folder / "changed.yaml"
    path.write_text(text, encoding="utf-8", newline="\n")
    return workflow.load(path)


@each_design
def test_each_example_passes_with_every_check_run(name):
    evaluation = evaluated(name)
    failed = [f.sentence for f in evaluation.findings if f.severity is Severity.FAIL]
    assert failed == []
    assert evaluation.passed
    assert not evaluation.arrangement.conflicts
    codes = {f.code for f in evaluation.findings}
    assert {"arrangement", "gap to the vehicle", "total mass", "restraint"} <= codes


@each_design
def test_each_example_is_written_by_a_builder_not_by_coordinates(name):
    # Every module is placed by relation; what is given in mm is measured or a wish.
    text = DESIGNS[name].read_text(encoding="utf-8")
    assert "caution" not in {f.severity for f in evaluated(name).findings if f.code == "entry"}
    assert text.startswith("#"), "it says at the top what it is"


CHANGES = (
    # design, what stands there, what stands there instead, which findings must fail
    ("touring-wagon", "contents: 24 kg", "contents: 124 kg", {"slide load"}),
    ("touring-wagon", "{carries: 18 kg}", "{carries: 130 kg}", {"slide load", "panel sag"}),
    ("touring-wagon", "level: fit", "level: 400", {"arrangement"}),
    ("touring-wagon", "600 x 380 x 430", "600 x 380 x 830", {"arrangement"}),
    ("touring-wagon", "600 x 380 x 430", "600 x 780 x 430", {"arrangement"}),
    ("touring-wagon", "{hinge: left,", "{hinge: front,", {"motion"}),
    ("touring-wagon", "[895, 380], below: clear", "[895, 380], below: pipe", {"below a fixing"}),
    ("touring-wagon", "at: [949, 651]", "at: [949, 560]", {"fixing points"}),
    ("touring-wagon", "reach: 90, up_to", "reach: 300, up_to", {"gap to the vehicle", "motion"}),
    ("small-hatch", "height: 228", "height: 628", {"arrangement"}),
    ("small-hatch", "measured: 11.7", "measured: 6.2", {"panel sag", "panel bending"}),
    ("small-hatch", "at: [529, 250]", "at: [529, 550]", {"fixing points"}),
    ("canopy-tub", "depth: 1150", "depth: 1300", {"arrangement"}),
    ("canopy-tub", "width: 1368", "width: 1392", {"arrangement"}),
    ("canopy-tub", "carries: 50 kg", "carries: 115 kg", {"slide load"}),
    ("canopy-tub", "front_height: 150", "front_height: 630", {"arrangement"}),
    ("canopy-tub", "deck: birch ply 15", "deck: birch ply 6.5", {"panel bending"}),
    ("canopy-tub", "bottom: birch ply 9", "bottom: birch ply 4", {"panel sag"}),
    ("canopy-tub", "230 x 700 x 420", "330 x 700 x 420", {"arrangement"}),
)


@pytest.mark.parametrize(
    ("name", "old", "new", "codes"), CHANGES, ids=[f"{n}: {w}" for n, _, w, _ in CHANGES]
)
def test_one_number_changed_fails_where_a_builder_would_expect(name, old, new, codes, tmp_path):
    text = DESIGNS[name].read_text(encoding="utf-8")
    assert text.count(old) == 1
    evaluation = workflow.evaluate(read(text.replace(old, new), tmp_path))
    failed = {f.code for f in evaluation.findings if f.severity is Severity.FAIL}
    assert codes <= failed


BAY_CHANGES = (
    # design, an entry of the bay that its notes check, one that is wrong, what fails then
    ("touring-wagon", "foot: 1164 ± 3", "foot: 1100 ± 3", {"arrangement"}),
    ("canopy-tub", "front_wall: 1508 ± 3", "front_wall: 1440 ± 3", {"arrangement"}),
)


def without_notes(text: str) -> str:
    """A design file whose bay was measured once."""
    return re.sub(r"\n  # What was measured besides.*?(?=\n\n)", "", text, flags=re.DOTALL)


@pytest.mark.parametrize(("name", "old", "new", "codes"), BAY_CHANGES)
def test_an_entry_that_is_wrong_is_caught_by_the_notes(name, old, new, codes, tmp_path):
    text = DESIGNS[name].read_text(encoding="utf-8")
    assert text.count(old) == 1
    wrong = text.replace(old, new)
    bare = workflow.evaluate(read(without_notes(wrong), tmp_path))
    assert codes <= {f.code for f in bare.findings if f.severity is Severity.FAIL}
    checked = workflow.evaluate(read(wrong, tmp_path))
    assert checked.passed
    (caught,) = [f for f in checked.findings if f.code == "survey" and f.value == float(new[-8:-4])]
    assert caught.severity is Severity.CAUTION
    assert caught.where == f"line {1 + wrong[: wrong.index(new)].count(chr(10))}"
    assert caught.limit == pytest.approx(float(old[-8:-4]), abs=2.0)


@each_design
def test_a_note_30_mm_wrong_is_caught_by_name(name, tmp_path):
    """And without it all is as it was; the notes as they are agree."""
    text = DESIGNS[name].read_text(encoding="utf-8")
    said = [f for f in evaluated(name).findings if f.code == "survey"]
    assert [f.severity for f in said] == [Severity.PASS]
    (depth,) = re.findall(r"\{forward: (?!0,)[0-9]+, reads: ([0-9]+)\}", text)
    wrong = text.replace(f"reads: {depth}}}", f"reads: {int(depth) + 30}}}")
    found = workflow.evaluate(read(wrong, tmp_path))
    assert found.passed
    (caught,) = [f for f in found.findings if f.code == "survey" and f.severity is Severity.CAUTION]
    assert caught.sentence.startswith("Depth ")
    assert f"reads {int(depth) + 30}, but all else says" in caught.sentence
    assert caught.limit == pytest.approx(float(depth), abs=2.5)
    left_out = "\n".join(line for line in text.split("\n") if f"reads: {depth}}}" not in line)
    assert left_out != text
    bay = workflow.evaluate(read(left_out, tmp_path)).survey.bay
    assert found.survey.bay.sections == bay.sections
    assert found.survey.bay.seat_back == bay.seat_back


REFUSALS = (
    # design, what stands there, what stands there instead, what stands where the fault is told
    ("touring-wagon", "height: 14, mass", "height: 114, mass", "across: 920"),
    ("small-hatch", "height: 228", "height: 130", "height: 130"),
    ("small-hatch", "[340, 40]", "[420, 40]", "screwdriver set"),
    ("small-hatch", "lip: 64 ± 2", "lip: 160", "height: 228"),
)


@pytest.mark.parametrize(
    ("name", "old", "new", "there"), REFUSALS, ids=[f"{n}: {w}" for n, _, w, _ in REFUSALS]
)
def test_one_number_that_cannot_be_built_is_told_at_its_line(name, old, new, there, tmp_path):
    text = DESIGNS[name].read_text(encoding="utf-8")
    assert text.count(old) == 1
    changed = text.replace(old, new)
    with pytest.raises(DesignError) as refused:
        workflow.evaluate(read(changed, tmp_path))
    lines = changed.splitlines()
    assert there in lines[refused.value.faults[0].line - 1]


def wider(bay: BaySpec, by: float) -> BaySpec:
    """The bay measured wider at its first section."""
    first = bay.sections[0]
    widths = {z: Measured(w.value + by) for z, w in first.widths.items()}
    return dataclasses.replace(
        bay, sections=(dataclasses.replace(first, widths=widths), *bay.sections[1:])
    )


@pytest.mark.parametrize(
    "name",
    [
        "small-hatch",
        *(pytest.param(n, marks=pytest.mark.thorough) for n in ("canopy-tub", "touring-wagon")),
    ],
)
def test_an_evaluation_that_remembers_equals_a_fresh_one(name):
    design = workflow.load(DESIGNS[name])
    thin = BoardSpec(sheet="birch ply 12", measured=11.3)
    changes = (
        design,
        dataclasses.replace(design, boards={**design.boards, "carcass": thin}),
        dataclasses.replace(design, bay=wider(design.bay, 6.0)),
        dataclasses.replace(design, clearances=ClearanceSpec(parts=2.0)),
        dataclasses.replace(design, modules=dict(list(design.modules.items())[::-1])),
        dataclasses.replace(design, name="Another name"),
        design,
    )
    memory = workflow.Memory()
    for changed in changes:
        again, fresh = workflow.evaluate(changed, memory), workflow.evaluate(changed)
        assert again.findings == fresh.findings
        assert again.totals == fresh.totals
        assert again.fitout.modules == fresh.fitout.modules


@each_design
def test_every_panel_is_cut_once_and_every_article_known(name):
    evaluation, cuts = evaluated(name), dossier(name).cuts
    panels = sorted(p.id for p in evaluation.fitout.panels())
    assert sorted(p.id for line in cuts.cut_list.lines for p in line.panels) == panels
    catalogue = evaluation.setting.catalogue
    for line in workflow.hardware(evaluation.fitout):
        assert line.quantity > 0
        assert line.article in catalogue.goods or line.article in catalogue.slides
    for module in evaluation.fitout.modules:
        for fixing in module.fixings:
            assert fixing.article in catalogue.articles


@each_design
def test_hardware_counts_a_pair_of_slides_for_every_moving_drawer(name):
    evaluation = evaluated(name)
    lines = workflow.hardware(evaluation.fitout)
    slides = evaluation.setting.catalogue.slides
    pairs = sum(line.quantity for line in lines if line.article in slides)
    duties = [duty for module in evaluation.fitout.modules for duty in module.slides]
    assert pairs == len(duties)


@each_design
def test_every_joint_and_duty_names_a_body_that_is_there(name):
    evaluation = evaluated(name)
    fitout = evaluation.fitout
    ids = [part.id for part in fitout.parts()]
    assert len(ids) == len(set(ids))
    known = {*ids, *(o.id for o in fitout.bay.obstacles)}
    for joint in fitout.all_joints():
        assert {joint.a, joint.b} <= known
    motions = {(m.module, m.name) for module in fitout.modules for m in module.motions}
    for part in fitout.parts():
        assert part.moves is None or (part.module, part.moves) in motions
    for module in fitout.modules:
        assert {duty.panel for duty in module.plates} <= known
        assert {i for duty in module.slides for i in duty.moving} <= known


def test_a_board_is_taken_at_the_thickness_measured():
    evaluation = evaluated("small-hatch")
    board = evaluation.setting.boards["deck"]
    assert board.thickness == 11.7
    assert board.thickness_tolerance == MEASURED_TOLERANCE
    assert board.key == "birch ply 12"
    plain = evaluation.setting.boards["carcass"]
    assert plain == evaluation.setting.catalogue.sheets["birch ply 9"]


def test_a_price_of_the_builders_own_is_kept():
    catalogue = evaluated("small-hatch").setting.catalogue
    wishes = {"front": BoardSpec(sheet="birch ply 9", price=71.5)}
    boards = boards_of(wishes, catalogue)
    assert boards["front"].price == 71.5
    assert boards["front"].thickness == catalogue.sheets["birch ply 9"].thickness


def test_findings_come_what_hurts_most_first():
    order = [Severity.FAIL, Severity.CAUTION, Severity.UNCHECKED, Severity.PASS]
    for name in DESIGNS:
        ranks = [order.index(f.severity) for f in evaluated(name).findings]
        assert ranks == sorted(ranks)


def test_what_looks_like_a_slip_is_a_caution_with_its_line(tmp_path):
    text = DESIGNS["small-hatch"].read_text(encoding="utf-8")
    text = text.replace("at: 720, ", "at: 7200, ").replace("foot: 716 ± 4", "foot: 7160 ± 4")
    evaluation = workflow.evaluate(read(text, tmp_path))
    slips = [f for f in evaluation.findings if f.code == "entry"]
    assert slips
    for finding in slips:
        assert finding.severity is Severity.CAUTION
        assert finding.where.startswith("line ")
        assert finding.sentence.startswith("Found ")


def test_a_fault_in_one_half_of_a_pair_is_told_where_the_pair_is_written(tmp_path):
    text = DESIGNS["touring-wagon"].read_text(encoding="utf-8")
    text = text.replace("sides: both", "sides: both, width: 61")
    design = read(text, tmp_path)
    try:
        evaluation = workflow.evaluate(design)
    except DesignError as error:
        places = {fault.line for fault in error.faults}
        written = text[: text.index("sides: both")].count("\n") + 1
        assert places == {written}
    else:
        assert {"bins left", "bins right"} <= set(evaluation.setting.berths)


def test_progress_is_told_before_each_slow_step(tmp_path):
    steps: list[str] = []
    design = workflow.load(DESIGNS["canopy-tub"])
    evaluation = workflow.build(design, tmp_path / "out", steps.append)
    documents = [f"making {document.name}" for document in (*OF_THE_DOSSIER, *OF_THE_FITOUT)]
    before, after = ["checking", "nesting sheets"], ["writing", "reading the cut files back"]
    assert steps == [*before, *documents, *after]
    assert evaluation.passed


def test_a_failing_design_is_refused_with_every_failing_sentence(tmp_path):
    text = DESIGNS["canopy-tub"].read_text(encoding="utf-8")
    design = read(text.replace("carries: 50 kg", "carries: 115 kg"), tmp_path)
    failed = [f for f in workflow.evaluate(design).findings if f.severity is Severity.FAIL]
    with pytest.raises(workflow.RefusedError) as refused:
        workflow.build(design, tmp_path / "out", lambda _: None)
    assert all(f.sentence in str(refused.value) for f in failed)
    assert not (tmp_path / "out").exists()
