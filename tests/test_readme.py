"""The README says what is so: its commands, its design, its tables, its pictures."""

import json
import re
import shlex
from pathlib import Path

import pytest

from fitout import cli, workflow
from fitout.documents.export import MANIFEST
from fitout.documents.findings import faults_object
from fitout.model.fault import DesignError
from fitout.model.finding import Severity
from fitout.modules.registry import KINDS

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
MAIN_JOB, TESTS, VERBS = re.findall(r"```sh\n(.*?)```", README, re.DOTALL)
PROSE = re.sub(r"```.*?```", "", README, flags=re.DOTALL)
(DESIGN,) = re.findall(r"```yaml\n(.*?)```", README, re.DOTALL)


def flowing(text: str) -> str:
    return " ".join(text.split())


def table(head: str) -> list[str]:
    """The first cells of the table with this heading."""
    _, found, rest = README.partition(f"| {head} |")
    assert found, head
    rows = rest.partition("\n\n")[0].splitlines()[2:]
    return [row.split("|")[1].strip() for row in rows]


def in_code(text: str) -> list[str]:
    return re.findall(r"`([^`]+)`", text)


@pytest.fixture
def design(tmp_path: Path) -> Path:
    path = tmp_path / "tourer.yaml"
    path.write_text(DESIGN, encoding="utf-8", newline="\n")
    return path


def helped(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> str:
    with pytest.raises(SystemExit) as ended:
        cli.main(arguments)
    assert ended.value.code == 0
    return capsys.readouterr().out


def verbs_there_are(capsys: pytest.CaptureFixture[str]) -> set[str]:
    shown = helped(["--help"], capsys).partition("verbs:")[2]
    return set(re.findall(r"(?m)^    (\w+)\b", shown))


def test_its_design_is_whole_and_nothing_in_it_fails(design, capsys):
    assert cli.main(["check", str(design)]) == 0
    printed = capsys.readouterr().out
    assert "FAIL" not in printed
    assert "caution   entry" not in printed
    for key in ("fitout:", "name:", "bay:", "  anchors:", "items:", "modules:"):
        assert re.search(rf"(?m)^{key}", DESIGN), key


def test_its_design_builds_every_file_of_the_table_and_no_other(design, tmp_path):
    target = tmp_path / "out"
    workflow.build(workflow.load(design), target, str)
    written = {p.relative_to(target).as_posix() for p in target.rglob("*") if p.is_file()}
    assert MANIFEST in written
    kinds = {re.sub(r"/[^/]+(\.\w+)$", r"/*\1", name) for name in written}
    assert kinds == {name for cell in table("file | what it is") for name in in_code(cell)}


def test_its_lines_on_making_and_telling_can_stand_in_its_design(design):
    told = README.partition("**How it is made and told.**")[2]
    lines = told.partition("```text\n")[2].partition("```")[0]
    named = set(in_code(told.partition("```")[0]))
    assert {name.split(": ")[-1] for name in named} <= set(re.findall(r"\w+", lines))
    design.write_text(DESIGN + lines, encoding="utf-8", newline="\n")
    made = workflow.load(design)
    assert (made.cutting.scribe_allowance, made.cutting.coupon) == (5.0, True)
    assert made.documents.language == "de"
    assert made.boards["front"].edging is not None


def test_without_anchors_the_findings_print_lines_that_make_it_pass(design):
    bolted = re.compile(r"(?m)^  anchors:.*\n(?:    - .*\n)+")
    assert len(bolted.findall(DESIGN)) == 1
    design.write_text(bolted.sub("", DESIGN), encoding="utf-8", newline="\n")
    failing = [
        f for f in workflow.evaluate(workflow.load(design)).findings if f.severity is Severity.FAIL
    ]
    assert {f.code for f in failing} == {"fixing points", "tipping"}
    assert "`fixing points`" in flowing(README)
    lines = re.findall(r"(?m)^- \{name: .*\}$", "\n".join(f.sentence for f in failing))
    pasted = "".join(f"    {line}\n" for line in lines).replace("below: unknown", "below: clear")
    text = bolted.sub(lambda _: f"  anchors:\n{pasted}", DESIGN)
    design.write_text(text, encoding="utf-8", newline="\n")
    assert workflow.evaluate(workflow.load(design)).passed


def test_its_sample_finding_is_one_of_the_named_demo(capsys):
    (name, sample), *more = re.findall(
        r"For `(designs/[\w-]+\.yaml)`, among others:\n\n```text\n(.*?)```", README, re.DOTALL
    )
    assert not more
    assert cli.main(["check", str(ROOT / name)]) == 0
    assert sample in capsys.readouterr().out


def test_it_tells_the_objects_that_check_prints_as_json():
    evaluation = workflow.evaluate(workflow.load(ROOT / "designs" / "small-hatch.yaml"))
    whole = evaluation.as_object()
    told = re.search(r"check DESIGN --json` prints\s+one object \((.*?)\)", README, re.DOTALL)
    assert told is not None
    always, _, at_fault = told.group(1).partition(";")
    assert in_code(always) == list(whole)
    faulty = faults_object("van.yaml", DesignError(()))
    assert "the first four and" in at_fault
    assert [*in_code(always)[:4], *in_code(at_fault)] == list(faulty)
    assert all(f.source and f.sentence for f in evaluation.findings)


def test_every_verb_is_in_it_and_every_verb_in_it_exists(capsys):
    there = verbs_there_are(capsys)
    shown = {line.split()[1] for line in VERBS.splitlines() if line.startswith("fitout ")}
    assert shown == there
    named = set(re.findall(r"`fitout (\w+)", README)) | set(re.findall(r"bin/fitout (\w+)", README))
    assert named <= there


def test_every_option_in_it_exists_and_is_in_it(capsys):
    there = {
        option
        for verb in verbs_there_are(capsys)
        for option in re.findall(r"(?<!\w)--\w+", helped([verb, "--help"], capsys))
    }
    named = {option for code in in_code(PROSE) for option in re.findall(r"(?<!\w)--[a-z]+", code)}
    assert named == there - {"--help"}


def test_every_option_is_told_where_its_verb_is(capsys):
    sections = README.split("\n## ")
    for verb in verbs_there_are(capsys):
        told = "\n".join(text for text in sections if re.search(rf"fitout {verb}\b", text))
        options = set(re.findall(r"(?<!\w)--\w+", helped([verb, "--help"], capsys)))
        missing = {o for o in options - {"--help"} if not re.search(rf"{o}\b", told)}
        assert missing == set(), verb


def test_the_example_in_each_verb_s_help_can_be_typed(capsys):
    for verb in verbs_there_are(capsys):
        shown = flowing(helped([verb, "--help"], capsys).partition("For example:")[2])
        program, *arguments = shlex.split(shown)
        assert program == "fitout"
        assert arguments[0] == verb
        cli.parser().parse_args(arguments)


def test_every_file_it_names_is_written_or_there():
    written = {name for cell in table("file | what it is") for name in in_code(cell)}
    named = {
        name
        for code in in_code(PROSE)
        for name in re.findall(r"[\w./*-]+\.(?:csv|yaml|json|pdf|dxf|svg|html|step|glb|md)\b", code)
    }
    assert len(named) > len(written)
    loose = {n for n in named - written if not (ROOT / n).is_file()}
    # A builder's own files, in commands and entries that are shown.
    assert {n for n in loose if not n.startswith("my-")} <= {"measure.pdf"}


def test_every_file_of_the_demos_is_in_its_table():
    told = {name for cell in table("file | what it is") for name in in_code(cell)}
    manifests = sorted((ROOT / "exports").glob(f"*/{MANIFEST}"))
    assert len(manifests) >= 3
    for manifest in manifests:
        names = json.loads(manifest.read_text(encoding="utf-8"))["files"]
        assert {re.sub(r"/[^/]+(\.\w+)$", r"/*\1", name) for name in names} <= told


def test_its_two_commands_are_the_ones_that_ci_runs():
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    picked = [
        next(line for line in README.splitlines() if re.search(pattern, line))
        for pattern in re.findall(r"grep -m1 '([^']+)' README\.md", script)
    ]
    assert picked == [MAIN_JOB.strip(), TESTS.strip()]
    assert script.count('eval "$command"') == len(picked)
    assert README.index(MAIN_JOB) < README.index(TESTS) < README.index("\n## ")


def test_its_two_commands_name_what_there_is(capsys):
    steps = [shlex.split(step) for step in re.split("&&", MAIN_JOB + "&&" + TESTS)]
    assert [step[0] for step in steps[::3]] == ["python3", "python3"]
    assert steps[1][-1] == "."
    assert steps[4][-1] == ".[dev]"
    build = steps[2]
    assert build[0] == ".venv/bin/fitout"
    assert build[1] in verbs_there_are(capsys)
    assert (ROOT / build[2]).is_file()
    assert steps[5][1:3] == ["-m", "pytest"]


def test_its_pictures_and_links_are_there():
    pictures = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", README)
    assert len(pictures) >= 2
    for picture in pictures:
        assert (ROOT / picture).read_bytes()[:200].lstrip().startswith((b"<svg", b"<?xml"))
    for link in re.findall(r"(?<!!)\[[^\]]+\]\(([^)]+)\)", README):
        file, _, heading = link.partition("#")
        assert (ROOT / file).is_file(), link
        if heading:
            titles = re.findall(r"(?m)^#+ (.+)$", (ROOT / file).read_text(encoding="utf-8"))
            assert heading in {title.lower().replace(" ", "-") for title in titles}


def test_every_kind_of_module_and_every_example_is_in_it():
    kinds = [in_code(cell)[0] for cell in table("kind | what it builds")]
    assert sorted(kinds) == sorted(kind.kind for kind in KINDS)
    examples = {f"designs/{path.name}" for path in (ROOT / "designs").glob("*.yaml")}
    assert set(re.findall(r"(?m)^- `(designs/[\w-]+\.yaml)`", README)) == examples
