"""Every room keeps to its form: small files, tested files, documented kinds."""

import ast
import dataclasses
import importlib
import inspect
from collections.abc import Iterator
from pathlib import Path

import pytest

import fitout
from fitout import workflow
from fitout.checks.findings import CHECKS
from fitout.model.design import ModuleSpec
from fitout.modules.kind import Kind
from fitout.modules.registry import KINDS

ROOT = Path(fitout.__file__).parent
TESTS = Path(__file__).parent
FILES = sorted(ROOT.rglob("*.py"))
MOST_LINES, MOST_LINES_OF_A_FUNCTION, MOST_PARAMETERS = 400, 60, 6
REASON = "# over budget: "
PAGE = 300
"""Least characters of a kind's page, its file's docstring."""

Function = ast.FunctionDef | ast.AsyncFunctionDef


def short(path: Path) -> str:
    return path.relative_to(ROOT.parent).as_posix()


def functions(tree: ast.AST) -> Iterator[Function]:
    for node in ast.walk(tree):
        if isinstance(node, Function):
            yield node


def excused(node: Function, lines: list[str]) -> bool:
    """Whether the line with `def` gives a reason to be over budget."""
    _, _, reason = lines[node.lineno - 1].partition(REASON)
    return len(reason.strip()) >= 10


def parameters(node: Function) -> int:
    """How many parameters a function has, `self` or `cls` not counted."""
    named = [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]
    extra = sum(a is not None for a in (node.args.vararg, node.args.kwarg))
    own = bool(named) and named[0].arg in ("self", "cls")
    return len(named) + extra - own


def over_budget(text: str) -> Iterator[str]:
    """What of a file is too large, in words."""
    lines = text.splitlines()
    if len(lines) > MOST_LINES:
        yield f"{len(lines)} lines"
    for node in functions(ast.parse(text)):
        if excused(node, lines):
            continue
        length = (node.end_lineno or node.lineno) - node.lineno + 1
        if length > MOST_LINES_OF_A_FUNCTION:
            yield f"{node.name}: {length} lines"
        if parameters(node) > MOST_PARAMETERS:
            yield f"{node.name}: {parameters(node)} parameters"


def test_files_and_functions_are_small() -> None:
    assert len(FILES) > 80
    found = [
        f"{short(path)}: {fault}"
        for path in FILES
        for fault in over_budget(path.read_text(encoding="utf-8"))
    ]
    assert found == []


def test_the_measure_of_size_tells_large_from_small() -> None:
    long = "def long():\n" + "    pass\n" * 60
    many = "def many(self, a, b, c, d, e, f, /, *, g): ...\n"
    fine = "def fine(self, a, b, c, d, e, f): ...\n"
    reason = "def many(a, b, c, d, e, f, g):  # over budget: one for each axis and side\n    ...\n"
    bare = "def many(a, b, c, d, e, f, g):  # over budget: \n    ...\n"
    assert list(over_budget(long)) == ["long: 61 lines"]
    assert list(over_budget(many)) == ["many: 7 parameters"]
    assert list(over_budget(fine)) == []
    assert list(over_budget(reason)) == []
    assert list(over_budget(bare)) == ["many: 7 parameters"]
    assert list(over_budget("x = 1\n" * 401)) == ["401 lines"]


@pytest.mark.parametrize(
    "room", ["arrange", "checks", "clearance", "mechanics", "modules", "survey"]
)
def test_every_file_of_a_room_has_its_test_file(room: str) -> None:
    expected = {f"test_{p.name}" for p in (ROOT / room).glob("*.py") if p.name != "__init__.py"}
    there = {p.name for p in (TESTS / room).glob("test_*.py")}
    assert sorted(expected - there) == []


def test_every_room_says_what_belongs_in_it() -> None:
    rooms = [p for p in ROOT.iterdir() if p.is_dir() and any(p.glob("*.py"))]
    pages = {
        p.name: ast.get_docstring(ast.parse((p / "__init__.py").read_text("utf-8"))) for p in rooms
    }
    assert [name for name, page in sorted(pages.items()) if len(page or "") < PAGE] == []


@pytest.fixture(params=KINDS, ids=lambda kind: kind.kind)
def kind(request: pytest.FixtureRequest) -> Kind:
    chosen: Kind = request.param
    return chosen


def test_a_kind_has_a_page_and_a_test_file(kind: Kind) -> None:
    file = inspect.getfile(kind.build)
    page = ast.get_docstring(ast.parse(Path(file).read_text(encoding="utf-8"))) or ""
    assert len(page) > PAGE
    assert (TESTS / "modules" / f"test_{Path(file).name}").is_file()


def test_a_kind_is_registered_under_its_own_name(kind: Kind) -> None:
    module = importlib.import_module(kind.build.__module__)
    assert module.KIND is kind
    assert kind.kind == kind.spec.kind
    assert [k.kind for k in KINDS].count(kind.kind) == 1


BAY = """fitout: 1
name: Bare
bay:
  sections: [{at: 0, widths: {0: 1300}, roof: 950}]
  seat_back: {foot: 1200, leans: 15 deg, top: 600}
  wheel_arches: {from: 400, to: 800, between: 1000, height: 250}
items:
  fridge: {size: 500 x 350 x 300, mass: 15 kg}
  can: {size: 150 x 350 x 300, mass: 2 kg, holds: 10 l}
modules:
"""

LEAST = {
    "barrier": "it: {kind: barrier}",
    "drawers": "it: {kind: drawers}",
    "deck": (
        "it: {kind: deck}\n  left: {kind: drawers, width: 260}\n"
        "  between: {kind: fridge slide, item: fridge}\n  right: {kind: drawers, width: 260}"
    ),
    "fridge slide": "it: {kind: fridge slide, item: fridge}",
    "side bin": "it: {kind: side bin, sides: left}",
    "box": "it: {kind: box}",
    "seat tray": (
        "it: {kind: seat tray, void: {across: 500, depth: 400, height: 120}, "
        "tools: [{name: spanner, size: [250, 40], height: 15}]}"
    ),
    "water tank": "it: {kind: water tank, item: can}",
}
"""The fewest entries a design needs for a module of each kind."""


def test_a_kind_is_built_from_the_fewest_entries(kind: Kind, tmp_path: Path) -> None:
    path = tmp_path / "bare.yaml"
    path.write_text(f"{BAY}  {LEAST[kind.kind]}\n", encoding="utf-8", newline="\n")
    fitout = workflow.evaluate(workflow.load(path)).fitout
    (built,) = [m for m in fitout.modules if m.name == "it"]
    assert built.kind == kind.kind
    assert built.panels
    assert all(p.mass_kg > 0.0 for p in built.panels)


def test_every_entry_of_a_kind_is_explained(kind: Kind) -> None:
    assert issubclass(kind.spec, ModuleSpec)
    silent = [f.name for f in dataclasses.fields(kind.spec) if not f.metadata.get("doc")]
    assert silent == []


def test_every_check_is_in_a_tested_file_of_its_room() -> None:
    for check in CHECKS:
        file = Path(inspect.getfile(check))
        assert file.parent == ROOT / "checks"
        assert (TESTS / "checks" / f"test_{file.name}").is_file()
        assert check.__doc__


def test_every_check_of_the_room_is_run() -> None:
    written = {
        node.name
        for path in (ROOT / "checks").glob("*.py")
        for node in functions(ast.parse(path.read_text(encoding="utf-8")))
        if node.name.startswith("check_")
    }
    assert written == {check.__name__ for check in CHECKS}
