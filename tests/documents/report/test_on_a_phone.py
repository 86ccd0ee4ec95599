"""The report under fingers and on small screens, in a Chromium that takes itself for a phone.

Targets are held against WCAG 2.2, success criterion 2.5.8 (Target Size, Minimum): at least 24 by
24 CSS pixels, or so far from every other target that circles of 24 pixels about their middles
meet none of the others. No text of the page is smaller than 12 CSS pixels (common practice).
"""

import itertools
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from browser import Page
from report_page import canvas, opened, seen, settle, silhouette

from fitout.documents.dossier import Dossier
from fitout.model.placement import Array

WIDTH, HEIGHT, DENSE = 390, 844, 3.0
NARROW = 360
SMALLEST_TEXT, SMALLEST_TARGET = 12.0, 24.0
SCROLLED = "window.scrollY"
CHOSEN = "document.querySelector('tr.chosen')?.id"
STOPPED = """new Promise((done) => {
  let last = -1;
  const look = () => (scrollY === last ? done(0) : ((last = scrollY), setTimeout(look, 100)));
  look();
})"""


@pytest.fixture
def phone(page: Page, wagon_file: Path) -> Iterator[Page]:
    page.touching(True)
    yield opened(page, wagon_file, WIDTH, HEIGHT, dense=DENSE)
    page.touching(False)
    assert page.console == []
    assert page.requests == [wagon_file.as_uri()]


def drawn(page: Page) -> Array:
    settle(page)
    return seen(page, canvas(page))


def way(start: tuple[float, float], end: tuple[float, float], steps: int = 6) -> list[Any]:
    """A finger's places from one end to the other."""
    return [tuple(place) for place in np.linspace(start, end, steps).tolist()]


def middle_of(page: Page) -> tuple[float, float]:
    x, y, wide, high = canvas(page)
    return x + wide / 2.0, y + high / 2.0


def bare(page: Page) -> None:
    """The parts alone, without the bay about them, all of them in the picture."""
    page.run("document.getElementById('vehicle').click()")
    settle(page)


def test_one_finger_turns_the_picture_and_does_not_scroll(phone: Page) -> None:
    x, y = middle_of(phone)
    before = drawn(phone)
    phone.drag(way((x - 60, y), (x + 60, y + 40)))
    turned = drawn(phone)
    assert np.abs(turned - before).mean() > 3.0
    phone.drag(way((x + 60, y + 40), (x - 60, y)))
    assert np.abs(drawn(phone) - before).mean() < 0.5
    assert phone.run(SCROLLED) == 0


def test_two_fingers_pinch_and_shift(phone: Page) -> None:
    bare(phone)
    x, y = middle_of(phone)
    first = silhouette(phone)
    # Together to half: twice as far away. The middle of the fingers stays.
    phone.drag(way((x - 100, y), (x - 50, y)), way((x + 100, y), (x + 50, y)))
    second = silhouette(phone)
    assert np.diff(second)[[0, 2]] == pytest.approx(np.diff(first)[[0, 2]] / 2.0, rel=0.15)
    phone.drag(way((x - 50, y), (x - 20, y + 60)), way((x + 50, y), (x + 80, y + 60)))
    _, _, wide, high = canvas(phone)
    shift = np.repeat([30.0 / wide, 60.0 / high], 2)
    assert silhouette(phone) - second == pytest.approx(shift, abs=0.03)
    assert phone.run(SCROLLED) == 0
    assert phone.run("visualViewport.scale") == 1


def test_a_tap_asks_for_a_part_which_stays_in_sight(phone: Page, wagon: Dossier) -> None:
    x, y, wide, high = canvas(phone)
    phone.drag([(x + 0.25 * wide, y + 0.5 * high)])
    settle(phone)
    row = int(phone.run(CHOSEN).removeprefix("r"))
    part = list(wagon.fitout.parts())[row]
    assert part.name in phone.run("document.getElementById('part').innerText")
    # What tells of the part stands below the picture, not before it.
    x, y, wide, high = canvas(phone)
    top, bottom = phone.run("""(() => {
        const box = document.getElementById("part").getBoundingClientRect();
        return [box.top, box.bottom];
    })()""")
    assert y + high <= top + 1.0
    assert high > 180.0
    assert bottom <= HEIGHT
    # A tap upon nothing lets go.
    phone.drag([(x + 4.0, y + high - 4.0)])
    assert phone.run(CHOSEN) is None


def test_a_finger_outside_the_picture_scrolls_the_page(phone: Page) -> None:
    x, y, wide, high = canvas(phone)
    assert y + high + 150 < HEIGHT
    before = silhouette(phone)
    phone.drag(way((x + wide / 2, HEIGHT - 20), (x + wide / 2, y + high + 20), 12))
    phone.until(f"{SCROLLED} > 50")
    phone.run(STOPPED)
    # The picture stays where it can be seen, and as it was.
    top = canvas(phone)[1]
    assert 0.0 <= top < y
    assert silhouette(phone) == pytest.approx(before, abs=0.01)


def test_a_thumb_moves_a_slider_and_the_drawer_stays_in_the_picture(phone: Page) -> None:
    bare(phone)
    x, y, wide, high = phone.run("""(() => {
        const slider = document.getElementById("m1");
        slider.scrollIntoView({ block: "end" });
        const box = slider.getBoundingClientRect();
        return [box.x, box.y, box.width, box.height];
    })()""")
    assert wide > 250
    phone.drag(way((x + 8, y + high / 2), (x + wide - 4, y + high / 2), 12))
    assert phone.run("Number(document.getElementById('m1').value)") > 600
    left, right, top, bottom = silhouette(phone)
    assert min(left, top, 1.0 - right, 1.0 - bottom) > 0.02


def test_buttons_answer_to_a_tap(phone: Page) -> None:
    before = drawn(phone)
    x, y = phone.run("""(() => {
        const box = document.querySelector("[data-view=above]").getBoundingClientRect();
        return [box.x + box.width / 2, box.y + box.height / 2];
    })()""")
    phone.drag([(x, y)])
    settle(phone)
    assert np.abs(drawn(phone) - before).mean() > 3.0


@pytest.mark.parametrize(
    ("width", "height"),
    [
        (390, 844),
        pytest.param(2560, 600, marks=pytest.mark.thorough),
        pytest.param(1400, 900, marks=pytest.mark.thorough),
        pytest.param(844, 390, marks=pytest.mark.thorough),
    ],
)
def test_the_first_picture_fits_every_window(
    page: Page, wagon_file: Path, width: int, height: int
) -> None:
    opened(page, wagon_file, width, height)
    bay = silhouette(page)
    bare(page)
    # With the bay about it and without, all is seen, and one way it fills the picture.
    for left, right, top, bottom in (bay, silhouette(page)):
        assert min(left, top, 1.0 - right, 1.0 - bottom) >= 0.02
        assert max(right - left, bottom - top) > 0.85


def test_turning_the_phone_keeps_all_in_the_picture(page: Page, wagon_file: Path) -> None:
    opened(page, wagon_file, 390, 844)
    page.size(844, 390)
    page.until("document.getElementById('picture').width < 500")
    left, right, top, bottom = silhouette(page)
    assert min(left, top, 1.0 - right, 1.0 - bottom) >= 0.02


SMALL_TEXTS = """(() => {
  const found = [];
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const text = texts.currentNode, holder = text.parentElement;
    // Sheets are drawings to scale: their words grow with them, and stand in the cut list.
    const left = "script, style, title, option, #sheets svg, #drawn";
    if (!text.textContent.trim() || holder.closest(left)) continue;
    const scale = holder.getScreenCTM ? holder.getScreenCTM().a || holder.getScreenCTM().b : 1;
    const size = parseFloat(getComputedStyle(holder).fontSize) * Math.abs(scale);
    if (holder.getClientRects().length && size < SMALLEST) found.push([text.textContent, size]);
  }
  return found;
})()"""

TARGETS = """[...document.querySelectorAll("a[href], button, input, select, summary")]
  .map((one) => [one.outerHTML.slice(0, 80), one.getBoundingClientRect()])
  .filter(([, box]) => box.width && box.right > 0)
  .map(([told, box]) => [told, box.x, box.y, box.width, box.height])"""

UNFOLDED = """for (const one of document.querySelectorAll("details")) one.open = true;
for (const one of document.querySelectorAll("main > section, main li"))
  one.style.contentVisibility = "visible";
document.querySelector("#r3 button").click();"""


def test_nothing_is_too_wide_or_small_for_a_narrow_phone(page: Page, wagon_file: Path) -> None:
    opened(page, wagon_file, NARROW, 740)
    page.run(UNFOLDED)
    assert page.run("document.documentElement.scrollWidth") == NARROW
    beyond = """[...document.querySelectorAll("main > *, header > *, #stage > *")].filter((one) =>
        one.getBoundingClientRect().right > innerWidth + 0.5).length"""
    assert page.run(beyond) == 0
    assert page.run(SMALL_TEXTS.replace("SMALLEST", str(SMALLEST_TEXT))) == []
    targets = page.run(TARGETS)
    assert len(targets) > 100
    assert list(too_small(targets)) == []


def too_small(targets: list[Any]) -> Iterator[str]:
    """Targets that WCAG 2.2 SC 2.5.8 would not let pass."""
    boxes = np.array([box for _, *box in targets])
    small = (boxes[:, 2:] < SMALLEST_TARGET - 0.01).any(axis=1)
    middles = boxes[:, :2] + boxes[:, 2:] / 2.0
    for i, j in itertools.product(np.flatnonzero(small), range(len(boxes))):
        if i == j:
            continue
        # From the circle to what is small too: circle to circle; to what is not: to its edge.
        nearest = np.clip(middles[i], boxes[j, :2], boxes[j, :2] + boxes[j, 2:])
        off = np.hypot(*(middles[i] - (middles[j] if small[j] else nearest)))
        if off < (SMALLEST_TARGET if small[j] else SMALLEST_TARGET / 2.0):
            yield f"{targets[i][0]} stands {off:.1f} px from {targets[j][0]}"
