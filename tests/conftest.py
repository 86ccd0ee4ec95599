"""What tests of every room share: comparing a printed text with the file that holds it."""

import os
from collections.abc import Callable
from pathlib import Path

import pytest

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
