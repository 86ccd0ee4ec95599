"""Designs the whole program must refuse, each with what it says, and nothing written.

A case is `tests/golden/refused/NAME.yaml`, its comment saying why; `NAME.expected` holds the
exit code of `check`, then the faults of the file, or the wishes that collide (parts that clash
in consequence are left out), or else the first failing finding of each kind.
"""

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from fitout import cli
from fitout.design_file import starter
from fitout.documents import contents as documents
from fitout.verbs.saying import FAILED, FAULTY

ROOT = Path(__file__).resolve().parent.parent
REFUSED = ROOT / "tests" / "golden" / "refused"
CASES = sorted(path.stem for path in REFUSED.glob("*.yaml"))
FINDING = re.compile(r"^FAIL      ([^:]+): (?:.*\n)(?:          .*\n)*", re.MULTILINE)


def essentials(code: int, out: str, err: str) -> str:
    """The exit code, the faults, and the failing findings that are no consequence of others."""
    failed = [(found[1], found[0].rstrip()) for found in FINDING.finditer(out)]
    shown = [text for kind, text in failed if kind == "arrangement"]
    if not shown:
        kinds = [kind for kind, _ in failed]
        shown = [text for i, (kind, text) in enumerate(failed) if kind not in kinds[:i]]
    return "\n".join([f"exit {code}", *filter(None, [err.rstrip()]), *shown])


@pytest.mark.parametrize("name", CASES)
def test_check_says_what_is_wrong_and_what_could_give(name, same_as, monkeypatch, capsys):
    monkeypatch.chdir(REFUSED)
    code = cli.main(["check", f"{name}.yaml"])
    printed = capsys.readouterr()
    assert code in (FAILED, FAULTY)
    assert (code == FAULTY) == (printed.out == "")
    same_as(REFUSED / f"{name}.expected", essentials(code, printed.out, printed.err))


@pytest.mark.parametrize("name", CASES)
def test_build_writes_nothing(name, tmp_path, capsys):
    target = tmp_path / "out"
    code = cli.main(["build", str(REFUSED / f"{name}.yaml"), "--out", str(target)])
    assert code in (FAILED, FAULTY)
    assert capsys.readouterr().out == ""
    assert list(tmp_path.iterdir()) == []


def test_every_expected_text_has_its_design():
    assert sorted(path.stem for path in REFUSED.glob("*.expected")) == CASES
    assert len(CASES) >= 15


def program(*arguments: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    """The program in a process of its own."""
    env = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "utf-8"}
    command = [sys.executable, "-m", "fitout", *arguments]
    return subprocess.run(
        command, cwd=cwd, env=env, capture_output=True, check=False, encoding="utf-8"
    )


@pytest.mark.parametrize("name", CASES[::4])
def test_no_refusal_is_a_traceback(name, tmp_path):
    for verb in ("check", "build"):
        ended = program(verb, str(REFUSED / f"{name}.yaml"), cwd=tmp_path)
        assert ended.returncode in (FAILED, FAULTY)
        assert "Traceback" not in ended.stderr


def contents(folder: Path) -> dict[str, bytes]:
    return {
        p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()
    }


@pytest.fixture(scope="module")
def light():
    """Builds that leave out what takes long to make: here it is asked what becomes of a folder."""
    with pytest.MonkeyPatch.context() as patch:
        made = [d for d in documents.OF_THE_DOSSIER if d.name in ("cut files", "tables")]
        patch.setattr(documents, "OF_THE_DOSSIER", tuple(made))
        patch.setattr(documents, "OF_THE_FITOUT", documents.OF_THE_FITOUT[:1])
        yield


@pytest.fixture(scope="module")
def built_once(tmp_path_factory, light) -> Path:
    """A folder with the starter design and its export."""
    folder = tmp_path_factory.mktemp("built")
    (folder / "van.yaml").write_text(starter("Van"), encoding="utf-8")
    design = str(folder / "van.yaml")
    assert cli.main(["build", design, "--out", str(folder / "exports" / "van")]) == 0
    return folder


@pytest.fixture
def built(built_once, tmp_path, monkeypatch) -> Path:
    """A copy of that folder, to work in."""
    folder = shutil.copytree(built_once, tmp_path / "work")
    monkeypatch.chdir(folder)
    return folder


def test_a_design_that_fails_later_leaves_its_export_as_it_was(built, capsys):
    export = built / "exports" / "van"
    before = contents(export)
    assert len(before) > 15
    faults = {
        "fails": starter("Van").replace("carries: 45 kg", "carries: 450 kg"),
        "at fault": starter("Van").replace("kind: drawers", "kind: drawer"),
    }
    for text in faults.values():
        (built / "van.yaml").write_text(text, encoding="utf-8")
        assert cli.main(["build", "van.yaml"]) != 0
        assert contents(export) == before
    assert [p.name for p in export.parent.iterdir()] == ["van"], "no temporary folder is left"


@pytest.mark.thorough
def test_building_again_replaces_the_export_whole(built, capsys):
    export = built / "exports" / "van"
    before = contents(export)
    text = starter("Van").replace("front_height: 140", "front_height: 150")
    (built / "van.yaml").write_text(text, encoding="utf-8")
    assert cli.main(["build", "van.yaml"]) == 0
    assert contents(export) != before
    (built / "van.yaml").write_text(starter("Van"), encoding="utf-8")
    assert cli.main(["build", "van.yaml"]) == 0
    assert contents(export) == before
    assert [p.name for p in export.parent.iterdir()] == ["van"]


def test_a_builders_own_file_in_the_export_is_not_lost(built, capsys):
    own = built / "exports" / "van" / "notes.txt"
    own.write_text("cut twice", encoding="utf-8")
    assert cli.main(["build", "van.yaml"]) == FAILED
    assert "holds notes.txt that fitout did not write" in capsys.readouterr().err
    assert own.read_text(encoding="utf-8") == "cut twice"


def test_a_folder_of_something_else_is_left_alone(built, capsys):
    other = built / "photos"
    other.mkdir()
    (other / "bay.jpg").write_bytes(b"x")
    assert cli.main(["build", "van.yaml", "--out", "photos"]) == FAILED
    assert "was not written by fitout" in capsys.readouterr().err
    assert contents(other) == {"bay.jpg": b"x"}


def test_a_file_where_the_folder_should_be_is_left_alone(built, capsys):
    (built / "out").write_text("mine", encoding="utf-8")
    assert cli.main(["build", "van.yaml", "--out", "out"]) == FAILED
    assert "is not a folder" in capsys.readouterr().err
    assert (built / "out").read_text(encoding="utf-8") == "mine"


def test_a_file_in_the_way_of_the_folder_is_told(built, capsys):
    (built / "file").write_text("mine", encoding="utf-8")
    assert cli.main(["build", "van.yaml", "--out", "file/out"]) == FAILED
    assert "was left as it was" in capsys.readouterr().err


@pytest.mark.skipif(
    not hasattr(os, "geteuid") or os.geteuid() == 0,
    reason="root, and Windows by another way, may write where others may not",
)
def test_a_folder_that_cannot_be_written_to_is_told(built, capsys):
    locked = built / "locked"
    locked.mkdir()
    locked.chmod(0o500)
    try:
        assert cli.main(["build", "van.yaml", "--out", "locked/out"]) == FAILED
        assert "can't be written to" in capsys.readouterr().err
    finally:
        locked.chmod(0o700)


def test_a_writer_that_fails_half_way_leaves_everything_as_it_was(built, monkeypatch, capsys):
    export = built / "exports" / "van"
    before = contents(export)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", full)
    assert cli.main(["build", "van.yaml"]) == FAILED
    monkeypatch.undo()
    assert "the disk is full" in capsys.readouterr().err
    assert contents(export) == before
    assert [p.name for p in export.parent.iterdir()] == ["van"]


@pytest.mark.parametrize("verb", ["check", "build"])
def test_a_folder_instead_of_a_design(verb, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "designs").mkdir()
    assert cli.main([verb, "designs"]) == FAULTY
    assert "found a folder" in capsys.readouterr().err
