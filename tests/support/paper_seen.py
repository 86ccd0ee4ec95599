"""A PDF as another program paints it: pixels by poppler."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest

needs_poppler = pytest.mark.skipif(
    shutil.which("pdftoppm") is None, reason="needs pdftoppm of poppler-utils"
)
Grey = npt.NDArray[np.uint8]


def painted(pdf: bytes, folder: Path, dpi: int) -> list[Grey]:
    """Each page in shades of grey, row by row from the top; 0 is black."""
    source = folder / "seen.pdf"
    source.write_bytes(pdf)
    command = ["pdftoppm", "-gray", "-r", str(dpi), str(source), str(folder / f"seen{dpi}")]
    subprocess.run(command, check=True)
    return [_grey(path) for path in sorted(folder.glob(f"seen{dpi}-*.pgm"))]


def _grey(path: Path) -> Grey:
    data = path.read_bytes()
    magic, width, height, most = data.split(maxsplit=4)[:4]
    assert (magic, most) == (b"P5", b"255")
    count = int(width) * int(height)
    return np.frombuffer(data[-count:], dtype=np.uint8).reshape(int(height), int(width))
