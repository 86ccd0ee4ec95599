"""The report in a real browser: drawers opened by their sliders, parts clicked, values read."""

import dataclasses
import re
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from browser import Page
from hostile import BREAKS
from report_page import HEIGHT, WIDTH, opened, seen, settle

from fitout.documents.dossier import Dossier
from fitout.documents.report.scene import Scene
from fitout.model.placement import Array, turned

END, HOME = ("End", 35), ("Home", 36)
PLACE = "document.getElementById('place').dataset.at"


@pytest.fixture
def wagon_page(page: Page, wagon_file: Path) -> Iterator[Page]:
    yield opened(page, wagon_file)
    assert page.console == []
    assert page.requests == [wagon_file.as_uri()]


def press(page: Page, selector: str) -> None:
    page.run(f"document.querySelector({selector!r}).click()")


def ask(page: Page, row: int) -> Array:
    """Chooses the part of a row of the parts table; where its middle is told to be."""
    press(page, f"#r{row} button")
    return place(page)


def place(page: Page) -> Array:
    return np.array([float(value) for value in page.run(PLACE).split()])


def slide(page: Page, number: int, key: tuple[str, int]) -> str:
    """Moves a slider by the keyboard alone; what is told beside it."""
    page.run(f"document.getElementById('m{number}').focus()")
    page.key(*key)
    told: str = page.run(f"document.querySelector('[for=m{number}]:is(output)').textContent")
    return told


def middle(points: Array) -> Array:
    return np.asarray((points.min(axis=0) + points.max(axis=0)) / 2.0)


def corners(scene: Scene, row: int) -> Array:
    """The eight corners of a part's block in its own axes, where it stands shut."""
    body = scene.bodies[row]
    low, high = body.mesh[0].min(axis=0), body.mesh[0].max(axis=0)
    block = np.array([[x, y, z] for x in (low[0], high[0]) for y in (low[1], high[1])
                      for z in (low[2], high[2])])  # fmt: skip
    return body.placement.apply(block)


def test_every_drawer_slide_and_lid_opens_by_its_slider(
    wagon_page: Page, wagon_scene: Scene
) -> None:
    each = wagon_scene.movements.each
    tried = 0
    for number, movement in enumerate(each):
        rows = [
            body.row for body in wagon_scene.bodies
            if body.row is not None and body.follows == (number,) and body.kind == 0
        ]  # fmt: skip
        if not rows:
            continue
        row = rows[0]
        shut = ask(wagon_page, row)
        assert shut == pytest.approx(middle(corners(wagon_scene, row)), abs=0.2)
        told = slide(wagon_page, number, END)
        points = corners(wagon_scene, row)
        if movement.turns:
            points = turned(points, movement.point, movement.direction, movement.travel)
        else:
            points = points + movement.travel * np.array(movement.direction)
        assert place(wagon_page) == pytest.approx(middle(points), abs=0.2)
        amount = f"{movement.travel:.0f}{'°' if movement.turns else ' mm'}"
        assert told == f"{amount}, {'put aside' if movement.lifted else 'open'}"
        assert slide(wagon_page, number, HOME).endswith("shut")
        assert place(wagon_page) == pytest.approx(shut, abs=0.01)
        tried += 1
    assert tried >= 6


def test_what_must_be_open_first_opens_first(wagon_page: Page, wagon_scene: Scene) -> None:
    labels = [movement.label for movement in wagon_scene.movements.each]
    lid, fridge, gate = (labels.index(name) for name in ("fridge lid", "fridge", "tailgate"))
    slide(wagon_page, lid, END)
    value = "Number(document.getElementById('m{}').value)"
    assert wagon_page.run(value.format(fridge)) == pytest.approx(700.0)
    assert wagon_page.run(value.format(gate)) > 60.0
    # The fridge can't go back in under an open lid, nor be out with the tailgate shut.
    slide(wagon_page, fridge, HOME)
    assert wagon_page.run(value.format(lid)) == 0.0
    slide(wagon_page, lid, END)
    slide(wagon_page, gate, HOME)
    assert [wagon_page.run(value.format(i)) for i in (lid, fridge)] == [0.0, 0.0]


def test_a_click_asks_for_the_part_that_is_drawn_there(wagon_page: Page, wagon: Dossier) -> None:
    settle(wagon_page)
    before = seen(wagon_page)
    asked: set[str] = set()
    for x, y in [
        (100, 420),
        (200, 500),
        (330, 560),
        (300, 420),
        (420, 640),
        (250, 620),
        (400, 430),
    ]:
        wagon_page.click(x, y)
        settle(wagon_page)
        if wagon_page.run("document.getElementById('part').hidden"):
            continue
        after = seen(wagon_page)
        assert (
            np.abs(
                after[y - 4 : y + 5, x - 4 : x + 5] - before[y - 4 : y + 5, x - 4 : x + 5]
            ).mean()
            > 8.0
        )
        row = int(wagon_page.run("document.querySelector('tr.chosen').id").removeprefix("r"))
        part = list(wagon.fitout.parts())[row]
        asked.add(part.id)
        told = wagon_page.run("document.getElementById('part').innerText")
        assert part.name in told
        assert part.module in told
        assert wagon.numbers.get(part.id, "") in told
        assert f"{part.mass_kg:.2f} kg" in told
        wagon_page.run("document.getElementById('picture').focus()")
        wagon_page.key("Escape", 27)
        settle(wagon_page)
    assert len(asked) >= 4


def test_what_is_cut_away_is_not_met(wagon_page: Page) -> None:
    settle(wagon_page)
    wagon_page.click(330, 560)
    first = wagon_page.run("document.querySelector('tr.chosen').id")
    wagon_page.run("""for (const [id, value] of [["axis", "left"], ["at", 0.95]]) {
        const box = document.getElementById(id);
        box.value = value;
        box.dispatchEvent(new Event("input", {bubbles: true}));
    }""")
    settle(wagon_page)
    wagon_page.click(330, 560)
    assert wagon_page.run("document.querySelector('tr.chosen')?.id") != first


def test_a_finding_shows_where_it_is(wagon_page: Page, wagon: Dossier) -> None:
    marked = "Number(document.getElementById('picture').dataset.marked)"
    gap = "[...document.querySelectorAll('li[data-point] button')].find(" \
          "one => one.textContent === 'drawers/top – bay/tailgate')"  # fmt: skip
    wagon_page.run(f"{gap}.click()")
    settle(wagon_page)
    assert wagon_page.run(marked) == 2
    (finding,) = [f for f in wagon.findings if f.where == "drawers/top – bay/tailgate"]
    pin = wagon_page.run("document.getElementById('pin').textContent")
    assert pin == f"{finding.value:g} {finding.unit}"
    # The camera has flown there: the pin stands near the middle of the picture.
    x, y, wide, high = wagon_page.run("""(() => {
        const pin = document.getElementById("pin"), all = document.getElementById("picture");
        return [parseFloat(pin.style.left), parseFloat(pin.style.top), 100, all.clientHeight];
    })()""")
    assert x / wide == pytest.approx(0.5, abs=0.02)
    assert y / high == pytest.approx(0.5, abs=0.02)
    wagon_page.run(f"{gap}.click()")
    assert wagon_page.run(marked) == 0
    # Opening something lets go of it too: what opens is to be seen.
    wagon_page.run(f"{gap}.click()")
    slide(wagon_page, 1, END)
    assert wagon_page.run(marked) == 0


def test_modules_are_hidden_and_shown_alone(wagon_page: Page) -> None:
    settle(wagon_page)
    whole = seen(wagon_page)
    press(wagon_page, "[data-only='0']")
    settle(wagon_page)
    alone = seen(wagon_page)
    assert np.abs(whole - alone)[:, :600].mean() > 5.0
    boxes = "[...document.querySelectorAll('#modules [data-module]')].map(box => box.checked)"
    assert wagon_page.run(boxes) == [True] + [False] * 7
    press(wagon_page, "[data-do=all]")
    press(wagon_page, "[data-view=fit]")
    settle(wagon_page)
    assert np.abs(whole - seen(wagon_page))[:, :600].mean() < 0.5


def test_steps_show_what_is_there_by_then(wagon_page: Page, wagon: Dossier) -> None:
    press(wagon_page, ".steps li[data-parts] button")
    settle(wagon_page)
    first = next(step for step in wagon.steps if step.parts)
    assert wagon_page.run("Number(document.getElementById('picture').dataset.marked)") == len(
        first.parts
    )
    assert wagon_page.run("document.querySelector('.steps li.chosen').value") == first.number


def test_the_search_leaves_what_is_asked_for(wagon_page: Page, wagon: Dossier) -> None:
    wagon_page.run("""(() => {
        const box = document.getElementById("search");
        box.value = "Ride Height";
        box.dispatchEvent(new Event("input"));
    })()""")
    wanted = sum("ride height" in f"{f.code} {f.sentence}".lower() for f in wagon.findings)
    assert wagon_page.run("document.getElementById('matches').textContent") == str(wanted)


def test_the_keyboard_goes_from_part_to_part(wagon_page: Page) -> None:
    wagon_page.run("document.getElementById('picture').focus()")
    name = "document.getElementById('part-name').textContent"
    wagon_page.key("n", 78)
    first = wagon_page.run(name)
    wagon_page.key("n", 78)
    assert wagon_page.run(name) != first
    wagon_page.key("p", 80)
    assert wagon_page.run(name) == first
    wagon_page.key("Escape", 27)
    assert wagon_page.run("document.getElementById('part').hidden")


FOCUSED = """(() => {
  const one = document.activeElement, box = one.getBoundingClientRect();
  const [left, top] = [Math.max(box.left, 0), Math.max(box.top, 0)];
  const [right, bottom] = [Math.min(box.right, innerWidth), Math.min(box.bottom, innerHeight)];
  const within = ([x, y]) => {
    const met = document.elementFromPoint(x, y);
    return met && (one.contains(met) || met.contains(one)) && met.id !== "stage";
  };
  const places = [[left + 4, top + 4], [(left + right) / 2, (top + bottom) / 2],
                  [right - 4, bottom - 4]];
  return one === document.body ? null : [one.id || one.textContent, places.some(within)];
})()"""


@pytest.mark.parametrize(
    ("width", "height"), [pytest.param(WIDTH, HEIGHT, marks=pytest.mark.thorough), (390, 844)]
)
def test_the_keyboard_alone_goes_from_top_to_bottom(
    page: Page, wagon_file: Path, width: int, height: int
) -> None:
    """What has the focus is seen: WCAG 2.2, success criterion 2.4.11 (Focus Not Obscured)."""
    opened(page, wagon_file, width, height)
    met, hidden = [], []
    for _ in range(600):
        page.key("Tab", 9)
        told = page.run(FOCUSED)
        if told is None:
            break
        met.append(told[0])
        if not told[1]:
            # What scrolls into sight may do so with the next frame.
            settle(page)
            hidden += [] if page.run(FOCUSED)[1] else [told[0]]
    else:
        pytest.fail("the focus never comes to the end")
    assert hidden == []
    first = [met.index(id_) for id_ in ("picture", "m0", "s0", "axis", "search")]
    assert first == sorted(first)
    assert "panel" in met


def test_on_paper_stands_the_drawing(wagon_page: Page) -> None:
    wagon_page.prefers("print")
    shown = "getComputedStyle(document.{}).display"
    assert wagon_page.run(shown.format("getElementById('picture')")) == "none"
    assert wagon_page.run(shown.format("querySelector('#drawn')")) != "none"
    assert wagon_page.run(shown.format("querySelector('#look')")) == "none"
    assert wagon_page.printed().startswith(b"%PDF")


def test_without_scripting_all_is_told(page: Page, wagon_file: Path) -> None:
    page.scripting(on=False)
    try:
        page.size(800, 900)
        page.open(wagon_file.as_uri())
        assert page.run("document.querySelector('#drawn svg').getBoundingClientRect().height") > 300
        assert page.run("document.querySelector('#parts table').offsetHeight") > 300
        assert page.run("getComputedStyle(document.getElementById('look')).display") == "none"
    finally:
        page.scripting(on=True)


def test_without_webgl_the_drawing_stands_and_says_so(page: Page, wagon_file: Path) -> None:
    page.size(1400, 900)
    with page.before("HTMLCanvasElement.prototype.getContext = () => null"):
        page.open(wagon_file.as_uri())
    assert page.run("document.querySelector('#drawn svg').getBoundingClientRect().height") > 300
    assert "no 3D" in page.run("document.getElementById('drawn').innerText")
    assert page.run("document.querySelector('#parts table').offsetHeight") > 300
    assert page.run("getComputedStyle(document.getElementById('look')).display") == "none"
    assert page.console == []


def test_every_slider_can_be_drawn_to_its_end(wagon_page: Page, wagon_scene: Scene) -> None:
    """Also what moves no part of ours, such as the tailgate, whose travel is no round number."""
    for number in range(len(wagon_scene.movements.each)):
        assert re.search("open|put aside", slide(wagon_page, number, END))


def test_names_that_break_out_do_nothing(page: Page, hostile_page: bytes, tmp_path: Path) -> None:
    file = tmp_path / "report.html"
    file.write_bytes(hostile_page)
    opened(page, file)
    for number in range(3):
        slide(page, number, END)
    for row in range(3):
        ask(page, row)
    page.run("for (const one of document.querySelectorAll('li[data-parts] button')) one.click()")
    settle(page)
    assert page.run("document.title").startswith(BREAKS)
    assert page.run("document.images.length") == 0
    assert page.console == []
    assert page.requests == [file.as_uri()]


def test_script_that_was_not_ours_would_be_refused(
    page: Page, wagon_file: Path, tmp_path: Path
) -> None:
    """The policy itself holds, were a name ever to get through."""
    text = wagon_file.read_text(encoding="utf-8")
    file = tmp_path / "report.html"
    planted = (
        "<script>document.title='broken'</script><img src=x onerror=\"document.title='broken'\">"
    )
    file.write_text(text.replace("<main", f"{planted}<main", 1), encoding="utf-8", newline="\n")
    opened(page, file)
    assert page.run("document.title") != "broken"
    assert len(page.console) >= 2
    assert re.search("Content Security Policy", page.console[0])


def test_inches_are_told_in_the_picture(page: Page, hostile: Dossier, tmp_path: Path) -> None:
    from dossiers import told_in

    from fitout.documents.report import report_html

    file = tmp_path / "report.html"
    file.write_bytes(report_html(told_in(hostile, lengths="in", language="de")))
    opened(page, file)
    ask(page, 0)
    told = page.run("document.getElementById('place').textContent")
    wording = dataclasses.replace(hostile.wording, unit="in")
    # Rounding to 1/32 may fall to either side where the mesh was rounded.
    near = {wording.length(place(page)[0] + off) for off in (-0.05, 0.0, 0.05)}
    assert told.split(", ")[0] in near
    assert told.endswith(" in nach vorn, links, oben")
