"""Parts as built: which part of the fit-out an entry names, and how far off it is.

A part is named by its number on the cut list (`P07`, `panel 7`, `B01`), or by its name there;
its sizes are the cut list's. A reading takes the place of what cutting leaves open: the gap is
then unsure by the reading only.
"""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence

from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE
from fitout.cutting.cut_list import BarLine, CutLine, CutList, cut_list
from fitout.cutting.edging import edged
from fitout.model.as_built import AsBuilt, AsBuiltSpec, Built
from fitout.model.fault import DesignError, Fault, Path
from fitout.model.finding import Finding, Severity
from fitout.model.module import Fitout
from fitout.model.notes import TapeClass
from fitout.model.panel import Bar, Panel
from fitout.model.spec import Measured
from fitout.survey.tape import READING_HALF_WIDTH, largest_error
from fitout.survey.uncertainty import rectangular, root_sum_square

CALLIPER = 0.1
"""Half width of a thickness read with a calliper, mm: the sheet varies more from place to
place than the calliper errs (common practice)."""

FAR: Mapping[str, float] = {"length": 10.0, "width": 10.0, "thickness": 2.0}
"""A part further off than this, mm, is another part or a slip of the tape (common practice)."""

ODD: Mapping[str, float] = {"length": 3.0, "width": 3.0, "thickness": 0.5}
"""A part further off than this, mm, should be measured again (common practice)."""

SIZES = ("length", "width", "thickness")
NUMBERED = re.compile(r"(p|panel|b|bar|)\s*0*([0-9]+)", re.IGNORECASE)

Line = CutLine | BarLine


def as_built_of(
    wishes: Mapping[str, AsBuiltSpec],
    fitout: Fitout,
    tape: TapeClass,
    panels: Iterable[Panel] | None = None,
) -> AsBuilt:
    """Every size measured, by part; `tape` is the class of the tape it was read with.

    `panels` are those as they are cut; they are measured finished: with their edging on, and
    scribed to the vehicle.

    Raises:
        DesignError: with a fault for every entry that names no one part or can't be its size.
    """
    if not wishes or not fitout.modules:
        return {}
    panels = edged(fitout.panels()) if panels is None else panels
    cuts = cut_list(panels, [bar for module in fitout.modules for bar in module.bars])
    parts = {p.id: p for p in fitout.parts() if isinstance(p, Panel | Bar)}
    found: dict[tuple[str, str], Built] = {}
    faults: list[Fault] = []
    for key, wish in wishes.items():
        path: Path = ("as_built", key)
        named = _parts_named(key, cuts)
        if len(named) != 1:
            faults.append(_which(path, key, list(named), cuts))
            continue
        ((id_, line),) = named.items()
        drawn = _drawn(line, id_)
        for size in SIZES:
            read = getattr(wish, size)
            if read is None:
                continue
            cut = _cut_size(line, size)
            way = _way(parts[id_], drawn, size)
            fault = _unfit((*path, size), read, cut, size)
            if fault is None and (id_, way) in found:
                hint = f"{found[id_, way].key} is the same part."
                text = f"the {size} of {id_} a second time"
                fault = Fault(path=(*path, size), found=text, expected="each once", hint=hint)
            if fault is not None:
                faults.append(fault)
            else:
                assert cut is not None
                width = _half_width(read, size, tape)
                found[id_, way] = Built(
                    size=size,
                    number=line.number,
                    cut=cut,
                    read=read.value,
                    half_width=width,
                    key=key,
                )
    if faults:
        raise DesignError(faults)
    return found


def _parts_named(key: str, cuts: CutList) -> dict[str, Line]:
    """The parts an entry's name may mean, by id, each with its line of the cut list."""
    everything: dict[str, Line] = {panel.id: line for line in cuts.lines for panel in line.panels}
    everything |= {bar.id: line for line in cuts.bars for bar in line.bars}
    if key in everything:
        return {key: everything[key]}
    numbered = NUMBERED.fullmatch(key.strip())
    if numbered is not None:
        letter, number = (numbered[1] or "p")[0].upper(), int(numbered[2])
        return {
            id_: line
            for id_, line in everything.items()
            if line.number[0] == letter and int(line.number[1:]) == number
        }
    return {id_: line for id_, line in everything.items() if id_.split("/", 1)[1] == key}


def _which(path: Path, key: str, named: Sequence[str], cuts: CutList) -> Fault:
    """An entry that names no part, or several."""
    if named:
        found = f"{key}, which is {len(named)} parts"
        return Fault(path=path, found=found, expected=f"one of {', '.join(named)}")
    names = [panel.id for line in cuts.lines for panel in line.panels]
    names += [bar.id for line in cuts.bars for bar in line.bars]
    plain = [name.split("/", 1)[1] for name in names]
    near = difflib.get_close_matches(key, [*names, *dict.fromkeys(plain)], n=3, cutoff=0.5)
    hint = f"Nearest: {', '.join(near)}." if near else ""
    if not near and cuts.lines:
        hint = f"Panels are {cuts.lines[0].number} to {cuts.lines[-1].number}."
    expected = "a part of the cut list, by its number or name"
    return Fault(path=path, found=key, expected=expected, hint=hint)


def _unfit(path: Path, read: Measured, cut: float | None, size: str) -> Fault | None:
    """Why a reading can't be that size of the part."""
    if cut is None:
        return Fault(path=path, found=f"a {size} of a bar", expected="its length")
    if abs(read.value - cut) <= FAR[size]:
        return None
    hint = "Is it another part, or has the design changed since it was cut?"
    expected = f"about {cut:.1f}, as the cut list has it"
    return Fault(path=path, found=f"{read.value:g}", expected=expected, hint=hint)


def _cut_size(line: Line, size: str) -> float | None:
    if isinstance(line, BarLine):
        return line.length if size == "length" else None
    length, width = line.finished
    return {"length": length, "width": width, "thickness": line.thickness}[size]


def _drawn(line: Line, id_: str) -> Panel | Bar:
    """The part in the frame it is drawn in, where u is its length."""
    parts: Sequence[Panel | Bar] = line.bars if isinstance(line, BarLine) else line.panels
    return next(part for part in parts if part.id == id_)


def _way(part: Panel | Bar, drawn: Panel | Bar, size: str) -> str:
    """Along which of the part's own axes a size lies; the drawing may have turned it."""
    if size == "thickness":
        return "w"
    axis = drawn.placement.u if size == "length" else drawn.placement.v
    along = math.fsum(a * b for a, b in zip(axis, part.placement.u, strict=True))
    return "u" if abs(along) > math.sqrt(0.5) else "v"


def _half_width(read: Measured, size: str, tape: TapeClass) -> float:
    """How far off a reading may be; a tape hooked to a sawn edge errs by itself and its marks."""
    if read.tolerance is not None:
        return read.tolerance
    if size == "thickness":
        return CALLIPER
    errors = [rectangular(largest_error(read.value, tape, hooked=True))]
    errors.append(rectangular(READING_HALF_WIDTH))
    return math.sqrt(3.0) * root_sum_square(errors)


def check_as_built(subject: Subject) -> Iterator[Finding]:
    """Each part measured as built, and how far it is off."""
    for (id_, _), built in subject.as_built.items():
        odd = abs(built.off) > ODD[built.size]
        cure = " Measure it again, or cut it anew." if odd else ""
        yield Finding(
            code="as built",
            severity=Severity.CAUTION if odd else Severity.PASS,
            where=id_,
            value=round(built.off, 4) + 0.0,
            limit=ODD[built.size],
            unit="mm",
            margin=round(ODD[built.size] - abs(built.off), 4),
            sentence=(
                f"{built.number} ({id_}) has a {built.size} of {built.read:g} as built, "
                f"{built.words} its cut size of {built.cut:.1f}. Gaps count it so; the cut files "
                f"stay as designed.{cure}"
            ),
            source=COMMON_PRACTICE,
        )
