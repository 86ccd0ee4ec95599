"""Parts as built: which part is meant, and what the gaps make of it."""

import dataclasses
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from dossiers import evaluated

from fitout import workflow
from fitout.answers.survey import survey_report
from fitout.checks.as_built import CALLIPER, FAR, ODD, as_built_of
from fitout.checks.chain import CUT, Source, shifts_of
from fitout.checks.stack import Stack, stack_of, wider_as_built
from fitout.cutting.cut_list import CutList, cut_list
from fitout.documents.survey_table import survey_object, survey_text
from fitout.documents.tables import cutlist_csv
from fitout.model.as_built import AsBuiltSpec, Built
from fitout.model.fault import DesignError, Fault
from fitout.model.finding import Finding, Severity
from fitout.model.module import Joint, JointKind
from fitout.model.spec import Measured
from fitout.workflow import Evaluation

Make = Callable[..., Any]

WAGON = Path(__file__).resolve().parents[2] / "designs" / "touring-wagon.yaml"
SIDE, TANK, WALL = "drawers/right side", "tank/tank", "bay/left wheel arch"
NUMBER = "P07"


@pytest.fixture(scope="module")
def wagon() -> Evaluation:
    return evaluated("touring-wagon")


def spec(**sizes: float | Measured) -> AsBuiltSpec:
    read = {k: v if isinstance(v, Measured) else Measured(v) for k, v in sizes.items()}
    return AsBuiltSpec(**read)


def cuts_of(evaluation: Evaluation) -> CutList:
    bars = [bar for module in evaluation.fitout.modules for bar in module.bars]
    return cut_list(evaluation.fitout.panels(), bars)


def cut(evaluation: Evaluation, number: str) -> Any:
    return cuts_of(evaluation).line(number)


def faults(evaluation: Evaluation, wishes: dict[str, AsBuiltSpec]) -> tuple[Fault, ...]:
    with pytest.raises(DesignError) as raised:
        as_built_of(wishes, evaluation.fitout, "II")
    return raised.value.faults


def with_parts(evaluation: Evaluation, wishes: dict[str, AsBuiltSpec]) -> Evaluation:
    design = dataclasses.replace(evaluation.design, as_built=wishes)
    return workflow.evaluate(design, evaluation.subject.memory)


def gap(evaluation: Evaluation, a: str, b: str) -> Stack:
    stack = stack_of(evaluation.subject, a, b)
    assert stack is not None
    return stack


@pytest.mark.parametrize("key", ["P07", "p7", "7", "panel 7", "Panel 07", SIDE])
def test_a_part_by_its_number_or_name(wagon: Evaluation, key: str) -> None:
    line = cut(wagon, NUMBER)
    wishes = {key: spec(length=line.length + 1.0)}
    found = as_built_of(wishes, wagon.fitout, "II")
    assert [id_ for id_, _ in found] == [SIDE]
    (one,) = found.values()
    assert (one.size, one.number, one.key) == ("length", NUMBER, key)
    assert one.off == pytest.approx(1.0)
    assert one.words == "1.0 mm over"


def test_sizes_are_the_cut_lists_however_the_part_is_turned(wagon: Evaluation) -> None:
    """Every panel: length and width as the cut list prints them, along the part's own axes."""
    for line in cuts_of(wagon).lines:
        for drawn in line.panels:
            wish = spec(length=line.length - 1.0, width=line.width + 2.0, thickness=12.5)
            if abs(line.thickness - 12.5) > FAR["thickness"]:
                wish = dataclasses.replace(wish, thickness=None)
            found = as_built_of({drawn.id: wish}, wagon.fitout, "II")
            panel = wagon.subject.parts[drawn.id]
            along = dict(zip("uv", panel.outline.size, strict=True))  # type: ignore[union-attr]
            for (_, way), one in found.items():
                if way in along:
                    assert along[way] == pytest.approx(one.cut, abs=1e-6)
            assert len({way for _, way in found}) == len(found)


def test_a_bar_has_a_length(wagon: Evaluation) -> None:
    line = cuts_of(wagon).bars[0]
    bar = line.bars[0]
    found = as_built_of({bar.id: spec(length=line.length - 2.0)}, wagon.fitout, "II")
    assert list(found) == [(bar.id, "u")]
    assert found[bar.id, "u"].number == line.number
    (fault,) = faults(wagon, {bar.id: spec(width=30.0)})
    assert fault.found == "a width of a bar"


def test_how_sure_a_size_is_as_built(wagon: Evaluation) -> None:
    """A hooked class II tape over up to 1 m: ± 0.7 and half a mark; what is noted counts."""
    line = cut(wagon, NUMBER)
    wish = spec(length=line.length, width=Measured(line.width, 0.2), thickness=line.thickness + 0.3)
    length, width, thickness = as_built_of({NUMBER: wish}, wagon.fitout, "II").values()
    assert length.half_width == pytest.approx((0.7**2 + 0.5**2) ** 0.5)
    assert width.half_width == 0.2
    assert thickness.half_width == CALLIPER


@pytest.mark.parametrize(
    ("key", "found", "expected", "hint"),
    [
        ("drawers/right sid", "drawers/right sid", "a part of the cut list", SIDE),
        ("P99", "P99", "a part of the cut list", "Panels are P01 to P"),
        ("zzzz", "zzzz", "a part of the cut list", "Panels are P01 to P"),
        ("base", "base, which is 4 parts", "drawers/base, fridge/base", ""),
        ("P16", "P16, which is 2 parts", "drawers/rear rail 1, drawers/front rail 1", ""),
    ],
)
def test_a_name_of_no_one_part(
    wagon: Evaluation, key: str, found: str, expected: str, hint: str
) -> None:
    (fault,) = faults(wagon, {key: spec(length=500.0)})
    assert fault.path == ("as_built", key)
    assert fault.found == found
    assert expected in fault.expected
    assert hint in fault.hint


def test_a_size_that_can_not_be_the_parts(wagon: Evaluation) -> None:
    line = cut(wagon, NUMBER)
    far = spec(length=line.length + FAR["length"] + 0.1, thickness=18.0)
    length, thickness = faults(wagon, {NUMBER: far})
    assert length.path == ("as_built", NUMBER, "length")
    assert length.expected == f"about {line.length:.1f}, as the cut list has it"
    assert thickness.found == "18"


def test_one_size_twice(wagon: Evaluation) -> None:
    line = cut(wagon, NUMBER)
    wishes = {NUMBER: spec(width=line.width), SIDE: spec(width=line.width, length=line.length)}
    (fault,) = faults(wagon, wishes)
    assert fault.path == ("as_built", SIDE, "width")
    assert fault.hint == "P07 is the same part."


def test_faults_are_told_with_their_place(wagon: Evaluation, tmp_path: Path) -> None:
    text = WAGON.read_text(encoding="utf-8")
    path = tmp_path / "car.yaml"
    entry = "as_built:\n  drawers/basis: {length: 550}\n  P07: {length: 30}\n"
    path.write_text(text + entry, encoding="utf-8")
    with pytest.raises(DesignError) as raised:
        workflow.evaluate(workflow.load(path))
    first = text.count("\n") + 2
    assert [(f.line, f.column) for f in raised.value.faults] == [(first, 18), (first + 1, 17)]


def test_a_measured_size_takes_the_place_of_its_cut(
    subject: Make, module: Make, panel: Make
) -> None:
    """A board on the floor, 400 wide: its right edge moves by all the width is over."""
    joints = [Joint("c/base", "bay/floor", JointKind.SCREWED)]
    base = panel("c/base", (0.0, 500.0), (-200.0, 200.0))
    plain = subject(module("c", base), joints=joints)
    entry = {"number": "P01", "half_width": 0.2, "key": "P01"}
    width = Built(size="width", cut=400.0, read=401.0, **entry)
    thick = Built(size="thickness", cut=10.0, read=10.4, **entry)
    measured = dataclasses.replace(plain, as_built={("c/base", "v"): width, ("c/base", "w"): thick})
    at, left = (250.0, 200.0, 5.0), (0.0, 1.0, 0.0)
    before, after = (shifts_of(s, "c/base", at, left) for s in (plain, measured))
    assert before[Source("cut of c/base", CUT["router"], "v")] == pytest.approx(1.0)
    source = Source("width of c/base as built", 0.2, "v", 1.0)
    assert after[source] == pytest.approx(1.0)
    assert not [s for s in after if s.name.startswith("cut of")]
    rise = shifts_of(measured, "c/base", (0.0, 0.0, 5.0), (0.0, 0.0, 1.0))
    ((found, share),) = [(s, c) for s, c in rise.items() if s.name.startswith("thickness")]
    assert found.off == pytest.approx(0.4)
    assert share == pytest.approx(0.5)


def test_one_millimetre_over_is_one_millimetre_less(wagon: Evaluation) -> None:
    """The side that faces the tank, 1 mm long: the gap is 1 mm less, and so is its worst case
    but for what reading the tape leaves open instead of what cutting does."""
    line = cut(wagon, NUMBER)
    exact = Measured(line.length + 1.0, CUT["router"])
    after = with_parts(wagon, {NUMBER: spec(length=exact)})
    was, now = gap(wagon, SIDE, TANK), gap(after, SIDE, TANK)
    assert now.gap == pytest.approx(was.gap - 1.0)
    assert now.drawn == pytest.approx(was.gap)
    assert now.u == pytest.approx(was.u)
    assert now.worst == pytest.approx(was.worst - 1.0)
    assert now.probability < was.probability
    assert now.as_built == (f"length of {SIDE} as built 1.0 mm over",)
    assert f"length of {SIDE} as built" in [d.name for d in now.drivers]
    assert wider_as_built(after.subject, SIDE, TANK) == pytest.approx(-1.0)
    # Gaps that the part has no share in stay as they were.
    other = ("bins left/inner wall", WALL)
    assert gap(after, *other).gap == gap(wagon, *other).gap
    assert gap(after, *other).as_built == ()


def test_a_better_reading_makes_the_gap_surer(wagon: Evaluation) -> None:
    line = cut(wagon, NUMBER)
    calliper, tape = (
        with_parts(wagon, {NUMBER: spec(length=Measured(line.length, t))}) for t in (0.05, None)
    )
    assert gap(calliper, SIDE, TANK).u < gap(wagon, SIDE, TANK).u < gap(tape, SIDE, TANK).u


def test_the_findings_count_parts_as_built(wagon: Evaluation) -> None:
    line = cut(wagon, NUMBER)
    after = with_parts(wagon, {NUMBER: spec(length=line.length + 1.0)})
    where = f"{SIDE} – {TANK}"
    (told,) = [f for f in after.findings if f.where == where]
    assert told.value == pytest.approx(gap(wagon, SIDE, TANK).gap - 1.0, abs=1e-3)
    assert told.limit is not None
    assert told.margin == pytest.approx(told.value - told.limit, abs=1e-3)
    assert told.severity is Severity.CAUTION
    assert f"Counting parts as built (length of {SIDE} as built 1.0 mm over)" in told.sentence
    assert told.sentence.endswith("5 mm are wanted.")
    (part,) = as_built_findings(after)
    assert part.severity is Severity.PASS
    assert part.value == pytest.approx(1.0)
    assert part.sentence.startswith(f"P07 ({SIDE}) has a length of ")
    assert not as_built_findings(wagon)


def as_built_findings(evaluation: Evaluation) -> list[Finding]:
    return [f for f in evaluation.findings if f.code == "as built"]


def test_a_part_far_off_is_a_caution_and_a_gap_eaten_up_fails(wagon: Evaluation) -> None:
    line = cut(wagon, NUMBER)
    over = 6.0
    assert ODD["length"] < over < FAR["length"]
    after = with_parts(wagon, {NUMBER: spec(length=line.length + over)})
    (part,) = as_built_findings(after)
    assert part.severity is Severity.CAUTION
    assert "cut it anew" in part.sentence
    (told,) = [f for f in after.findings if f.where == f"{SIDE} – {TANK}"]
    assert told.severity is Severity.FAIL
    assert "nothing is left of it" in told.sentence
    assert not after.passed


def test_a_part_short_makes_room(wagon: Evaluation) -> None:
    line = cut(wagon, NUMBER)
    after = with_parts(wagon, {NUMBER: spec(length=line.length - 2.0)})
    assert gap(after, SIDE, TANK).gap == pytest.approx(gap(wagon, SIDE, TANK).gap + 2.0)
    assert as_built_findings(after)[0].sentence.count("2.0 mm under") == 1
    # Another part is now the nearest to the tank, and that pair is told instead.
    assert not [f for f in after.findings if f.where == f"{SIDE} – {TANK}"]


def test_the_cut_files_stay_as_designed(wagon: Evaluation) -> None:
    line = cut(wagon, NUMBER)
    after = with_parts(wagon, {NUMBER: spec(length=line.length + 1.0, thickness=12.4)})
    lists = [cutlist_csv(cuts_of(e)) for e in (wagon, after)]
    assert lists[0] == lists[1]


def test_a_second_visit_from_the_design_file_to_the_table(
    wagon: Evaluation, tmp_path: Path
) -> None:
    """A re-measured arch and a panel 1 mm over, as a builder writes them."""
    line = cut(wagon, NUMBER)
    arches = "supersedes: height of the wheel arches, reads: 262 ± 1"
    note = f"      - {{{arches}, on: 2026-11-25, by: Ana}}\n"
    last = "      - {between: [tailgate 450, front middle], reads: 1219}\n"
    text = WAGON.read_text(encoding="utf-8").replace(last, f"{last}{note}")
    entry = f"as_built:\n  panel 7: {{length: {line.length + 1.0:.4f} ± 0.3, on: 2026-12-01}}\n"
    path = tmp_path / "car.yaml"
    path.write_text(text + entry, encoding="utf-8")
    after = workflow.evaluate(workflow.load(path))
    assert cut(after, NUMBER).length == pytest.approx(line.length, abs=1e-3)
    drop = gap(wagon, SIDE, TANK).gap - gap(after, SIDE, TANK).gap
    assert drop == pytest.approx(1.0, abs=1e-3)
    report = survey_report(after)
    superseded = [row for row in report.rows if row.superseded_by]
    assert [(row.name, row.read) for row in superseded] == [("height of the wheel arches", 262.0)]
    gaps: Any = survey_object(report)["gaps"]
    (told,) = [g for g in gaps if g["name"] == f"{SIDE} – {TANK}"]
    assert told["as_built"] == [f"length of {SIDE} as built 1.0 mm over"]
    assert told["gap"] == pytest.approx(told["drawn"] - 1.0, abs=1e-3)
    assert f"counts the length of {SIDE} as built" in " ".join(survey_text(report).split())


def test_nothing_built_nothing_asked(wagon: Evaluation) -> None:
    empty = dataclasses.replace(wagon.fitout, modules=())
    assert as_built_of({NUMBER: spec(length=3.0)}, empty, "II") == {}
    assert as_built_of({}, wagon.fitout, "II") == {}
