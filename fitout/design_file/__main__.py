"""Writes the JSON Schema of design files anew: `python -m fitout.design_file`."""

from __future__ import annotations

from importlib import resources
from pathlib import Path

from fitout.design_file.schema import schema_text
from fitout.modules.registry import KINDS


def main() -> None:
    """Write the shipped schema from today's declarations."""
    specs = {kind.kind: kind.spec for kind in KINDS}
    shipped = Path(str(resources.files("fitout.design_file").joinpath("design.schema.json")))
    shipped.write_text(schema_text(specs), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
