"""The report opened in a browser, and what its picture shows, measured from the pixels."""

import io
from collections.abc import Sequence
from pathlib import Path
from typing import Any, Protocol

import numpy as np
from browser import Page
from PIL import Image

from fitout.model.placement import Array

WIDTH, HEIGHT = 1400, 900
WHOLE = "document.documentElement.classList.contains('whole')"
"""What lies below the picture is laid out."""
READY = "document.getElementById('picture').dataset.ready !== undefined"


class Seen(Protocol):
    """A page of any browser, as far as looking at it goes."""

    def run(self, expression: str) -> Any:
        """The value of a JavaScript expression; a promise is waited for."""

    def picture(self, within: Sequence[float] | None = None) -> bytes:
        """What is seen, or what lies within (x, y, width, height) of the page, as PNG."""


def opened(
    page: Page, file: Path, width: int = WIDTH, height: int = HEIGHT, *, dense: float = 1.0
) -> Page:
    """The report as it first shows itself in a window of that size; above 1 `dense` is a phone."""
    page.size(width, height, dense=dense, phone=dense > 1.0)
    # The camera is there at once, however busy the machine.
    page.prefers(prefers_reduced_motion="reduce")
    page.open(file.as_uri())
    page.until(READY)
    page.until(WHOLE)
    return page


def settle(page: Seen) -> None:
    """Lets the picture be drawn."""
    page.run(
        "new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => done(0))))"
    )


def canvas(page: Seen) -> tuple[float, float, float, float]:
    """Where the picture stands in the window: x, y, width, height."""
    x, y, width, height = page.run("""(() => {
        const box = document.getElementById("picture").getBoundingClientRect();
        return [box.x, box.y, box.width, box.height];
    })()""")
    return float(x), float(y), float(width), float(height)


def seen(page: Seen, within: tuple[float, float, float, float] | None = None) -> Array:
    """The pixels of the window, or of a part of it: rows, columns, red, green and blue."""
    if within is not None:
        left, top = page.run("[scrollX, scrollY]")
        within = (within[0] + left, within[1] + top, *within[2:])
    picture = Image.open(io.BytesIO(page.picture(within))).convert("RGB")
    return np.asarray(picture, dtype=np.float64)


def silhouette(page: Seen) -> Array:
    """What is drawn of the parts: left, right, top and bottom as shares of the picture.

    A pixel at its corner is taken for the ground, its rim is left out: it may be of what is beside.
    """
    page.run("document.querySelector('.views').style.visibility = 'hidden'")
    settle(page)
    pixels = seen(page, canvas(page))[3:-3, 3:-3]
    drawn = np.abs(pixels - pixels[0, 0]).max(axis=2) > 12.0
    rows, columns = np.flatnonzero(drawn.any(axis=1)), np.flatnonzero(drawn.any(axis=0))
    high, wide = drawn.shape
    return np.array(
        [columns[0] / wide, (columns[-1] + 1) / wide, rows[0] / high, (rows[-1] + 1) / high]
    )
