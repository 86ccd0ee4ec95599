"""`fitout completion SHELL`: a script with which a shell completes verbs, options and files."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Mapping
from types import MappingProxyType

from fitout.verbs.declaring import Verbs, verb
from fitout.verbs.saying import PASSED

SHELLS = ("bash", "zsh", "fish", "powershell")

DESIGNS = frozenset({"design", "before", "after"})
"""Arguments that are design files."""

YAML: Mapping[str, str] = MappingProxyType(
    {"bash": "_fitout_designs", "zsh": "_files -g '*.(yaml|yml)(-.)'"}
)
"""How a shell completes a design file, where it can be told to offer no others."""

PREAMBLES: Mapping[str, str] = MappingProxyType(
    {
        "bash": """\
_fitout_designs() {
  compgen -f -- "$1" | while IFS= read -r name; do
    if [ -d "$name" ]; then printf '%s/\\n' "$name"; fi
    case "$name" in *.yaml|*.yml) printf '%s\\n' "$name" ;; esac
  done
}"""
    }
)
"""What a shell must know before: here design files, and folders on the way to them."""


def add(verbs: Verbs) -> None:
    """Declare the verb."""
    parser = verb(
        verbs,
        "completion",
        "print a script with which a shell completes verbs, options and design files",
        "fitout completion bash",
        run,
    )
    parser.add_argument("shell", choices=SHELLS, help="your shell")


def run(options: argparse.Namespace) -> int:
    """Print the script for the parser that `whole` makes."""
    # Only here: no other verb should wait for it.
    import shtab

    parser, shell = options.whole(), options.shell
    for action in _arguments(parser):
        if action.dest in DESIGNS:
            action.complete = {**shtab.FILE, **YAML}  # type: ignore[attr-defined]
        elif action.dest == "sheet":
            action.complete = shtab.FILE  # type: ignore[attr-defined]
        elif action.dest == "out":
            action.complete = shtab.DIRECTORY  # type: ignore[attr-defined]
    print(shtab.complete(parser, shell, preamble=PREAMBLES.get(shell, "")))
    return PASSED


def _arguments(parser: argparse.ArgumentParser) -> Iterator[argparse.Action]:
    """Every argument of every verb."""
    for action in parser._actions:
        yield action
        if isinstance(action, argparse._SubParsersAction):
            for below in action.choices.values():
                yield from _arguments(below)
