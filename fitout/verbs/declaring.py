"""How a verb declares itself: its help, an example, its arguments."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from typing import TYPE_CHECKING

Run = Callable[[argparse.Namespace], int]

if TYPE_CHECKING:
    Verbs = argparse._SubParsersAction[argparse.ArgumentParser]
else:
    Verbs = object


def verb(verbs: Verbs, name: str, does: str, example: str, run: Run) -> argparse.ArgumentParser:
    """A verb's parser; `does` says in a line what it does, `example` how it is typed."""
    parser = verbs.add_parser(
        name,
        help=does,
        description=f"{does[0].upper()}{does[1:]}.",
        epilog=f"For example: {example}",
    )
    parser.set_defaults(run=run)
    return parser
