"""How large the report is, how soon it is ready, what a slider and a pick cost.

Times are ratios within one run in headless Chromium, whose pictures are drawn in software
there; what the page is held against is a bare page that draws one triangle with WebGL2.
"""

from __future__ import annotations

import json
import re
import time
from collections.abc import Iterator
from pathlib import Path
from statistics import median

import browser
import pytest
from browser import Page
from dossiers import dossier

from fitout.checks.stackup import tightest
from fitout.checks.trips import reports
from fitout.checks.vehicle import laden_lines, states
from fitout.documents.assembly import assembly_csv
from fitout.documents.findings import findings_json
from fitout.documents.gap_table import gap_object
from fitout.documents.ledger import ledger_csv, vehicle_csv
from fitout.documents.pictures import overview_svg
from fitout.documents.report import report_html
from fitout.documents.sheet_pictures import sheets_svg
from fitout.documents.tables import cutlist_csv
from fitout.documents.trip_table import trips_csv

pytestmark = pytest.mark.benchmark

MOST_BESIDES = 60_000
"""Bytes besides the data."""

MOST_READY, MOST_SLIDER, MOST_PICK = 3.0, 1.3, 0.1
ROUNDS, FRAMES = 7, 40
REST = 0.6
"""Seconds between pages."""

READY = "document.getElementById('picture').dataset.ready"

BARE = """<!doctype html><title>bare</title>
<canvas id=picture width=800 height=800></canvas><script>
const picture = document.getElementById("picture"), gl = picture.getContext("webgl2");
const program = gl.createProgram();
for (const [type, text] of [
  [gl.VERTEX_SHADER, "void main() { gl_Position = vec4(gl_VertexID & 1, 0, 0, 1); }"],
  [gl.FRAGMENT_SHADER, "precision highp float; out vec4 c; void main() { c = vec4(1); }"],
]) {
  const shader = gl.createShader(type);
  gl.shaderSource(shader, `#version 300 es\n${text}`);
  gl.compileShader(shader);
  gl.attachShader(program, shader);
}
gl.linkProgram(program);
gl.useProgram(program);
gl.drawArrays(gl.TRIANGLES, 0, 3);
picture.dataset.ready = performance.now();
</script>"""

FRAMES_OF = """(async (what) => {
  const canvas = document.getElementById("picture"), gl = canvas.getContext("webgl2");
  const slider = document.getElementById("m1"), pixel = new Uint8Array(4);
  const frame = () => new Promise((done) => requestAnimationFrame(done));
  const act = {
    redraw: (i) => canvas.dispatchEvent(
      new KeyboardEvent("keydown", { key: i % 2 ? "ArrowLeft" : "ArrowRight", bubbles: true })),
    slide: (i) => {
      slider.value = 10 + (i * 37) % 600;
      slider.dispatchEvent(new Event("input", { bubbles: true }));
    },
  }[what];
  const times = [];
  for (let i = 0; i < FRAMES; i++) {
    await frame();
    const began = performance.now();
    act(i);
    await frame();
    // Reading a pixel waits until everything is drawn.
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel);
    times.push(performance.now() - began);
  }
  return times;
})"""

PICKS = """(() => {
  const canvas = document.getElementById("picture"), box = canvas.getBoundingClientRect();
  const times = [];
  for (let i = 0; i < FRAMES; i++) {
    const clientX = box.left + box.width * (0.2 + 0.6 * ((i * 0.618) % 1));
    const clientY = box.top + box.height * (0.35 + 0.35 * ((i * 0.755) % 1));
    const told = { clientX, clientY, pointerId: 1, bubbles: true, isPrimary: true, button: 0 };
    canvas.setPointerCapture = () => {};
    canvas.dispatchEvent(new PointerEvent("pointerdown", told));
    const began = performance.now();
    canvas.dispatchEvent(new PointerEvent("pointerup", told));
    times.push(performance.now() - began);
  }
  return [times, document.querySelectorAll("tr.chosen").length];
})()"""


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("report") / "report.html"
    path.write_bytes(report_html(dossier("touring-wagon")))
    return path


@pytest.fixture
def page(tmp_path: Path) -> Iterator[Page]:
    if browser.found() is None:
        pytest.skip("no Chromium here: apt-get install chromium")
    # Frames follow each other as fast as they are drawn.
    flags = ("--disable-gpu-vsync", "--disable-frame-rate-limit")
    with browser.browser(tmp_path / "profile", *flags) as opened:
        opened.size(1400, 900)
        yield opened


def test_the_report_is_little_more_than_its_data(file: Path) -> None:
    """Data: what the picture is made of; what else it tells, as the build's own files hold it."""
    made = dossier("touring-wagon")
    text = file.read_text(encoding="utf-8")
    (scene,) = re.findall(r'<script type="?application/json"?[^>]*>(.*?)</script>', text)
    told, gaps = states(made.subject), tightest(made.subject, None)
    assert told is not None
    of = {
        "scene": len(scene),
        "overview.svg": len(overview_svg(made.fitout)),
        "sheets.svg": len(sheets_svg(made.cuts)),
        "findings.json": len(findings_json(made.design.name, made.findings, made.totals)),
        "ledger.csv": len(ledger_csv(laden_lines(made.subject))),
        "assembly.csv": len(assembly_csv(made.steps)),
        "vehicle.csv": len(vehicle_csv(told)),
        "trips.csv": len(trips_csv(reports(made.subject))),
        "cutlist.csv": len(cutlist_csv(made.cuts.cut_list)),
        "gaps of survey --json": len(json.dumps([gap_object(gap) for gap in gaps], indent=1)),
    }
    besides = file.stat().st_size - sum(of.values())
    script, style = (
        len(text) - text.rindex("<script>"),
        text.index("</style>") - text.index("<style>"),
    )
    listed = ", ".join(f"{name} {size:,}" for name, size in of.items())
    print(f"\n{file.stat().st_size:,} bytes; {listed}; besides {besides:,}; "
          f"script {script:,}, style {style:,}")  # fmt: skip
    assert besides <= MOST_BESIDES
    # The viewer itself, which is there whatever the design.
    assert script + style <= MOST_BESIDES


def test_the_report_is_ready_soon(file: Path, page: Page, tmp_path: Path) -> None:
    bare = tmp_path / "bare.html"
    bare.write_text(BARE, encoding="utf-8")
    times: dict[Path, list[float]] = {bare: [], file: []}
    for _ in range(ROUNDS):
        for path, found in times.items():
            # What the page before still has drawn must not be waited for by the next.
            page.open("about:blank")
            time.sleep(REST)
            page.open(path.as_uri())
            page.until(f"{READY} !== undefined")
            found.append(float(page.run(READY)))
        assert page.requests == [file.as_uri()]
    # The least of all: what else the machine does only ever makes it longer.
    plain, whole = (min(found) for found in times.values())
    print(f"\nready after {whole:.0f} ms, a bare page after {plain:.0f} ms: {whole / plain:.2f}")
    assert whole <= MOST_READY * plain


def test_sliders_and_picks_are_quick(file: Path, page: Page) -> None:
    page.open(file.as_uri())
    page.until(f"{READY} !== undefined")
    frames = FRAMES_OF.replace("FRAMES", str(FRAMES))
    page.run(f"{frames}('slide')")
    redraw, slide = ([], [])  # type: tuple[list[float], list[float]]
    for _ in range(3):
        redraw += page.run(f"{frames}('redraw')")
        slide += page.run(f"{frames}('slide')")
    picks, chosen = page.run(PICKS.replace("FRAMES", str(FRAMES)))
    frame, slid, pick = median(redraw), median(slide), median(picks)
    print(f"\na redraw takes {frame:.1f} ms, a slider {slid / frame:.2f} of it, "
          f"a pick {pick:.2f} ms or {pick / frame:.3f}")  # fmt: skip
    assert chosen == 1
    assert slid <= MOST_SLIDER * frame
    assert pick <= MOST_PICK * frame
