"""Everything a design file may say, as one Markdown page, from the declarations alone.

The reader, the JSON Schema and this page come from the same entries, so that none of them
can say what the others don't. A kind's page is the docstring at the top of its file.
"""

from __future__ import annotations

import inspect
import re
import textwrap
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fitout.catalogue import DEFAULT_BOARDS, Catalogue
from fitout.design_file.entry_words import Homes, entry_line, groups_in, link, wrapped, yaml_block
from fitout.design_file.layout import FileSpec
from fitout.design_file.name_tables import field_lines, name_table
from fitout.design_file.quantities import measured_words
from fitout.design_file.shapes import Entry, SizeText, entries_of, expected
from fitout.design_file.units import EXAMPLES, UNIT_HINTS, WORDS
from fitout.model.design import ROLE_DOCS, ModuleSpec
from fitout.model.spec import Unit
from fitout.modules.kind import Kind
from fitout.survey import points

COMMAND = "python -m fitout.design_file"
FILE = "ENTRIES.md"

INTRODUCTION = f"""\
# Everything a design file may say

Written by `{COMMAND}` from the declarations the program reads by; change those,
not this page.

A design file is a list of entries, each a name, a colon and a value. For every entry this page
says what it means, what to write, and what holds when you leave it out. Entries that belong
together stand indented below their group's name, or in braces: `{{at: 0, roof: 846}}`. The members
of a list each begin with a dash, or stand in brackets: `[14 deg, 17 deg]`. Whatever follows a # is
for you.

Forward is towards the seats and counts from the sill, where the load floor ends under the tailgate.
Heights count from the load floor. Left and right are as you face forward, and distances across
count from the centre line, to the right of it negative."""

CATALOGUE = """\
`catalogue: my-catalogue.yaml` names a file beside the design with the tables below, which several
designs may share; there every row says its `source`. Or the tables stand here. `fitout catalogue`
shows and searches the rows, and with `--row NAME` prints one to copy into such a file.

Numbers stand alone here, without a unit: each field says what it is counted in. A row of a name
that is there already takes the place of the shipped row. `like: another row` copies a row, and the
fields beside it change the copy; without `like` every field that must be given is needed."""

POINTS = """\
The notes of a survey name the points of the bay they were measured between. Sections are numbered
from the sill forward; a point on a wall has its section's number and its height, such as
`left wall 2/240`."""


_POINTER = re.compile(r"[;:,]\s+see `\w+`")


@dataclass(frozen=True, slots=True)
class Group:
    """A group of entries: its heading, and the entry of the file it is the value of."""

    title: str
    record: type[Any]
    entry: Entry | None
    depth: int


def reference_text(kinds: Sequence[Kind], catalogue: Catalogue) -> str:
    """The page as Markdown: the file's top, bay, boards, items, modules, cutting, catalogue."""
    homes = _homes(kinds)
    blocks = [INTRODUCTION, _contents(kinds), *_values(), *_top(homes)]
    for entry in entries_of(FileSpec):
        if entry.key in groups_with_pages():
            blocks += _part(entry, homes, kinds, catalogue)
    return "\n\n".join(blocks) + "\n"


def groups_with_pages() -> tuple[str, ...]:
    """The entries at the top of a file that have a part of the page each."""
    return tuple(e.key for e in entries_of(FileSpec) if e.key not in ("fitout", "name"))


def page_of(kind: Kind) -> str:
    """A kind's page, the docstring at the top of its file, the sketch in a code block.

    What only points to another file of the program is left out.
    """
    file = inspect.getmodule(kind.build)
    return _fenced(_POINTER.sub("", (file.__doc__ if file else "") or ""))


def _fenced(page: str) -> str:
    """Text whose indented lines, a sketch, stand in a code block."""
    lines = inspect.cleandoc(page).splitlines()
    drawn = [i for i, line in enumerate(lines) if line.startswith("  ")]
    if not drawn:
        return wrapped("\n".join(lines))
    first, last = drawn[0], drawn[-1] + 1
    sketch = textwrap.dedent("\n".join(lines[first:last]))
    before, after = (wrapped("\n".join(part)) for part in (lines[:first], lines[last:]))
    return f"{before.strip()}\n\n```text\n{sketch}\n```\n\n{after.strip()}".strip()


def _named_points() -> str:
    """The sketch that names the points of a bay."""
    _, fence, sketch = _fenced(points.__doc__ or "").partition("```text\n")
    return f"{fence}{sketch.partition('```')[0]}```"


def own_entries(spec: type[ModuleSpec]) -> tuple[Entry, ...]:
    """The entries of a kind that not every module has."""
    common = {entry.key: entry for entry in entries_of(ModuleSpec)}
    return tuple(entry for entry in entries_of(spec) if common.get(entry.key) != entry)


def _homes(kinds: Sequence[Kind]) -> Homes:
    """The heading under which each group of entries is explained, the first that needs it."""
    homes: dict[type[Any], str] = {}
    _settle(entries_of(FileSpec), "", homes)
    for kind in kinds:
        _settle(own_entries(kind.spec), kind.kind, homes)
    return homes


def _settle(entries: Sequence[Entry], above: str, homes: dict[type[Any], str]) -> None:
    for entry in entries:
        title = f"{above}: {entry.key}" if above else entry.key
        for record in groups_in(entry.shape):
            if record not in homes:
                homes[record] = title
                _settle(entries_of(record), title, homes)


def _contents(kinds: Sequence[Kind]) -> str:
    lines = [f"- {link('How values are written')}", f"- {link('The top of the file')}"]
    for key in groups_with_pages():
        lines.append(f"- {link(key)}")
        if key == "modules":
            lines += [f"  - {link(kind.kind)}" for kind in kinds]
    return "\n".join(lines)


def _values() -> Iterator[str]:
    yield "## How values are written"
    lines = [
        f"- **{WORDS[unit]}**: {EXAMPLES[unit]}. {UNIT_HINTS[unit]}"
        for unit in Unit
        if unit is not Unit.RATIO
    ]
    lines += [
        f"- **a measured length**: {measured_words().removeprefix('a length, such as ')}. The ± is "
        "how far you trust the tape; leave it out where you don't know. `about 1050` is a guess, "
        "not yet measured.",
        f"- **a size**: {expected(SizeText())}.",
        "- **yes or no**: as they stand.",
        "- **a name**: as you like, of letters, digits, spaces, - and _. Text that holds a colon "
        "stands in quotes.",
        "- **fit**, or nothing, where a size of a module would stand: fill what is left.",
    ]
    yield "\n".join(wrapped(line) for line in lines)


def _top(homes: Homes) -> Iterator[str]:
    yield "## The top of the file"
    yield _entries(entries_of(FileSpec), "", homes, in_module=False)


def _part(entry: Entry, homes: Homes, kinds: Sequence[Kind], catalogue: Catalogue) -> Iterator[str]:
    """One top entry of the file: all that may stand below it."""
    yield f"## {entry.key}"
    yield wrapped(f"{entry.doc[0].upper()}{entry.doc[1:]}.")
    yield _sample(entry)
    for record in groups_in(entry.shape):
        if record is ModuleSpec:
            yield from _modules(homes, kinds)
        else:
            yield from _group(Group(entry.key, record, None, 2), homes)
    if entry.key == "bay":
        yield "### Named points"
        yield POINTS
        yield _named_points()
    if entry.key == "boards":
        yield "### boards: purposes"
        yield _roles()
    if entry.key == "catalogue":
        yield from _catalogue(catalogue)


def _group(group: Group, homes: Homes, *, in_module: bool = False) -> Iterator[str]:
    """A group's heading, meaning, example and entries, then the groups within it."""
    if group.entry is not None:
        yield f"{'#' * group.depth} {group.title}"
        yield wrapped(inspect.cleandoc(group.record.__doc__ or ""))
        if group.entry.example:
            yield _sample(group.entry)
    entries = entries_of(group.record)
    yield _entries(entries, group.title, homes, in_module=in_module)
    yield from _within(entries, group, homes, in_module=in_module)


def _within(
    entries: Sequence[Entry], group: Group, homes: Homes, *, in_module: bool
) -> Iterator[str]:
    for entry in entries:
        title = f"{group.title}: {entry.key}"
        for record in groups_in(entry.shape):
            if homes[record] == title:
                below = Group(title, record, entry, min(group.depth + 1, 4))
                yield from _group(below, homes, in_module=in_module)


def _modules(homes: Homes, kinds: Sequence[Kind]) -> Iterator[str]:
    yield wrapped(
        "Each module has a name of your choice and a `kind`: "
        + ", ".join(link(kind.kind) for kind in kinds)
        + ". Its kind decides which entries it takes besides those that every module may have:"
    )
    yield _entries(entries_of(ModuleSpec), "modules", homes, in_module=True)
    yield wrapped(inspect.cleandoc(ModuleSpec.__doc__ or "").partition("\n\n")[2])
    for kind in kinds:
        yield f"### {kind.kind}"
        yield page_of(kind)
        yield "The least you must write:"
        yield _least(kind)
        own = own_entries(kind.spec)
        if own:
            yield "Its own entries, besides those of every module:"
            yield _entries(own, kind.kind, homes, in_module=True)
            group = Group(kind.kind, kind.spec, None, 3)
            yield from _within(own, group, homes, in_module=True)


def _least(kind: Kind) -> str:
    needed = [f"{e.key}: {e.example}" for e in own_entries(kind.spec) if e.required]
    return yaml_block(f"my {kind.kind}", f"{{{', '.join([f'kind: {kind.kind}', *needed])}}}")


def _entries(entries: Sequence[Entry], title: str, homes: Homes, *, in_module: bool) -> str:
    return "\n".join(entry_line(entry, title, homes, in_module=in_module) for entry in entries)


def _sample(entry: Entry) -> str:
    return yaml_block(entry.key, entry.example)


def _roles() -> str:
    return "\n".join(
        wrapped(f"- `{role}`: {doc}. Left out: `{DEFAULT_BOARDS[role]}`.")
        for role, doc in ROLE_DOCS.items()
    )


def _catalogue(catalogue: Catalogue) -> Iterator[str]:
    yield CATALOGUE
    tables: Mapping[str, Mapping[str, Any]] = {
        "sheets": catalogue.sheets,
        "slides": catalogue.slides,
        "articles": catalogue.articles,
        "sections": catalogue.sections,
        "latches": catalogue.latches,
        "strikers": catalogue.strikers,
    }
    for table, rows in tables.items():
        yield f"### catalogue: {table}"
        yield f"The fields of a row of `{table}`:"
        yield field_lines(table)
        yield "The rows that are there already:"
        yield name_table(table, rows)
