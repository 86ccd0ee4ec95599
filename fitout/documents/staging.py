"""Folders beside an export in which it is written before it takes the export's place.

A build that is killed leaves such a folder behind. Each holds a lock that the system lets go
of when its process ends, however it ends: so what can be locked is left over. If the killed
build had already moved the former export aside, it is put back.
"""

from __future__ import annotations

import os
import shutil
import stat
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO

LOCK = "fitout-lock"
"""The file in such a folder that is locked while a build is at work; it holds the name meant."""

FRESH, OLD = "new", "old"
"""What is written, and the former export while the two change places."""

PREFIX_LENGTH = 40
"""How much of the target's name such a folder's name begins with."""

_EMPTY_S = 60.0
"""An empty one is removed once so old: younger ones may be about to get their lock."""


@contextmanager
def staging(target: Path) -> Iterator[Path]:
    """A new folder beside the target, locked, and removed afterwards with all that is in it.

    Only if the target is gone and the former export lies in the folder does it stay. Raises
    OSError if it can't be made.
    """
    target.parent.mkdir(parents=True, exist_ok=True)
    folder = Path(tempfile.mkdtemp(prefix=_prefix(target), dir=target.parent))
    try:
        (folder / LOCK).write_text(target.name, encoding="utf-8", errors="surrogateescape")
        lock = _locked(folder / LOCK)
        try:
            yield folder
        finally:
            if lock is not None:
                lock.close()
    finally:
        if target.exists() or not (folder / OLD).exists():
            remove(folder)


def clear_left_over(target: Path) -> None:
    """Remove what killed builds of this target left; a former export moved aside is put back."""
    try:
        beside = sorted(target.parent.iterdir())
    except OSError:
        return
    for folder in beside:
        if folder.name.startswith(_prefix(target)) and folder.is_dir() and not folder.is_symlink():
            _clear(folder, target)


def remove(folder: Path) -> None:
    """Remove one of our own folders; what can't be removed is left behind, harmless."""
    for path in folder.rglob("*"):
        # Windows refuses to remove a read-only file.
        with suppress(OSError):
            path.chmod(stat.S_IRWXU)
    shutil.rmtree(folder, ignore_errors=True)


def _prefix(target: Path) -> str:
    return f".{target.name[:PREFIX_LENGTH]}-"


def _clear(folder: Path, target: Path) -> None:
    try:
        meant = (folder / LOCK).read_text(encoding="utf-8", errors="surrogateescape")
    except OSError:
        # Killed before it got its lock, if that is what it is: an empty folder of our naming.
        with suppress(OSError):
            if time.time() - folder.stat().st_mtime > _EMPTY_S:
                folder.rmdir()
        return
    lock = _locked(folder / LOCK) if meant == target.name else None
    if lock is None:
        return
    try:
        if not os.path.lexists(target) and (folder / OLD).is_dir():
            with suppress(OSError):
                (folder / OLD).rename(target)
    finally:
        lock.close()
    if not (folder / OLD).exists() or target.exists():
        remove(folder)


def _locked(path: Path) -> IO[bytes] | None:
    """The file, open and locked; None while another process holds it, or if it can't be."""
    try:
        file = path.open("r+b")
    except OSError:
        return None
    try:
        if sys.platform == "win32":
            import msvcrt

            # Beyond what the file holds, so that it can still be read.
            file.seek(1 << 20)
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(file.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        file.close()
        return None
    return file
