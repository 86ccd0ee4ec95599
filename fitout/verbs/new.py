"""`fitout new NAME`: a commented starter design, in the current folder."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from fitout.verbs.declaring import Verbs, verb
from fitout.verbs.saying import FAILED, PASSED


def add(verbs: Verbs) -> None:
    """Declare the verb."""
    parser = verb(verbs, "new", "write a commented starter design", "fitout new my-car", run)
    parser.add_argument("name", help="the design's name; the file is NAME.yaml")


def run(options: argparse.Namespace) -> int:
    """Write the starter, never over a file that is there."""
    from fitout.design_file.starter import new_design

    try:
        path = new_design(options.name, Path.cwd())
    except FileExistsError as error:
        print(f"fitout: {error.filename} is there already; nothing was written.", file=sys.stderr)
        return FAILED
    except (ValueError, OSError) as error:
        print(f"fitout: {error}; nothing was written.", file=sys.stderr)
        return FAILED
    print(f"Wrote {path.name}. Next: measure, edit it, and run `fitout check {path.name}`.")
    return PASSED
