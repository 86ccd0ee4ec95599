"""What tests of every room share: comparing a printed text with the file that holds it."""

import gc
import os
import signal
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from fitout.cli import SELDOM
from fitout.design_file import starter
from fitout.documents import crew

Compare = Callable[[Path, str], None]


@pytest.fixture
def same_as() -> Compare:
    """Compares printed text with an `.expected` file, exactly.

    With FITOUT_WRITE_EXPECTED=1 in the environment the file is written anew instead, to be
    read before it is committed.
    """

    def compare(expected: Path, printed: str) -> None:
        if os.environ.get("FITOUT_WRITE_EXPECTED"):
            expected.write_text(printed + "\n", encoding="utf-8", newline="\n")
        assert printed + "\n" == expected.read_text(encoding="utf-8")

    return compare


@pytest.fixture(scope="session", autouse=True)
def alone() -> Iterator[None]:
    """Builds of the tests' own process start no others: the tests themselves fill the cores.

    Garbage is looked for as seldom as in a run of the program.
    """
    gc.set_threshold(SELDOM)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(crew, "spare_cores", lambda: 0)
        yield


@pytest.fixture(scope="session", autouse=True)
def interruptible() -> None:
    """What tests start hears Ctrl-C, even where they run in the background, deaf to it."""
    if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
        signal.signal(signal.SIGINT, signal.default_int_handler)


@pytest.fixture
def here(tmp_path, monkeypatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def van(here) -> str:
    """The starter design, which passes."""
    (here / "van.yaml").write_text(starter("Van"), encoding="utf-8")
    return "van.yaml"


@pytest.fixture
def failing(here) -> str:
    """The starter design with a drawer that is to carry far too much."""
    text = starter("Van").replace("carries: 18 kg", "carries: 400 kg")
    (here / "heavy.yaml").write_text(text, encoding="utf-8")
    return "heavy.yaml"


@pytest.fixture
def faulty(here) -> str:
    (here / "faulty.yaml").write_text("fitout: 1\nname: x\nbay: 7\nmodules: {}\n", encoding="utf-8")
    return "faulty.yaml"
