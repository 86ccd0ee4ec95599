"""PDF seen by an independent reader: poppler's tools, where they are installed."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
from PIL import Image

Dots = npt.NDArray[np.uint8]
MM_PER_INCH = 25.4


def needed() -> None:
    """Skip the test where poppler is missing."""
    if shutil.which("pdftoppm") is None:
        pytest.skip("no poppler here: apt-get install poppler-utils")


def dots(pdf: bytes, folder: Path, page: int = 1, dpi: int = 300) -> Dots:
    """A page in grey, shape (rows, columns), 0 black; row 0 is the paper's upper edge."""
    needed()
    (folder / "one.pdf").write_bytes(pdf)
    picked = ["-f", str(page), "-l", str(page), "-singlefile", "-gray", "-r", str(dpi), "-png"]
    subprocess.run(["pdftoppm", *picked, "one.pdf", "one"], cwd=folder, check=True, timeout=120)
    with Image.open(folder / "one.png") as picture:
        return np.asarray(picture.convert("L"))


def words(pdf: bytes, folder: Path) -> str:
    """The PDF's text."""
    needed()
    (folder / "one.pdf").write_bytes(pdf)
    done = subprocess.run(
        ["pdftotext", "-layout", "one.pdf", "-"], cwd=folder, check=True, timeout=120,
        capture_output=True,
    )  # fmt: skip
    return done.stdout.decode("utf-8")
