"""`fitout catalogue [TABLE] [WORDS...]`: what can be bought, and where its numbers come from."""

from __future__ import annotations

import argparse
import json
import sys
import textwrap
from typing import TYPE_CHECKING

from fitout.verbs.declaring import Verbs, verb
from fitout.verbs.saying import FAULTY, PASSED, WIDTH

if TYPE_CHECKING:
    from fitout.answers.catalogue_search import Row


def add(verbs: Verbs) -> None:
    """Declare the verb."""
    parser = verb(
        verbs,
        "catalogue",
        "show and search boards, slides, hinges, bolts, latches and sections",
        "fitout catalogue sheets birch",
        run,
    )
    parser.add_argument(
        "words",
        nargs="*",
        metavar="WORD",
        help="a table such as sheets, or a kind such as bolts; then words its rows must have",
    )
    parser.add_argument(
        "--row", metavar="NAME", help="print this row as YAML, to copy into a file of your own"
    )
    parser.add_argument(
        "--design", help="a design file: its items and own rows too", metavar="DESIGN"
    )
    parser.add_argument("--json", action="store_true", help="print one JSON object")


def run(options: argparse.Namespace) -> int:
    """Show the tables, the rows asked for, or one row to copy."""
    from fitout import catalogue as catalogue_room
    from fitout import workflow
    from fitout.answers.catalogue_search import UnknownRowError, row_named, rows, search
    from fitout.answers.catalogue_telling import row_yaml, rows_lines, rows_object, tables_lines

    design = workflow.load(options.design) if options.design else None
    every = rows(catalogue_room.load(design.catalogue if design else {}), design)
    try:
        if options.row is not None:
            row = row_named(every, options.row, " ".join(options.words) or None)
            found: tuple[Row, ...] = (row,)
        else:
            found = search(every, options.words)
    except UnknownRowError as unknown:
        print(textwrap.fill(f"fitout: {unknown}", WIDTH), file=sys.stderr)
        return FAULTY
    if options.json:
        print(json.dumps(rows_object(found), indent=1))
    elif options.row is not None:
        print("\n".join(row_yaml(found[0])))
    elif options.words:
        print("\n".join(rows_lines(found)))
    else:
        print("\n".join(tables_lines(every)))
    return PASSED
