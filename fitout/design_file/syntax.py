"""Faults of the text itself, before any entry is looked at, in a builder's words."""

from __future__ import annotations

import re
from collections.abc import Iterator

import yaml

from fitout.model.fault import Fault

MAX_CHARACTERS = 1_000_000
MAX_REPORTED = 20
"""How many faults of one sort are reported; more would say nothing new."""

LINE_BREAK = re.compile("\r\n|[\r\n\x85\u2028\u2029]")
"""What the YAML parser counts as the end of a line."""

_FORBIDDEN = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_INDENTED_TAB = re.compile(r"^( *)\t[\t ]*\S")

_WORDS: tuple[tuple[str, str, str, str], ...] = (
    (
        "mapping values are not allowed",
        "a second colon",
        "one entry a line, indented evenly",
        "Put text that holds a colon in quotes, or start a new line.",
    ),
    (
        "could not find expected ':'",
        "a line with no colon after its name",
        "name: value",
        "Or does it belong to the line above? Then indent it further.",
    ),
    ("',' or '}'", "{ that is not closed", "a comma or }", "Look for a missing } or comma."),
    ("',' or ']'", "[ that is not closed", "a comma or ]", "Look for a missing ] or comma."),
    (
        "unexpected end of stream",
        "a quote that is not closed",
        "a second quote",
        "For inches write in.",
    ),
    (
        "unexpected document indicator",
        "a quote that is not closed",
        "a second quote",
        "For inches write in.",
    ),
    (
        "cannot start any token",
        "a character no value begins with",
        "a name, a number or text",
        "Put the value in quotes.",
    ),
    (
        "sequence entries are not allowed",
        "a list's dash after a name",
        "the list's first dash on a line of its own",
        "",
    ),
    ("escape", "a backslash sequence YAML does not know", "plain text", "Use single quotes."),
    ("undefined tag handle", "a tag", "a plain value", "Leave out the word that begins with !."),
    (
        "alphabetic or numeric character",
        "& or * at the start of a value",
        "a plain value",
        "Put the value in quotes.",
    ),
    ("document start", "text after the end of the design", "one design in a file", ""),
    (
        "'-' indicator",
        "an entry amid a list",
        "a dash before each of the list's members",
        "",
    ),
    ("expected key", "a line that does not fit", "lines of one group indented alike", ""),
    ("expected <block end>", "a line that does not fit", "lines of one group indented alike", ""),
    ("directive", "a line that begins with %", "an entry", ""),
    ("yaml document", "a YAML version other than 1", "a design", "Leave out the %YAML line."),
)


def text_faults(text: str) -> tuple[Fault, ...]:
    """What makes the text unreadable as a whole: nothing in it, too much, odd characters, tabs."""
    if len(text) > MAX_CHARACTERS:
        found = f"{len(text)} characters"
        return (_at(1, 1, found, f"a design of at most {MAX_CHARACTERS}"),)
    if not any(line.strip() and not line.lstrip().startswith("#") for line in lines_of(text)):
        hint = "`fitout new NAME` writes one to start from."
        return (_at(1, 1, "an empty file", "a design", hint),)
    return tuple(_odd_characters(text)) or tuple(_tabs(text))


def lines_of(text: str) -> list[str]:
    """The text's lines as the YAML parser counts them."""
    return LINE_BREAK.split(text)


def syntax_fault(error: yaml.MarkedYAMLError, text: str) -> Fault:
    """One fault for what the YAML parser stumbled over."""
    problem = str(error.problem or "")
    mark = error.problem_mark or error.context_mark
    if _noticed_late(problem) and error.context_mark is not None:
        mark = error.context_mark
    line, column = (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)
    lines = lines_of(text)
    if line > len(lines) or (line == len(lines) and not lines[-1]):
        line, column = _last_word(lines)
    for needle, found, expected, hint in _WORDS:
        if needle in problem.lower():
            return _at(line, column, found, expected, hint)
    return _at(line, column, f"text that is no YAML ({problem})", "a name, a colon and a value")


def _noticed_late(problem: str) -> bool:
    """Whether the parser came upon it only after what was left open or unfinished."""
    late = ("',' or '}'", "',' or ']'", "end of stream", "document indicator", "expected ':'")
    return any(needle in problem for needle in late)


def _last_word(lines: list[str]) -> tuple[int, int]:
    """The end of the last line that holds anything."""
    number = max((i for i, line in enumerate(lines, 1) if line.strip()), default=1)
    return number, max(1, len(lines[number - 1].rstrip()))


def _odd_characters(text: str) -> Iterator[Fault]:
    count = 0
    for number, line in enumerate(lines_of(text), 1):
        for match in _FORBIDDEN.finditer(line):
            found = f"a control character (U+{ord(match.group()):04X})"
            hint = "Is this a text file, saved as UTF-8?"
            yield _at(number, match.start() + 1, found, "readable text", hint)
            count += 1
            if count >= MAX_REPORTED:
                return


def _tabs(text: str) -> Iterator[Fault]:
    count = 0
    for number, line in enumerate(lines_of(text), 1):
        match = _INDENTED_TAB.match(line)
        if match and count < MAX_REPORTED:
            hint = "Set your editor to write spaces for the tab key."
            column = len(match.group(1)) + 1
            yield _at(number, column, "a tab at the start of the line", "spaces", hint)
            count += 1


def _at(line: int, column: int, found: str, expected: str, hint: str = "") -> Fault:
    return Fault(path=(), found=found, expected=expected, hint=hint, line=line, column=column)
