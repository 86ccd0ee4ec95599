"""The report in a real Firefox: everything that can be clicked is clicked, values are read.

Where this Firefox draws no WebGL2 (it needs a screen for that, which Xvfb gives), what is left to
see is that the drawing and all tables stand there.
"""

from collections.abc import Iterator
from pathlib import Path

import firefox
import numpy as np
import pytest
from firefox import FirefoxPage
from report_page import READY, canvas, settle, silhouette

from fitout.documents.dossier import Dossier
from fitout.documents.report.scene import Scene

END, HOME = "\ue010", "\ue011"
"""Keys as WebDriver names them."""

WEBGL2 = "document.createElement('canvas').getContext('webgl2') !== null"


@pytest.fixture(scope="module")
def started(tmp_path_factory: pytest.TempPathFactory, wagon_file: Path) -> Iterator[FirefoxPage]:
    if firefox.found() is None:
        pytest.skip("no Firefox here: apt-get install firefox-esr xvfb")
    with firefox.firefox(tmp_path_factory.mktemp("profile")) as page:
        yield page


@pytest.fixture
def fox(started: FirefoxPage, wagon_file: Path) -> Iterator[FirefoxPage]:
    """The report as opened from disk; afterwards nothing has been wrong or been asked for."""
    started.size(1400, 900)
    started.open(wagon_file.as_uri())
    yield started
    assert started.console == []
    # Firefox tells of a font of its own, which is data and comes from nowhere.
    assert [a for a in started.requests if not a.startswith(("data:", "file:"))] == []


@pytest.fixture
def drawn(fox: FirefoxPage) -> FirefoxPage:
    if not fox.run(WEBGL2):
        pytest.skip("this Firefox draws no WebGL2: apt-get install xvfb")
    fox.until(READY)
    return fox


def test_all_is_told_whatever_the_picture(fox: FirefoxPage) -> None:
    sections = "[...document.querySelectorAll('main > section')].map((one) => one.id)"
    assert set(fox.run(sections)) >= {"findings", "gaps", "masses", "axles", "trips", "parts",
                                      "sheets", "steps"}  # fmt: skip
    for section in ("gaps", "masses", "axles", "parts"):
        assert fox.run(f"document.querySelector('#{section} table').offsetHeight") > 80
    still = fox.run("document.querySelector('#drawn svg').getBoundingClientRect().height")
    assert (still > 300) is not fox.run(WEBGL2)


def test_the_picture_is_drawn_and_fits(drawn: FirefoxPage) -> None:
    left, right, top, bottom = silhouette(drawn)
    assert min(left, top, 1.0 - right, 1.0 - bottom) >= 0.02
    assert max(right - left, bottom - top) > 0.85


def test_every_slider_opens_and_shuts_by_its_keys(drawn: FirefoxPage, wagon_scene: Scene) -> None:
    each = wagon_scene.movements.each
    assert len(each) >= 6
    for number, movement in enumerate(each):
        told = []
        for key in (END, HOME):
            drawn.run(f"document.getElementById('m{number}').focus()")
            drawn.key(key)
            told.append(drawn.run(f"document.querySelector('[for=m{number}]:is(output)').value"))
        amount = f"{movement.travel:.0f}{'°' if movement.turns else ' mm'}"
        assert told[0] == f"{amount}, {'put aside' if movement.lifted else 'open'}"
        assert told[1].endswith("shut")


CLICKED = """(() => {
  const picture = document.getElementById("picture");
  return [...document.querySelectorAll("li[data-parts]")].map((row) => {
    row.querySelector("button").click();
    return [row.dataset.parts.split(" ").length, Number(picture.dataset.marked)];
  });
})()"""

ASKED = """[...document.querySelectorAll("#parts tr[id]")].map((row) => {
  row.querySelector("button").click();
  return [document.getElementById("part-name").textContent,
          document.getElementById("place").dataset.at];
})"""


def test_every_finding_and_step_marks_what_it_is_about(drawn: FirefoxPage, wagon: Dossier) -> None:
    marked = drawn.run(CLICKED)
    assert len(marked) > len(wagon.steps)
    assert all(wanted == found for wanted, found in marked)
    settle(drawn)


def test_every_row_tells_which_part_it_is_and_where(
    drawn: FirefoxPage, wagon: Dossier, wagon_scene: Scene
) -> None:
    told = drawn.run(ASKED)
    parts = list(wagon.fitout.parts())
    assert [name for name, _ in told] == [part.name for part in parts]
    bodies = {body.row: body for body in reversed(wagon_scene.bodies) if body.row is not None}
    for row, (_, place) in enumerate(told):
        body = bodies[row]
        low, high = body.mesh[0].min(axis=0), body.mesh[0].max(axis=0)
        axes = np.stack([low, high])
        block = np.array([[axes[i, 0], axes[j, 1], axes[k, 2]]
                          for i in (0, 1) for j in (0, 1) for k in (0, 1)])  # fmt: skip
        points = body.placement.apply(block)
        middle = (points.min(axis=0) + points.max(axis=0)) / 2.0
        assert [float(value) for value in place.split()] == pytest.approx(middle, abs=0.2)


def test_a_click_asks_for_a_part(drawn: FirefoxPage, wagon: Dossier) -> None:
    x, y, wide, high = canvas(drawn)
    drawn.click(x + 0.25 * wide, y + 0.52 * high)
    settle(drawn)
    row = int(drawn.run("document.querySelector('tr.chosen').id").removeprefix("r"))
    assert list(wagon.fitout.parts())[row].name == drawn.run(
        "document.getElementById('part-name').textContent"
    )
