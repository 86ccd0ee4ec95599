"""An export is written whole or not at all, and never over what we did not write."""

import errno
import json
import subprocess
import sys
from pathlib import Path

import pytest

from fitout.documents.export import MANIFEST, ExportError, check_target, write_folder


def tree(folder: Path) -> dict[str, bytes]:
    return {
        p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()
    }


def test_files_and_manifest_are_written(tmp_path):
    target = tmp_path / "deep" / "design"
    write_folder(target, {"parts/P01.dxf": b"a", "b.csv": b"b"})
    found = tree(target)
    assert found.pop("parts/P01.dxf") == b"a"
    assert found.pop("b.csv") == b"b"
    assert json.loads(found.pop(MANIFEST))["files"] == ["b.csv", "parts/P01.dxf"]
    assert not found


def test_a_new_export_replaces_the_old_one_whole(tmp_path):
    target = tmp_path / "design"
    write_folder(target, {"old.csv": b"1", "both.csv": b"1"})
    write_folder(target, {"both.csv": b"2"})
    assert set(tree(target)) == {"both.csv", MANIFEST}
    assert (target / "both.csv").read_bytes() == b"2"
    assert [p.name for p in tmp_path.iterdir()] == ["design"]


def test_the_same_files_give_the_same_bytes(tmp_path):
    files = {"z.csv": b"1", "a.csv": b"2"}
    write_folder(tmp_path / "one", files)
    write_folder(tmp_path / "two", dict(reversed(files.items())))
    assert tree(tmp_path / "one") == tree(tmp_path / "two")


def test_a_full_disk_leaves_the_old_export_untouched(tmp_path, monkeypatch):
    target = tmp_path / "design"
    write_folder(target, {"a.csv": b"1"})
    before = tree(target)
    write = Path.write_bytes

    def fails(self: Path, content: bytes) -> int:
        if self.name == "b.csv":
            write(self, content[:2])
            raise OSError(errno.ENOSPC, "full")
        return write(self, content)

    monkeypatch.setattr(Path, "write_bytes", fails)
    with pytest.raises(ExportError, match="the disk is full"):
        write_folder(target, {"a.csv": b"2", "b.csv": b"half"})
    assert tree(target) == before
    assert [p.name for p in tmp_path.iterdir()] == ["design"]


def test_a_failing_swap_puts_the_old_export_back(tmp_path, monkeypatch):
    target = tmp_path / "design"
    write_folder(target, {"a.csv": b"1"})
    before = tree(target)
    rename = Path.rename

    def refuses(self: Path, to: Path) -> Path:
        if self.name == "new":
            raise PermissionError(errno.EACCES, "open elsewhere")
        return rename(self, to)

    monkeypatch.setattr(Path, "rename", refuses)
    with pytest.raises(ExportError, match="read-only, or a file in it is open"):
        write_folder(target, {"a.csv": b"2"})
    assert tree(target) == before
    assert [p.name for p in tmp_path.iterdir()] == ["design"]


def test_the_old_export_is_kept_even_if_it_cannot_be_put_back(tmp_path, monkeypatch):
    target = tmp_path / "design"
    write_folder(target, {"a.csv": b"1"})
    rename = Path.rename

    def refuses(self: Path, to: Path) -> Path:
        if self.name in {"new", "old"}:
            raise PermissionError(errno.EACCES, "open elsewhere")
        return rename(self, to)

    monkeypatch.setattr(Path, "rename", refuses)
    with pytest.raises(ExportError, match="now lies in"):
        write_folder(target, {"a.csv": b"2"})
    assert [p.read_bytes() for p in tmp_path.rglob("old/a.csv")] == [b"1"]


@pytest.mark.parametrize("manifest", [None, "{", "[]", '{"written_by": "someone", "files": []}'])
def test_a_folder_of_someone_elses_is_refused(tmp_path, manifest):
    target = tmp_path / "photos"
    target.mkdir()
    (target / "holiday.jpg").write_bytes(b"x")
    if manifest is not None:
        (target / MANIFEST).write_text(manifest, encoding="utf-8")
    before = tree(target)
    with pytest.raises(ExportError, match="was not written by fitout"):
        write_folder(target, {"a.csv": b"1"})
    assert tree(target) == before


def test_a_file_of_the_builders_own_is_never_lost(tmp_path):
    target = tmp_path / "design"
    write_folder(target, {"a.csv": b"1"})
    (target / "my notes.txt").write_bytes(b"keep")
    with pytest.raises(ExportError, match="my notes"):
        write_folder(target, {"a.csv": b"2"})
    assert (target / "my notes.txt").read_bytes() == b"keep"
    assert (target / "a.csv").read_bytes() == b"1"


def test_an_empty_folder_may_be_used(tmp_path):
    (tmp_path / "design").mkdir()
    write_folder(tmp_path / "design", {"a.csv": b"1"})
    assert (tmp_path / "design" / "a.csv").is_file()


def test_a_file_in_the_way_is_refused(tmp_path):
    (tmp_path / "design").write_bytes(b"x")
    with pytest.raises(ExportError, match="not a folder"):
        write_folder(tmp_path / "design", {"a.csv": b"1"})


@pytest.mark.parametrize("name", ["../a.csv", "/a.csv", "C:a.csv", "a\\b.csv", ""])
def test_paths_that_lead_outside_are_refused(tmp_path, name):
    with pytest.raises(ExportError, match="no path inside"):
        write_folder(tmp_path / "design", {name: b"1"})


def test_a_parent_that_cannot_be_made_is_told(tmp_path):
    (tmp_path / "file").write_bytes(b"x")
    with pytest.raises(ExportError, match="was left as it was"):
        write_folder(tmp_path / "file" / "design", {"a.csv": b"1"})


def test_a_target_that_cannot_be_written_is_told_before_any_work(tmp_path, monkeypatch):
    def read_only(**_):
        raise OSError(errno.EROFS, "Read-only file system")

    check_target(tmp_path / "deep" / "design")
    assert list(tmp_path.rglob("*")) == []
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(ExportError, match="was left as it was"):
        check_target(tmp_path / "file" / "design")
    with pytest.raises(ExportError, match="is not a folder"):
        check_target(tmp_path / "file")
    monkeypatch.setattr("tempfile.mkdtemp", read_only)
    with pytest.raises(ExportError, match="read-only"):
        check_target(tmp_path / "design")


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no limit on a file's size")
def test_no_room_for_a_file_leaves_the_former_export(tmp_path):
    target = tmp_path / "design"
    write_folder(target, {"a.csv": b"1"})
    before = tree(target)
    program = (
        "import resource, sys; from pathlib import Path\n"
        "from fitout.documents.export import ExportError, write_folder\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))\n"
        "try: write_folder(Path(sys.argv[1]), {'a.csv': b'2', 'b.step': b'x' * 9999})\n"
        "except ExportError as error: print(error)\n"
    )
    said = subprocess.run(
        [sys.executable, "-c", program, str(target)], capture_output=True, check=True, text=True
    )
    assert "was left as it was" in said.stdout
    assert tree(target) == before
    assert [p.name for p in tmp_path.iterdir()] == ["design"]
