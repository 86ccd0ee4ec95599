"""The only code that writes a design's export folder: whole, or not at all.

Everything is written into a new folder beside the target, then the two change places by
renaming. Whatever fails before that leaves the target as it was. A folder is replaced only
if it carries our manifest and holds nothing that the manifest does not list.
"""

from __future__ import annotations

import contextlib
import errno
import json
import os
from collections.abc import Callable, Mapping
from pathlib import Path, PurePosixPath

from fitout.documents.staging import FRESH, OLD, clear_left_over, staging

MANIFEST = "fitout-export.json"
FORMAT = 1


class ExportError(Exception):
    """The export could not be written; the message is a whole sentence for the builder."""


def write_folder(
    target: Path, files: Mapping[str, bytes], verify: Callable[[Path], None] | None = None
) -> None:
    """Write `files` (relative path with forward slashes -> bytes) as the folder `target`.

    The manifest is added. `verify` is given the folder once all is written and before it takes
    the target's place; it raises if what it reads there is wrong. Raises ExportError if the
    target is something we did not write, holds files of the builder's own, or can't be written;
    an exception from `verify` passes through. In every such case the target is left untouched.
    """
    names = sorted(_checked(name) for name in files)
    target = target.absolute()
    clear_left_over(target)
    _refuse_foreign(target)
    try:
        with staging(target) as folder:
            fresh = folder / FRESH
            for name in names:
                _write(fresh / name, files[name], target)
            _write(fresh / MANIFEST, _manifest(names), target)
            if verify is not None:
                verify(fresh)
            _swap(fresh, target, folder / OLD)
    except OSError as error:
        raise _told(error, target) from error


def check_target(target: Path) -> None:
    """Whether `write_folder` could write there, asked before any work is done; raises likewise."""
    target = target.absolute()
    clear_left_over(target)
    _refuse_foreign(target)
    missing = [folder for folder in target.parents if not folder.exists()]
    try:
        with staging(target):
            pass
    except OSError as error:
        raise _told(error, target) from error
    finally:
        for folder in missing:
            with contextlib.suppress(OSError):
                folder.rmdir()


def _checked(name: str) -> str:
    path = PurePosixPath(name)
    if path.is_absolute() or ".." in path.parts or "\\" in name or ":" in name or not path.parts:
        raise ExportError(f"{name!r} is no path inside the export folder.")
    return str(path)


def _manifest(names: list[str]) -> bytes:
    whole = {"written_by": "fitout", "format": FORMAT, "files": names}
    return (json.dumps(whole, indent=1, ensure_ascii=False) + "\n").encode()


def _refuse_foreign(target: Path) -> None:
    """ExportError unless the target is absent, an empty folder, or an export of ours."""
    if not os.path.lexists(target):
        return
    if target.is_symlink() or not target.is_dir():
        raise ExportError(f"{target} is not a folder, so it was left as it is.")
    found = {p.relative_to(target).as_posix() for p in target.rglob("*") if not p.is_dir()}
    if not found:
        return
    listed = _listed(target / MANIFEST)
    if listed is None:
        raise ExportError(
            f"{target} was not written by fitout, so it was left as it is. "
            "Choose another folder with --out."
        )
    strange = sorted(found - listed)
    if strange:
        raise ExportError(
            f"{target} holds {strange[0]}"
            + (f" and {len(strange) - 1} more" if len(strange) > 1 else "")
            + " that fitout did not write. Move it elsewhere, then build again."
        )


def _listed(manifest: Path) -> set[str] | None:
    """The files the manifest lists, itself included; None if it is missing or not ours."""
    try:
        whole = json.loads(manifest.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    if not isinstance(whole, dict) or whole.get("written_by") != "fitout":
        return None
    files = whole.get("files")
    return {MANIFEST, *map(str, files)} if isinstance(files, list) else None


def _write(path: Path, content: bytes, target: Path) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    except OSError as error:
        raise _told(error, target) from error


def _swap(fresh: Path, target: Path, old: Path) -> None:
    """Put `fresh` where `target` is and the target where `old` is; undone if it fails."""
    try:
        if target.exists():
            target.rename(old)
        fresh.rename(target)
    except OSError as error:
        if old.exists() and not target.exists():
            _put_back(old, target)
        raise _told(error, target) from error


def _put_back(old: Path, target: Path) -> None:
    try:
        old.rename(target)
    except OSError as error:
        raise ExportError(
            f"{target} could not be replaced; what was there now lies in {old}."
        ) from error


def _told(error: OSError, target: Path) -> ExportError:
    """The fault in the builder's words."""
    if error.errno == errno.ENOSPC:
        cause = "the disk is full"
    elif error.errno in {errno.EROFS, errno.EACCES, errno.EPERM}:
        cause = "it can't be written to (read-only, or a file in it is open elsewhere)"
    else:
        cause = error.strerror or str(error)
    return ExportError(f"{target} was left as it was: {cause}.")
