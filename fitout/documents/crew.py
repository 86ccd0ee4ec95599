"""Processes that make documents beside this one, on a machine with more than one core.

Each is a fresh interpreter: it loads the heavy libraries while the design is still being checked,
is then given what the documents are made from, and makes one after the other. This process makes
its share from the other end of the list. Whatever becomes of the others, everything gets made:
what a lost one had in hand is made here. Each ends by itself when its pipe does, however this
process ended.
"""

from __future__ import annotations

import gc
import os
import signal
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass, field
from importlib import import_module
from multiprocessing import get_context
from multiprocessing.connection import Connection
from threading import Condition, Thread
from typing import Any

from fitout.documents.contents import OF_THE_DOSSIER, OF_THE_FITOUT, Document, Files, Source
from fitout.documents.packed import packed, unpacked

Told = Callable[[str], None]

MOST = 2
"""How many more processes are worth starting: the drawings alone take longest then."""

HEAVY = ("OCP.STEPCAFControl", "reportlab.pdfgen.canvas", "ezdxf", "shapely")
"""What each loads before it is given anything."""


def spare_cores() -> int:
    """How many processes could run beside this one without waiting for each other."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0)) - 1
    return (os.cpu_count() or 1) - 1


@contextmanager
def crew_of(more: int, told: Told) -> Iterator[Crew]:
    """A crew of this process and so many `more`, loading already; they end with the block.

    `told` hears the name of each document when its making begins, maybe in another thread. Where
    no process can be started, everything is made in this one.
    """
    crew = Crew(told)
    with ExitStack() as ends:
        for _ in range(more):
            with suppress(OSError):
                ends.enter_context(_helper(crew))
        yield crew


@dataclass(frozen=True, slots=True)
class _Job:
    document: Document[Any]
    source: object


@dataclass(slots=True)
class Crew:
    """What is to be made, who is at work, and what is done."""

    _told: Told
    _waiting: deque[_Job] = field(default_factory=deque)
    _made: dict[str, bytes] = field(default_factory=dict)
    _errors: list[Exception] = field(default_factory=list)
    _busy: int = 0
    _over: bool = False
    _changed: Condition = field(default_factory=Condition)

    def offer(self, documents: Sequence[Document[Source]], source: Source) -> None:
        """Documents that anyone may begin now; they stand before those offered earlier."""
        with self._changed:
            self._waiting.extendleft(_Job(document, source) for document in reversed(documents))
            self._changed.notify_all()

    def complete(self) -> dict[str, bytes]:
        """Work along until all that was offered is made: the files by their path.

        Raises what a writer raised, the first of it.
        """
        while (job := self._next()) is not None:
            self._made.update(job.document.make(job.source))
        if self._errors:
            raise self._errors[0]
        return self._made

    def _next(self) -> _Job | None:
        """The first that waits; None once nothing waits, nor is in anyone's hands."""
        with self._changed:
            self._changed.wait_for(lambda: self._waiting or self._errors or not self._busy)
            if self._waiting and not self._errors:
                return self._begun(self._waiting.popleft())
            self._over = True
            self._changed.notify_all()
            return None

    def _begun(self, job: _Job) -> _Job:
        self._told(job.document.name)
        return job

    def take(self) -> _Job | None:
        """The last that waits, for another process; None once all is over."""
        with self._changed:
            self._changed.wait_for(lambda: self._waiting or self._over)
            if self._over:
                return None
            self._busy += 1
            return self._begun(self._waiting.pop())

    def give_back(self, job: _Job, outcome: Files | Exception | None) -> None:
        """What came of a job that was taken; None if it was lost, so that it waits again."""
        with self._changed:
            self._busy -= 1
            if outcome is None:
                self._waiting.append(job)
            elif isinstance(outcome, Exception):
                self._errors.append(outcome)
            else:
                self._made.update(outcome)
            self._changed.notify_all()


@contextmanager
def _helper(crew: Crew) -> Iterator[None]:
    """One process more, and the thread that hands it one job after the other."""
    # A fresh interpreter everywhere: a fork would take along locks that other threads hold.
    context = get_context("spawn")
    ours, its = context.Pipe()
    process = context.Process(target=_work, args=(its, gc.get_threshold()), daemon=True)
    with its, _deaf_to_interrupts():
        process.start()
    Thread(target=_hand_out, args=(crew, ours), daemon=True).start()
    try:
        yield
    finally:
        process.terminate()
        process.join()


@contextmanager
def _deaf_to_interrupts() -> Iterator[None]:
    """A process begun within never hears Ctrl-C: that is for this one to answer."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, [signal.SIGINT])
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _hand_out(crew: Crew, pipe: Connection) -> None:
    """Give a process one job after the other, until all is over or the process is lost."""
    given: object = None
    with pipe, suppress(EOFError, OSError):
        pipe.recv_bytes()
        while (job := crew.take()) is not None:
            outcome: Files | Exception | None = None
            try:
                if job.source is not given:
                    pipe.send_bytes(packed(job.source))
                    given = job.source
                pipe.send_bytes(packed(job.document.name))
                outcome = unpacked(pipe.recv_bytes())
            finally:
                crew.give_back(job, outcome)


def _work(pipe: Connection, seldom: tuple[int, int, int]) -> None:
    """What such a process does: as it is told, until its pipe ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # Garbage is looked for as seldom as the first process does.
    gc.set_threshold(*seldom)
    for library in HEAVY:
        import_module(library)
    documents: tuple[Document[Any], ...] = (*OF_THE_FITOUT, *OF_THE_DOSSIER)
    known = {document.name: document for document in documents}
    source: object = None
    with suppress(EOFError, OSError):
        pipe.send_bytes(b"ready")
        while True:
            told = unpacked(pipe.recv_bytes())
            if isinstance(told, str):
                pipe.send_bytes(packed(_outcome(known[told], source)))
            else:
                source = told


def _outcome(document: Document[Any], source: object) -> Files | Exception:
    try:
        return document.make(source)
    except Exception as error:
        # Raised again by the process that asked for it.
        return error
