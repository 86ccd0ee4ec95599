"""Documents made by several processes are those one makes, whatever becomes of the others."""

import dataclasses
import multiprocessing
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from dossiers import dossier

from fitout.documents import crew as room
from fitout.documents.contents import OF_THE_DOSSIER, OF_THE_FITOUT, Document, Files
from fitout.documents.crew import Crew, crew_of
from fitout.documents.dossier import Dossier
from fitout.documents.export import ExportError

SLOWEST_S = 60.0
"""How long a test waits for a process to load, at most."""

SOME = tuple(d for d in OF_THE_DOSSIER if d.name in ("cut files", "labels", "tables", "templates"))


def alone() -> dict[str, bytes]:
    """What one process makes of `SOME`."""
    told = dossier("small-hatch")
    return {path: file for document in SOME for path, file in document.make(told).items()}


def until(true: Callable[[], object]) -> None:
    """Wait, but not for ever."""
    end = time.monotonic() + SLOWEST_S
    while not true():
        assert time.monotonic() < end, "nothing came of it"
        time.sleep(0.01)


def test_a_crew_of_one_makes_all_in_order() -> None:
    told: list[str] = []
    with crew_of(0, told.append) as crew:
        crew.offer(OF_THE_FITOUT[:1], dossier("small-hatch").fitout)
        crew.offer(SOME, dossier("small-hatch"))
        files = crew.complete()
    assert told == [*(document.name for document in SOME), OF_THE_FITOUT[0].name]
    assert {path: files[path] for path in alone()} == alone()
    assert set(files) - set(alone()) == {"overview.svg"}


def test_another_process_makes_the_same_bytes() -> None:
    told: list[str] = []
    with crew_of(1, told.append) as crew:
        crew.offer(SOME, dossier("small-hatch"))
        # All is left to the other one.
        until(lambda: len(crew._made) == len(alone()))
        assert crew.complete() == alone()
    assert sorted(told) == sorted(document.name for document in SOME)
    assert not multiprocessing.active_children()


def test_what_a_lost_process_had_in_hand_is_made_here() -> None:
    taken: list[str] = []

    def lose(name: str) -> None:
        taken.append(name)
        for child in multiprocessing.active_children():
            child.kill()
            child.join()

    with crew_of(1, lose) as crew:
        crew.offer(SOME, dossier("small-hatch"))
        until(lambda: taken)
        until(lambda: not crew._busy)
        assert crew.complete() == alone()
    # The one in hand was begun twice.
    assert len(taken) == len(SOME) + 1


def test_where_no_process_can_be_started_all_is_made_here(monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_: object) -> None:
        raise OSError("no more processes")

    monkeypatch.setattr(room, "_helper", refused)
    with crew_of(2, lambda _: None) as crew:
        crew.offer(SOME, dossier("small-hatch"))
        assert crew.complete() == alone()


def test_what_a_writer_raises_elsewhere_is_raised_here() -> None:
    told = dossier("small-hatch")
    broken = dataclasses.replace(told, cuts=None)  # type: ignore[arg-type]
    with crew_of(1, lambda _: None) as crew:
        crew.offer([d for d in SOME if d.name == "cut files"], broken)
        until(lambda: crew._errors)
        with pytest.raises(AttributeError, match="cut_list"):
            crew.complete()


def test_what_a_writer_raises_here_ends_the_others() -> None:
    def fails(_: Dossier) -> Files:
        raise ExportError("no font")

    with crew_of(1, lambda _: None) as crew:
        crew.offer([Document("broken", fails)], dossier("small-hatch"))
        with pytest.raises(ExportError, match="no font"):
            crew.complete()
    assert not multiprocessing.active_children()


def test_with_nothing_to_make_nothing_is_waited_for() -> None:
    assert Crew(lambda _: None).complete() == {}


@pytest.mark.skipif(sys.platform == "win32", reason="signals are sent as POSIX has them")
def test_a_killed_build_leaves_no_process_behind(tmp_path: Path) -> None:
    program = (
        "import multiprocessing, sys, time\n"
        "from fitout.documents.crew import crew_of\n"
        "with crew_of(1, print):\n"
        "    print(*(child.pid for child in multiprocessing.active_children()), flush=True)\n"
        "    time.sleep(600)\n"
    )
    environment = os.environ | {"PYTHONPATH": os.pathsep.join(filter(None, sys.path))}
    with subprocess.Popen(
        [sys.executable, "-c", program], stdout=subprocess.PIPE, encoding="utf-8",
        env=environment, cwd=tmp_path,
    ) as builder:  # fmt: skip
        assert builder.stdout is not None
        child = int(builder.stdout.readline())
        builder.send_signal(signal.SIGKILL)

    def gone() -> bool:
        try:
            os.kill(child, 0)
        except ProcessLookupError:
            return True
        # Where nobody reaps an orphan it stays as a zombie, which is as good as gone.
        state = Path(f"/proc/{child}/stat")
        return state.exists() and state.read_text(encoding="utf-8").split()[2] == "Z"

    until(gone)
