"""The page of entries: current, complete, its links and examples true."""

import ast
import dataclasses
import inspect
import re
from collections.abc import Iterator
from importlib import resources
from pathlib import Path
from typing import Any, get_args, get_type_hints

import pytest

from fitout import catalogue
from fitout.design_file import read_text
from fitout.design_file.entry_words import anchor, wrapped
from fitout.design_file.layout import FileSpec
from fitout.design_file.reference import FILE, page_of, reference_text
from fitout.model.design import ROLE_DOCS, ModuleSpec
from fitout.model.spec import Days, Measured, Size
from fitout.modules.kind import Kind
from fitout.modules.registry import KINDS
from fitout.survey import points

CATALOGUE = catalogue.load()
PAGE = reference_text(KINDS, CATALOGUE)


def flowing(text: str) -> str:
    """Text without its line ends, as it is read aloud."""
    return " ".join(text.split())


def part(heading: str) -> str:
    """The page from a heading to the next of its rank or above."""
    rank = heading.partition(" ")[0]
    _, found, rest = PAGE.partition(f"\n{heading}\n")
    assert found, heading
    # A # within a sketch begins no heading.
    pieces = re.split(r"(```.*?```)", rest, flags=re.DOTALL)
    for i in range(0, len(pieces), 2):
        below = re.split(rf"(?m)^#{{1,{len(rank)}}} ", pieces[i])
        if len(below) > 1:
            return "".join([*pieces[:i], below[0]])
    return rest


def members() -> list[str]:
    """The members of the page's lists, each on one line."""
    return re.sub(r"\n  (?=\S)", " ", PAGE).splitlines()


def records_in(hint: Any) -> Iterator[type[Any]]:
    if (
        isinstance(hint, type)
        and dataclasses.is_dataclass(hint)
        and hint not in (Days, Measured, Size)
    ):
        yield hint
    for inner in get_args(hint):
        yield from records_in(inner)


def declared(record: type[Any], seen: set[type[Any]]) -> Iterator[tuple[type[Any], Any, Any]]:
    """Every entry below a record: the record, its field, what the field holds."""
    if record in seen:
        return
    seen.add(record)
    hints = get_type_hints(record, include_extras=True)
    common = ModuleSpec.__dataclass_fields__ if record is not ModuleSpec else {}
    for field in dataclasses.fields(record):
        if issubclass(record, ModuleSpec) and field is common.get(field.name):
            continue
        yield record, field, hints[field.name]
        for inner in records_in(hints[field.name]):
            yield from declared(inner, seen)


SEEN: set[type[Any]] = set()
ENTRIES = [found for top in (FileSpec, *(k.spec for k in KINDS)) for found in declared(top, SEEN)]


def name_of(found: tuple[type[Any], Any, Any]) -> str:
    return f"{found[0].__name__}.{found[1].name}"


def test_the_shipped_page_is_current() -> None:
    shipped = resources.files("fitout.design_file").joinpath(FILE)
    assert shipped.read_text(encoding="utf-8") == PAGE, "run python -m fitout.design_file"


def test_every_declared_entry_is_in_it_with_what_to_write_and_what_holds_otherwise() -> None:
    assert len(ENTRIES) > 150
    form = re.compile(r"- `(\S+)`: (.*?)\. Write .+\. (?:Must be given|Left out: .+)\.")
    told = {match.groups() for line in members() if (match := form.fullmatch(line))}
    silent = [
        name_of(found)
        for found in ENTRIES
        if (found[1].metadata["key"] or found[1].name, flowing(found[1].metadata["doc"]))
        not in told
    ]
    assert silent == []


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.kind)
def test_every_kind_has_its_page_its_sketch_and_its_own_entries(kind: Kind) -> None:
    section = part(f"### {kind.kind}")
    source = Path(inspect.getfile(kind.build)).read_text(encoding="utf-8")
    page = inspect.cleandoc(ast.get_docstring(ast.parse(source)) or "")
    drawn = [line.strip() for line in page.splitlines() if line.startswith("  ")]
    (sketch,) = re.findall(r"```text\n(.*?)```", section, re.DOTALL)
    assert len(drawn) >= 4
    assert [line.strip() for line in sketch.splitlines() if line.strip()] == drawn
    sentences = flowing(page.splitlines()[-1]).split("; see `")[0]
    assert sentences in flowing(section)
    files = {path.stem for path in Path(inspect.getfile(kind.build)).parent.glob("*.py")}
    assert not {f"see `{name}`" for name in files} & set(re.findall(r"see `\w+`", section))
    own = set(kind.spec.__dataclass_fields__) - set(ModuleSpec.__dataclass_fields__)
    keys = {kind.spec.__dataclass_fields__[n].metadata["key"] or n for n in own}
    assert keys <= set(re.findall(r"(?m)^- `(\S+)`:", section))


def test_a_kind_that_is_added_is_in_it_of_itself() -> None:
    drawers = next(kind for kind in KINDS if kind.kind == "drawers")
    fields = [("ribs", "int", dataclasses.field(metadata={"doc": "how many ribs", "example": "3"}))]
    spec = dataclasses.make_dataclass(
        "RackSpec",
        fields,
        bases=(ModuleSpec,),
        namespace={"kind": "rack"},
        kw_only=True,
        frozen=True,
    )
    rack = dataclasses.replace(drawers, kind="rack", spec=spec)
    added = reference_text((*KINDS, rack), CATALOGUE)
    assert "\n### rack\n" in added
    assert "my rack: {kind: rack, ribs: 3}" in added
    assert "- `ribs`: how many ribs. Write a whole number, for example `3`. Must be given." in added


def test_every_role_and_every_name_of_the_catalogue_is_in_it() -> None:
    for role, doc in ROLE_DOCS.items():
        assert f"- `{role}`: {doc}. Left out: `{catalogue.DEFAULT_BOARDS[role]}`." in PAGE
    for table, rows in catalogue.names().items():
        section = part(f"### catalogue: {table}")
        cells = {name.strip() for cell in section.split("|") for name in cell.split(";")}
        assert set(rows) - cells == set()


def test_the_points_a_note_may_name_are_drawn() -> None:
    drawn = [line.strip() for line in (points.__doc__ or "").splitlines() if line[:2] == "  "]
    section = part("### Named points")
    assert [line for line in drawn if line not in section] == []
    assert section.count("```") == 2


def test_defaults_are_told_as_a_builder_would_write_them() -> None:
    text = flowing(PAGE)
    for told in (
        "- `rear_gap`: room kept between its fronts and the shut tailgate. Write a length of 0 or "
        "more. Left out: `8`.",
        "- `width`: size across the bay. Write a length above 0, or `fit`, for example `480`. "
        "Left out: worked out.",
        "- `removable`: whether the module lifts out as a whole. Write yes or no. Left out: `no`.",
        "- `carries`: the load it is to carry. Write a mass of 0 or more, for example `45 kg`. "
        "Left out: 40 kg for the lowest drawer, 20 kg for the others.",
        "- `opens`: how far it opens. Write an angle from -180 to 180. Left out: `90 deg`.",
        "- `lip`: how far the sill stands above the floor. Write a length (± if known). Left out: "
        "`0`.",
        "- `front_wall`: instead of a seat back: a fixed wall ahead, forward of the sill. Write a "
        "length (± if known), for example `1508 ± 3`. Left out: none.",
    ):
        assert told in text


def test_every_link_leads_to_one_heading() -> None:
    prose = re.sub(r"(?s)```.*?```", "", PAGE)
    slugs = [anchor(title) for title in re.findall(r"(?m)^#+ (.+)$", prose)]
    assert len(slugs) == len(set(slugs))
    links = re.findall(r"\]\(#([^)]*)\)", prose)
    assert len(links) > 50
    assert set(links) <= set(slugs)


HOUSE = """fitout: 1
name: Try
bay:
  sections: [{at: 0, widths: {0: 1300}, roof: 950}]
  seat_back: {foot: 1200, leans: 15 deg, top: 600}
items:
  fridge: {size: 500 x 350 x 300, mass: 15 kg}
  tank: {size: 150 x 350 x 300, mass: 2 kg, holds: 10 l}
modules:
  drawers: {kind: drawers}
"""

SPECS = {kind.kind: kind.spec for kind in KINDS}
WITH_EXAMPLE = [found for found in ENTRIES if found[1].metadata["example"]]


@pytest.mark.parametrize("found", WITH_EXAMPLE, ids=name_of)
def test_every_example_can_be_read(found: tuple[type[Any], Any, Any]) -> None:
    # A kind of module with this one entry stands in for the group the entry belongs to.
    _, field, hint = found
    probe = dataclasses.make_dataclass(
        "ProbeSpec",
        [("tried", hint, dataclasses.field(metadata={"doc": "this"}))],
        bases=(ModuleSpec,),
        namespace={"kind": "probe"},
        kw_only=True,
        frozen=True,
    )
    text = f"{HOUSE}  it: {{kind: probe, tried: {field.metadata['example']}}}\n"
    specs = {**SPECS, "probe": probe}
    design = read_text(text, "try.yaml", specs, catalogue.names())
    assert design.modules["it"].tried not in (None, (), "")


def test_the_blocks_of_the_page_can_be_read_too() -> None:
    for kind in KINDS:
        (block,) = re.findall(
            r"The least you must write:\n\n```yaml\n(.*?)```", part(f"### {kind.kind}"), re.DOTALL
        )
        text = HOUSE + "".join(f"  {line}\n" for line in block.splitlines())
        design = read_text(text, "try.yaml", SPECS, catalogue.names())
        assert isinstance(design.modules[f"my {kind.kind}"], kind.spec)


def test_lines_are_short_enough_to_read_but_for_tables() -> None:
    long = [line for line in PAGE.splitlines() if len(line) > 100 and not line.startswith("|")]
    assert long == []


def test_code_and_links_stay_on_one_line() -> None:
    text = wrapped(f"- {'word ' * 18}`a b c d e` and [one two](#one-two) {'word ' * 12}")
    assert "`a b c d e`" in text
    assert "[one two](#one-two)" in text
    assert all(line.startswith(("- ", "  ")) for line in text.splitlines())


def test_a_page_without_a_sketch_stays_as_it_is() -> None:
    kind = dataclasses.replace(KINDS[0], build=catalogue.load)
    assert "```" not in page_of(kind)
