"""`fitout` alone: what to do next in this folder, in the order of the job."""

from __future__ import annotations

import argparse
import re
import textwrap
from collections.abc import Iterator
from pathlib import Path

from fitout.verbs.saying import PASSED, WIDTH

REPORT = "report.html"
DESIGN = re.compile(r"(?m)^fitout:")
"""How a design file begins: with the version of its format, at the margin."""

LOOKED_AT = 4096
"""Letters of a file that are looked at to tell whether it is a design."""


def run(_options: argparse.Namespace) -> int:
    """Say where the job stands here."""
    print("\n".join(next_lines(Path.cwd())))
    return PASSED


def next_lines(folder: Path) -> Iterator[str]:
    """What is there, and each step from here; every line fits 80 columns where names are short."""
    designs = designs_in(folder)
    if not designs:
        yield from _without_design()
    else:
        yield from _with_design(folder, designs)
    yield ""
    yield "`fitout --help` has every verb, `fitout VERB --help` an example of each."


def designs_in(folder: Path) -> tuple[Path, ...]:
    """The design files of a folder, the one saved last first."""
    from fitout.design_file.files import SUFFIXES

    try:
        found = [p for p in folder.iterdir() if p.suffix in SUFFIXES and p.is_file()]
        designs = [(-path.stat().st_mtime, path) for path in found if _is_design(path)]
    except OSError:
        return ()
    return tuple(path for _, path in sorted(designs))


def _is_design(path: Path) -> bool:
    try:
        with path.open(encoding="utf-8-sig", errors="replace") as file:
            return DESIGN.search(file.read(LOOKED_AT)) is not None
    except OSError:
        return False


def _without_design() -> Iterator[str]:
    yield "No design in this folder yet. In the order of the job:"
    yield ""
    yield "  fitout new my-car"
    yield "      a commented starter design, to type your numbers and wishes into"
    yield "  fitout survey my-car.yaml --sheet measure.pdf"
    yield "      a sheet to print and to measure with: its rows are the file's lines"


def _with_design(folder: Path, designs: tuple[Path, ...]) -> Iterator[str]:
    design = designs[0]
    export = folder / "exports" / design.stem
    report = export / REPORT
    more = f" (saved last of {len(designs)} designs)" if len(designs) > 1 else ""
    if not report.is_file():
        yield textwrap.fill(
            f"{design.name} is here{more}, not built yet. In the order of the job:", WIDTH
        )
        yield ""
        yield from _worked_on(design.name)
    elif report.stat().st_mtime < design.stat().st_mtime:
        yield textwrap.fill(
            f"{design.name} is here{more}, saved again since it was built. Next:", WIDTH
        )
        yield ""
        yield from _worked_on(design.name)
    else:
        yield textwrap.fill(f"{design.name} is here{more}, and built. Next:", WIDTH)
        yield ""
        place = (Path("exports") / design.stem / REPORT).as_posix()
        yield f"  open {place} in a browser"
        yield "      the whole fit-out to turn and open, with every finding"
        yield f"  cut one part first and try it; all are in {Path(place).parent.as_posix()}"
        yield f"  fitout compare {design.name} CHANGED"
        yield "      what a changed copy of the design would change"


def _worked_on(name: str) -> Iterator[str]:
    yield f"  fitout survey {name} --sheet measure.pdf"
    yield "      a sheet to print and to measure with: its rows are the file's lines"
    yield f"  fitout survey {name}"
    yield "      how sure the bay is, and what to measure next"
    yield f"  fitout check {name} --watch"
    yield "      what fits and what fails, again on each save while you edit"
    yield f"  fitout trip {name}"
    yield "      axle loads, water, battery and fuel, once the design has `trips`"
    yield f"  fitout build {name}"
    yield "      cut list, cut files, drawings and the report"
