"""Writes the JSON Schema and the page of entries anew: `python -m fitout.design_file`."""

from __future__ import annotations

from importlib import resources
from pathlib import Path

from fitout import catalogue
from fitout.design_file.reference import FILE, reference_text
from fitout.design_file.schema import schema_text
from fitout.modules.registry import KINDS


def main() -> None:
    """Write the shipped schema and page from today's declarations."""
    specs = {kind.kind: kind.spec for kind in KINDS}
    written = {
        "design.schema.json": schema_text(specs),
        FILE: reference_text(KINDS, catalogue.load()),
    }
    for name, text in written.items():
        shipped = Path(str(resources.files("fitout.design_file").joinpath(name)))
        shipped.write_text(text, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
