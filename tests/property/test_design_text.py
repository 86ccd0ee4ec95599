"""Whatever a design's text is turned into, reading it ends in a design or in located faults."""

import contextlib
import dataclasses
import math

from hypothesis import example, given, settings
from hypothesis import strategies as st

from fitout.catalogue import names
from fitout.design_file import cautions, read_text, show_faults, starter, validate
from fitout.design_file.quantities import Misread, read_measured, read_quantity, read_size
from fitout.design_file.syntax import lines_of
from fitout.model.design import Design
from fitout.model.fault import DesignError
from fitout.model.spec import Quantity, Unit
from fitout.modules.registry import KINDS

SPECS = {kind.kind: kind.spec for kind in KINDS}
NAMES = names()
STARTER = "\n".join(
    line for line in starter("van").splitlines() if line.strip() and not line.startswith("#")
)

MARKS = (
    "&a *a !!x { } [ ] : - ? '' ' | > % # , ± ½ − null nan .inf 1e999 0/0 true -1 << fit kind: "
    "{left:1,right:2} [1,2] 0x10 1_0 1x2x3"
)
CHARACTERS = '\t"\ufeff\x00\x85\u2028\r\ud800'
PHRASES = ("---\n", "...\n", ": ", "- ", "9" * 400)

SCRAPS = st.one_of(
    st.sampled_from((*MARKS.split(" "), *CHARACTERS, *PHRASES)),
    st.text(max_size=5),
)


@st.composite
def changed(draw):
    """The starter with a few characters or lines taken out, put in or exchanged."""
    text = STARTER
    for _ in range(draw(st.integers(1, 4))):
        lines = text.split("\n")
        row = draw(st.integers(0, len(lines) - 1))
        line = lines[row]
        how = draw(st.sampled_from(["cut", "put", "swap", "drop", "double", "move"]))
        if how in ("drop", "double", "move"):
            taken = [] if how == "double" else [lines.pop(row)]
            back = draw(st.integers(0, len(lines)))
            if how == "double":
                lines.insert(back, line)
            elif how == "move":
                lines[back:back] = taken
        else:
            start = draw(st.integers(0, len(line)))
            end = start if how == "put" else min(len(line), start + draw(st.integers(1, 12)))
            scrap = "" if how == "cut" else draw(SCRAPS)
            lines[row] = line[:start] + scrap + line[end:]
        text = "\n".join(lines)
    return text


def outcome(text):
    """The design, or the error that reading ended in; anything else is not caught."""
    try:
        return read_text(text, "van.yaml", SPECS, NAMES)
    except DesignError as error:
        return error


@given(changed())
@example("")
@example("fitout: 1")
@example("[" * 5000)
@example("- " * 5000 + "x")
@example("? " * 30 + "x")
@example("{*a : 1, *a : 2}")
@example("a: !<tag:x> b")
@example("bay: {? [1, 2] : 3}")
@settings(max_examples=60, deadline=None)
def test_changed_design_is_read_or_faulted(text):
    read = outcome(text)
    if isinstance(read, Design):
        doubts = cautions(read)
        assert validate(read) == ()
        assert show_faults(doubts, text, "van.yaml").count("caution: found") >= len(doubts)
        return
    assert read.faults
    for fault in read.faults:
        assert fault.line is not None
        assert 1 <= fault.line <= len(lines_of(text))
        assert fault.column is not None
        assert fault.column >= 1
    assert show_faults(read, text, "van.yaml").count("; expected ") >= len(read.faults)


@given(st.text(alphabet="0123456789 .,/-+±\"'xinmfctkgle()°½", max_size=14))
@settings(max_examples=100, deadline=None)
def test_any_text_is_a_quantity_or_misread(text):
    readers = (
        read_measured,
        read_size,
        lambda t: read_quantity(t, Quantity(Unit.LENGTH, least=0.0)),
        lambda t: read_quantity(t, Quantity(Unit.VOLUME, above=0.0)),
        lambda t: read_quantity(t, Quantity(Unit.ANGLE, least=-180.0, most=180.0)),
    )
    for reader in readers:
        with contextlib.suppress(Misread):
            value = reader(text)
            assert all(math.isfinite(v) and abs(v) <= 1e5 for v in numbers(value))


def numbers(value):
    """The numbers a quantity holds."""
    if isinstance(value, float):
        return (value,)
    return tuple(v for v in dataclasses.astuple(value) if v is not None)


@given(st.integers(0, 400), st.integers(0, 15))
@settings(deadline=None)
def test_inches_and_sixteenths_read_as_they_measure(whole, sixteenths):
    expected = round((whole + sixteenths / 16.0) * 25.4, 9)
    assert read_measured(f"{whole} {sixteenths}/16 in").value == expected
    assert read_measured(f"{whole} in").value == round(whole * 25.4, 9)


@given(
    st.floats(0.001, 50_000, allow_nan=False).map(lambda v: round(v, 3)),
    st.floats(0.001, 100, allow_nan=False).map(lambda v: round(v, 3)),
)
@settings(deadline=None)
def test_plain_numbers_are_millimetres(value, tolerance):
    measured = read_measured(f"{value} ± {tolerance}")
    assert (measured.value, measured.tolerance) == (value, tolerance)
