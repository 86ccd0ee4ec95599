"""A fault in a written cut file is found before the former export is replaced."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Callable
from pathlib import Path

import ezdxf
import pytest
from dossiers import evaluated
from ezdxf.document import Drawing

from fitout import workflow
from fitout.cutting.cut_list import CutLine
from fitout.cutting.edging import inset
from fitout.documents.cut_files import cut_files
from fitout.documents.dossier import Dossier
from fitout.documents.export import write_folder
from fitout.documents.read_back import ReadBackError, read_back
from fitout.model.cutting import TabsSpec
from fitout.model.design import BoardSpec
from fitout.model.edging import EdgingSpec
from fitout.model.outline import Loop
from fitout.model.panel import Panel
from fitout.modules.joinery import groove_width

ROOT = Path(__file__).parents[2]
Change = Callable[[Drawing], None]


@pytest.fixture(scope="module")
def evaluation() -> workflow.Evaluation:
    return evaluated("small-hatch")


def made(evaluation: workflow.Evaluation, **cutting: object) -> Dossier:
    """The small hatch, with other wishes for cutting."""
    subject = evaluation.subject
    spec = dataclasses.replace(subject.cutting, **cutting)
    design = dataclasses.replace(evaluation.design, cutting=spec)
    subject = dataclasses.replace(subject, cutting=spec)
    evaluation = dataclasses.replace(evaluation, design=design, subject=subject)
    return workflow.dossier(evaluation, workflow.plan(evaluation))


@pytest.fixture(scope="module")
def dossier(evaluation: workflow.Evaluation) -> Dossier:
    return made(evaluation)


def files(dossier: Dossier) -> dict[str, bytes]:
    written = cut_files(dossier.cuts, dossier.design.stock, dossier.design.name)
    return {name: content for name, content in written.items() if isinstance(content, bytes)}


def part_with(dossier: Dossier, wanted: str) -> str:
    """The file of the first part that has something on a layer of that kind."""
    for name, data in files(dossier).items():
        if name.startswith("parts/") and re.search(rf"^{wanted}", data.decode(), re.MULTILINE):
            return name
    raise AssertionError(wanted)


def refused(dossier: Dossier, target: Path, name: str, change: Change) -> str:
    """What is said when `change` befalls a file while it is written; nothing else may happen."""
    write_folder(target, {"cutlist.csv": b"former"})
    before = {p: p.read_bytes() for p in target.rglob("*") if p.is_file()}

    def verify(folder: Path) -> None:
        drawing = ezdxf.readfile(folder / name)
        change(drawing)
        drawing.saveas(folder / name)
        read_back(folder, dossier)

    with pytest.raises(ReadBackError) as error:
        write_folder(target, files(dossier), verify)
    assert {p: p.read_bytes() for p in target.rglob("*") if p.is_file()} == before
    assert [p.name for p in target.parent.iterdir()] == [target.name]
    return str(error.value)


def entities(drawing: Drawing, kind: str) -> list:
    return [e for e in drawing.modelspace() if e.dxf.layer.startswith(kind)]


def test_what_is_written_reads_back(dossier: Dossier, tmp_path: Path) -> None:
    write_folder(tmp_path / "out", files(dossier), lambda folder: read_back(folder, dossier))
    assert (tmp_path / "out" / "cutlist.csv").is_file()


def test_a_hole_moved_by_half_a_millimetre(dossier: Dossier, tmp_path: Path) -> None:
    def move(drawing: Drawing) -> None:
        entities(drawing, "DRILL")[0].translate(0.5, 0.0, 0.0)

    name = part_with(dossier, "DRILL")
    text = refused(dossier, tmp_path / "out", name, move)
    assert re.search(rf"{name}: the hole of \S+ mm at .* is 0\.50 mm off", text)
    assert "the former export was left as it was" in text


@pytest.mark.parametrize(("by", "caught"), [(0.012, True), (0.008, False)])
def test_a_hundredth_of_a_millimetre_is_the_limit(
    dossier: Dossier, tmp_path: Path, by: float, caught: bool
) -> None:
    def move(drawing: Drawing) -> None:
        entities(drawing, "DRILL")[0].translate(0.0, by, 0.0)

    name = part_with(dossier, "DRILL")
    if caught:
        assert "mm off" in refused(dossier, tmp_path / "out", name, move)
        return
    with pytest.raises(AssertionError, match="tampered, yet within"):
        write_folder(tmp_path / "out", files(dossier), lambda f: passes(f, name, move, dossier))


def passes(folder: Path, name: str, change: Change, dossier: Dossier) -> None:
    drawing = ezdxf.readfile(folder / name)
    change(drawing)
    drawing.saveas(folder / name)
    read_back(folder, dossier)
    raise AssertionError("tampered, yet within")


def test_a_hole_drilled_too_large(dossier: Dossier, tmp_path: Path) -> None:
    def widen(drawing: Drawing) -> None:
        entities(drawing, "DRILL")[0].dxf.radius += 0.1

    name = part_with(dossier, "DRILL")
    assert "0.20 mm off" in refused(dossier, tmp_path / "out", name, widen)


def test_a_groove_on_the_wrong_depth_layer(dossier: Dossier, tmp_path: Path) -> None:
    def deepen(drawing: Drawing) -> None:
        entity = entities(drawing, "SINK")[0]
        drawing.layers.add("SINK_0099_FACE_A")
        entity.dxf.layer = "SINK_0099_FACE_A"

    name = part_with(dossier, "SINK")
    text = refused(dossier, tmp_path / "out", name, deepen)
    assert re.search(rf"{name}: the pocket .* is on layer SINK_0099_FACE_A, not SINK_\d+", text)


def test_a_groove_moved_and_a_groove_left_out(dossier: Dossier, tmp_path: Path) -> None:
    name = part_with(dossier, "SINK")
    moved = refused(
        dossier, tmp_path / "a", name, lambda d: entities(d, "SINK")[0].translate(0.0, 0.3, 0.0)
    )
    assert "is 0.30 mm off" in moved
    (tmp_path / "b").mkdir()
    gone = refused(
        dossier, tmp_path / "b" / "out", name,
        lambda d: d.modelspace().delete_entity(entities(d, "SINK")[0]),
    )  # fmt: skip
    assert re.search(r"the pocket .* is missing", gone)


def test_a_part_missing_from_a_sheet(dossier: Dossier, tmp_path: Path) -> None:
    sheet = dossier.cuts.sheets[0]
    placed = sheet.placed[0]
    line = dossier.cuts.cut_list.line(placed.number)
    wide, high = line.panel.outline.size
    wide, high = (high, wide) if placed.quarter_turns % 2 else (wide, high)

    def remove(drawing: Drawing) -> None:
        for entity in [
            e for e in drawing.modelspace() if re.match("PERI|CUT|DRILL|SINK", e.dxf.layer)
        ]:
            round_ = entity.dxftype() == "CIRCLE"
            x, y, *_ = entity.dxf.center if round_ else entity.get_points("xy")[0]
            inside_x = placed.x - 1e-6 <= x <= placed.x + wide + 1e-6
            if inside_x and placed.y - 1e-6 <= y <= placed.y + high + 1e-6:
                drawing.modelspace().delete_entity(entity)

    name = f"sheets/{sheet.number}.dxf"
    text = refused(dossier, tmp_path / "out", name, remove)
    assert f"{name}: {placed.number} ({line.name}) is missing" in text


def test_a_hole_moved_on_a_sheet(dossier: Dossier, tmp_path: Path) -> None:
    name = next(
        n for n, data in files(dossier).items() if n.startswith("sheets/") and b"\nDRILL" in data
    )
    text = refused(
        dossier, tmp_path / "out", name, lambda d: entities(d, "DRILL")[0].translate(0.5, 0.0, 0.0)
    )
    assert re.search(rf"{name}: P\d+ \(.*\): the hole of \S+ mm at .* is 0\.50 mm off", text)


def test_a_part_mirrored(dossier: Dossier, tmp_path: Path) -> None:
    def mirror(drawing: Drawing) -> None:
        space = drawing.modelspace()
        border = entities(drawing, "PERIMETER")[0]
        length = max(x for x, _ in border.get_points("xy"))
        for entity in list(space):
            if entity.dxftype() == "CIRCLE":
                entity.dxf.center = (length - entity.dxf.center.x, entity.dxf.center.y)
            elif entity.dxftype() == "LWPOLYLINE":
                points = [(length - x, y, -b) for x, y, b in entity.get_points("xyb")]
                entity.set_points(points, format="xyb")

    name = part_with(dossier, "SINK")
    line = dossier.cuts.cut_list.line(Path(name).stem)
    assert f"{name}: {line.name} is mirrored" in refused(dossier, tmp_path / "out", name, mirror)


def test_a_drawing_seen_from_below(dossier: Dossier, tmp_path: Path) -> None:
    def over(drawing: Drawing) -> None:
        for entity in entities(drawing, "PERIMETER"):
            entity.dxf.extrusion = (0.0, 0.0, -1.0)

    assert "seen from below" in refused(dossier, tmp_path / "out", "parts/P01.dxf", over)


def test_a_unit_that_is_no_millimetre(dossier: Dossier, tmp_path: Path) -> None:
    def inches(drawing: Drawing) -> None:
        drawing.header["$INSUNITS"] = 1

    text = refused(dossier, tmp_path / "out", "parts/P01.dxf", inches)
    assert "parts/P01.dxf: its unit is not the millimetre" in text


def test_a_line_drawn_twice_and_a_line_too_many(dossier: Dossier, tmp_path: Path) -> None:
    def double(drawing: Drawing) -> None:
        entity = entities(drawing, "PERIMETER")[0]
        drawing.modelspace().add_lwpolyline(
            entity.get_points("xyb"),
            format="xyb",
            close=True,
            dxfattribs={"layer": entity.dxf.layer},
        )

    text = refused(dossier, tmp_path / "out", "parts/P02.dxf", double)
    assert re.search(r"the outer edge of .* is too many", text)


def test_a_file_cut_short_and_a_stray_file(dossier: Dossier, tmp_path: Path) -> None:
    def spoil(folder: Path) -> None:
        path = folder / "parts/P03.dxf"
        path.write_bytes(path.read_bytes()[:-40])
        (folder / "sheets" / "S99.dxf").write_bytes((folder / "parts/P01.dxf").read_bytes())
        read_back(folder, dossier)

    with pytest.raises(ReadBackError) as error:
        write_folder(tmp_path / "out", files(dossier), spoil)
    assert "parts/P03.dxf: it does not end as a DXF file ends" in str(error.value)
    assert "sheets/S99.dxf: nothing in the plan stands for it" in str(error.value)
    assert list(tmp_path.iterdir()) == []


def test_a_plan_that_puts_a_part_elsewhere_is_found(dossier: Dossier, tmp_path: Path) -> None:
    """The files agree with the plan; the plan does not agree with the design."""
    first, *lines = dossier.cuts.cut_list.lines
    shifted = dataclasses.replace(
        first.panels[0], placement=first.panels[0].placement.moved(dx=0.5, dy=0.5, dz=0.5)
    )
    line = dataclasses.replace(first, panels=(shifted, *first.panels[1:]))
    wrong = changed(dossier, (line, *lines))
    with pytest.raises(ReadBackError, match=r"its part does not lie|as put together"):
        write_folder(tmp_path / "out", files(wrong), lambda folder: read_back(folder, wrong))


def test_a_panel_that_no_part_is_cut_for_and_one_cut_too_seldom(
    dossier: Dossier, tmp_path: Path
) -> None:
    lines = list(dossier.cuts.cut_list.lines)
    many = next(i for i, line in enumerate(lines) if line.quantity > 1)
    lines[many] = dataclasses.replace(lines[many], panels=lines[many].panels[1:])
    wrong = changed(dossier, tuple(lines))
    number, quantity = lines[many].number, lines[many].quantity
    with pytest.raises(
        ReadBackError, match=rf"sheets: {quantity + 1} of {number} .*, not {quantity}"
    ):
        write_folder(tmp_path / "out", files(wrong), lambda folder: read_back(folder, wrong))


def changed(dossier: Dossier, lines: tuple) -> Dossier:
    cut_list = dataclasses.replace(dossier.cuts.cut_list, lines=lines)
    return dataclasses.replace(dossier, cuts=dataclasses.replace(dossier.cuts, cut_list=cut_list))


@pytest.mark.parametrize(
    "cutting",
    [
        {"corners": "T-bone", "coupon": True},
        {"skin": 0.3, "tabs": TabsSpec(below=0.0)},
        {"by": "saw"},
    ],
    ids=["T-bones and test pieces", "onion skin", "saw"],
)
def test_what_differs_on_purpose_counts_as_the_same(evaluation, cutting, tmp_path: Path) -> None:
    dossier = made(evaluation, **cutting)
    read_in = files(dossier)
    write_folder(tmp_path / "out", dict(read_in), lambda folder: read_back(folder, dossier))
    if cutting.get("skin"):
        assert any(
            b"PERIMETER_0115_FACE_A" in data or b"_FACE_A" in data for data in read_in.values()
        )


def test_grooves_fitted_by_a_test_piece_come_out_as_designed(evaluation, tmp_path: Path) -> None:
    held = {p.holds for panel in evaluation.fitout.panels() for p in panel.pockets} - {""}
    sheets = {role: board for role, board in evaluation.setting.boards.items() if board.key in held}
    role, board = next(iter(sheets.items()))
    measured = BoardSpec(sheet=board.key, groove_measured=groove_width(board) + 0.35)
    boards = {**evaluation.design.boards, role: measured}
    design = dataclasses.replace(evaluation.design, boards=boards)
    dossier = made(dataclasses.replace(evaluation, design=design))
    write_folder(tmp_path / "out", files(dossier), lambda folder: read_back(folder, dossier))
    narrower = [
        panel.id
        for line in dossier.cuts.cut_list.lines
        for panel in line.panels
        for design_panel in [dossier.subject.parts.get(panel.id)]
        if design_panel is not None and panel.volume > design_panel.volume + 1.0
    ]
    assert narrower


def test_edging_makes_a_part_whole(evaluation, tmp_path: Path) -> None:
    edging = EdgingSpec(thickness=2.0)

    def wants(panel: Panel) -> Panel:
        return dataclasses.replace(panel, board=dataclasses.replace(panel.board, edging=edging))

    modules = tuple(
        dataclasses.replace(module, panels=tuple(map(wants, module.panels)))
        for module in evaluation.fitout.modules
    )
    fitout = dataclasses.replace(evaluation.fitout, modules=modules)
    subject = dataclasses.replace(evaluation.subject, fitout=fitout)
    dossier = made(dataclasses.replace(evaluation, fitout=fitout, subject=subject))
    assert any(line.panel.strips for line in dossier.cuts.cut_list.lines)
    write_folder(tmp_path / "out", files(dossier), lambda folder: read_back(folder, dossier))
    wrong = []
    for line in dossier.cuts.cut_list.lines:
        thin = [dataclasses.replace(strip, thickness=1.5) for strip in line.panel.strips]
        panels = [dataclasses.replace(panel, strips=tuple(thin)) for panel in line.panels]
        wrong.append(dataclasses.replace(line, panels=tuple(panels)))
    with pytest.raises(ReadBackError, match="its edging does not make it whole"):
        read_back(tmp_path / "out", changed(dossier, tuple(wrong)))


@pytest.fixture(scope="module")
def scribed() -> Dossier:
    """The tub with edging on its fronts and 5 mm left where panels are scribed."""
    design = workflow.load(ROOT / "designs" / "canopy-tub.yaml")
    front = BoardSpec(sheet="birch ply 12", edging=EdgingSpec(thickness=2.0))
    design = dataclasses.replace(design, boards={**design.boards, "front": front})
    return made(workflow.evaluate(design), scribe_allowance=5.0)


def test_what_is_left_to_scribe_reads_back_on_parts_and_sheets(
    scribed: Dossier, tmp_path: Path
) -> None:
    lines = scribed.cuts.cut_list.lines
    assert any(line.scribe for line in lines)
    assert any(line.panel.strips for line in lines)
    write_folder(tmp_path / "out", files(scribed), lambda folder: read_back(folder, scribed))
    drawing = ezdxf.readfile(tmp_path / "out" / part_with(scribed, "SCRIBE_LINE"))
    runs = entities(drawing, "SCRIBE_LINE")
    assert runs
    assert not any(run.closed for run in runs)


def test_a_line_to_scribe_to_off_by_a_fiftieth(scribed: Dossier, tmp_path: Path) -> None:
    def move(drawing: Drawing) -> None:
        entities(drawing, "SCRIBE_LINE")[0].translate(0.02, 0.0, 0.0)

    for name in (part_with(scribed, "SCRIBE_LINE"), sheet_with(scribed, "SCRIBE_LINE")):
        said = refused(scribed, tmp_path / name.replace("/", " ") / "out", name, move)
        assert name in said
        assert "the line to scribe to from" in said
        assert "is not in its place" in said
        assert "too many" in said


def sheet_with(dossier: Dossier, wanted: str) -> str:
    for name, data in files(dossier).items():
        if name.startswith("sheets/") and re.search(rf"^{wanted}", data.decode(), re.MULTILINE):
            return name
    raise AssertionError(wanted)


@pytest.mark.parametrize("by", [0.5, 0.05])
@pytest.mark.parametrize("kind", ["strips", "scribe", "plain"])
def test_a_part_planned_smaller_all_round_than_it_is_to_be(
    scribed: Dossier, tmp_path: Path, kind: str, by: float
) -> None:
    def is_of_kind(panel: Panel) -> bool:
        return not (panel.strips or panel.scribe) if kind == "plain" else bool(getattr(panel, kind))

    line, small = next(
        (one, loop)
        for one in scribed.cuts.cut_list.lines
        if is_of_kind(one.panel)
        and (loop := inset(outer(one), straight(outer(one)), by)) is not None
    )
    wrong = tuple(
        dataclasses.replace(p, outline=dataclasses.replace(p.outline, outer=small))
        for p in line.panels
    )
    lines = tuple(
        dataclasses.replace(one, panels=wrong) if one is line else one
        for one in scribed.cuts.cut_list.lines
    )
    planted = changed(scribed, lines)
    with pytest.raises(ReadBackError, match=rf"{line.panel.id}.* outer edge .* mm off"):
        write_folder(tmp_path / "out", files(planted), lambda folder: read_back(folder, planted))


def straight(loop: Loop) -> list[int]:
    return [i for i, (a, _) in enumerate(loop.segments()) if not a.bulge]


def outer(line: CutLine) -> Loop:
    return line.panel.outline.outer.anticlockwise()
