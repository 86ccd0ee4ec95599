"""The design that `fitout new` writes: small, complete, explained line by line."""

from __future__ import annotations

import json
import re
from pathlib import Path

_PLACE = "NAME OF THE DESIGN"
_PLAIN = re.compile(r"[A-Za-z][\w -]*\w")


def starter(name: str) -> str:
    """The starter design's text under a name of the builder's own.

    Raises:
        ValueError: when the name is empty or more than one line.
    """
    if not name.strip() or not name.isprintable():
        raise ValueError("a design's name is one line of text")
    text = Path(__file__).with_name("starter.yaml").read_text(encoding="utf-8")
    plain = _PLAIN.fullmatch(name) and name.lower() != "null"
    return text.replace(_PLACE, name if plain else json.dumps(name, ensure_ascii=False))


def new_design(name: str, folder: Path) -> Path:
    """Write a commented starter design; never overwrites. Of `car.yaml` the name is `car`.

    Raises:
        FileExistsError: when a file of that name is there already.
        ValueError: when the name is empty, not one line, or a path.
    """
    if "/" in name or "\\" in name:
        raise ValueError("what stands after new is a name, not a path")
    name = name.strip()
    if name.lower().endswith((".yaml", ".yml")):
        name = name.rpartition(".")[0]
    text = starter(name)
    stem = "".join(c if c.isalnum() or c in "-_" else "-" for c in name).strip("-")
    path = folder / f"{stem or 'design'}.yaml"
    with path.open("x", encoding="utf-8", newline="\n") as file:
        file.write(text)
    return path
