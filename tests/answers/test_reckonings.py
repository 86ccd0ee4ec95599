"""Every finding the program can tell says what it means and how it is reckoned, and no other."""

import ast
import json
from collections.abc import Iterator
from pathlib import Path

import pytest

import fitout
from fitout.answers.reckonings import codes, reckoning

ROOT = Path(fitout.__file__).parent
EXPORTS = ROOT.parent / "exports"
FINDERS = {"Finding": 0, "at_least": 0, "at_most": 0, "fact": 0, "remark": 0, "Remark": 0}
"""What makes a finding, or a module's remark that becomes one, and where its code stands."""

Function = ast.FunctionDef | ast.AsyncFunctionDef


class Source:
    """A file of the program: the codes it gives to findings, read without running it."""

    def __init__(self, text: str) -> None:
        self.tree = ast.parse(text)
        self.calls: dict[ast.Call, ast.AST] = {}
        # Of functions within functions the inner ones come last, so each call gets its own.
        for scope in [self.tree, *(n for n in ast.walk(self.tree) if isinstance(n, Function))]:
            self.calls |= {n: scope for n in ast.walk(scope) if isinstance(n, ast.Call)}
        self.finders = {name: [at] for name, at in FINDERS.items()}
        self._learn()

    def _learn(self) -> None:
        """Functions that hand a code on are finders too."""
        known = -1
        while known != (known := sum(map(len, self.finders.values()))):
            for code, function in list(self._given()):
                names = _parameters(function)
                if isinstance(function, Function) and isinstance(code, ast.Name):
                    places = self.finders.setdefault(function.name, [])
                    places += [i for i, n in enumerate(names) if n == code.id and i not in places]

    def _given(self) -> Iterator[tuple[ast.expr, ast.AST]]:
        """Every expression given as a code, with the function it stands in."""
        for call, function in self.calls.items():
            if isinstance(call.func, ast.Name):
                named = [k.value for k in call.keywords if k.arg == "code"]
                for at in self.finders.get(call.func.id, ()):
                    yield from ((code, function) for code in named or call.args[at : at + 1])

    def codes(self) -> Iterator[str]:
        """Every code; where an expression can't be read, ValueError."""
        for code, function in self._given():
            yield from self._read(code, function)

    def _read(self, code: ast.expr, function: ast.AST) -> Iterator[str]:
        match code:
            case ast.Constant(str(value)):
                yield value
            case ast.IfExp():
                yield from self._read(code.body, function)
                yield from self._read(code.orelse, function)
            case ast.Subscript(value=ast.Name(table)):
                for row in self._set(table, self.tree):
                    assert isinstance(row, ast.Dict)
                    for value in row.values:
                        yield from self._read(value, function)
            case ast.Name(name):
                yield from self._named(name, function)
            case ast.Attribute(value=ast.Name("said"), attr="code"):
                return  # Of a module's remark, which is read where it is made.
            case _:
                raise ValueError(f"line {code.lineno}: {ast.unparse(code)}")

    def _named(self, name: str, function: ast.AST) -> Iterator[str]:
        if name in _parameters(function):
            return  # Handed on, and read where it is given.
        found = [*self._set(name, function), *self._looped(name, function)]
        found = found or list(self._set(name, self.tree))
        if not found:
            raise ValueError(f"nothing sets {name}")
        for value in found:
            yield from self._read(value, function)

    @staticmethod
    def _set(name: str, within: ast.AST) -> Iterator[ast.expr]:
        for node in ast.walk(within):
            targets = node.targets if isinstance(node, ast.Assign) else ()
            if any(isinstance(t, ast.Name) and t.id == name for t in targets):
                assert isinstance(node, ast.Assign)
                yield node.value

    def _looped(self, name: str, within: ast.AST) -> Iterator[ast.expr]:
        """The column of a table of constants that a loop gives a name to."""
        for node in ast.walk(within):
            match node:
                case ast.For(target=ast.Tuple(elts=names), iter=ast.Name(table)):
                    at = [n.id if isinstance(n, ast.Name) else "" for n in names]
                    for rows in self._set(table, self.tree) if name in at else ():
                        assert isinstance(rows, ast.Tuple)
                        for row in rows.elts:
                            assert isinstance(row, ast.Tuple)
                            yield row.elts[at.index(name)]


def _parameters(function: ast.AST) -> list[str]:
    if not isinstance(function, Function):
        return []
    given = function.args
    return [a.arg for a in (*given.posonlyargs, *given.args, *given.kwonlyargs)]


@pytest.fixture(scope="module")
def told() -> set[str]:
    found: set[str] = set()
    for path in ROOT.rglob("*.py"):
        text = path.read_text(encoding="utf-8")
        if any(f"{finder}(" in text for finder in FINDERS):
            found |= set(Source(text).codes())
    return found


def test_every_finding_has_a_reckoning_and_no_reckoning_is_of_nothing(told: set[str]) -> None:
    assert len(told) > 90
    assert sorted(told - set(codes())) == []
    assert sorted(set(codes()) - told) == []


def test_the_demos_tell_no_finding_that_the_source_does_not(told: set[str]) -> None:
    files = sorted(EXPORTS.glob("*/findings.json"))
    assert len(files) >= 3
    for file in files:
        findings = json.loads(file.read_text(encoding="utf-8"))["findings"]
        assert {finding["code"] for finding in findings} <= told


def test_every_reckoning_says_something_in_whole_words() -> None:
    for code in codes():
        words = reckoning(code)
        assert words is not None
        for text in (words.means, words.formula):
            assert len(text) >= 5, code
            assert text.endswith("."), code
        assert words.means[0].islower() or words.means[0].isdigit(), code


def test_an_unknown_code_has_none() -> None:
    assert reckoning("nothing of the kind") is None


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("def f():\n    fact('a', 'x', 1.0, 'mm', 's', 'q')\n", {"a"}),
        ("def f(x):\n    c = 'a' if x else 'b'\n    remark(c, 'x')\n", {"a", "b"}),
        ("def g(n, code):\n    at_most(code)\ndef f():\n    g(1, 'a')\n", {"a"}),
        ("T = (('x', 'a'), ('y', 'b'))\ndef f():\n  for k, c in T:\n    fact(c)\n", {"a", "b"}),
        ("D = {'x': 'a'}\ndef f(k):\n    Finding(code=D[k])\n", {"a"}),
    ],
)
def test_codes_are_read_from_the_source(text: str, expected: set[str]) -> None:
    assert set(Source(text).codes()) == expected


def test_a_code_put_together_is_not_read_over() -> None:
    with pytest.raises(ValueError, match="line 2"):
        list(Source("def f(k):\n    fact(f'{k} load')\n").codes())
