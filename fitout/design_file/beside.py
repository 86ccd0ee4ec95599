"""Files that a design names and that lie beside it: their text, and faults placed in them."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable
from pathlib import Path

from fitout.design_file.files import file_text
from fitout.design_file.syntax import lines_of
from fitout.model.fault import DesignError, Fault
from fitout.model.fault import Path as Keys


def read_beside(design: Path, named: str, place: Keys, wanted: str) -> str:
    """The text of the file that a design names at `place`.

    Raises:
        DesignError: with one fault of that entry if the file can't be read.
    """
    try:
        return file_text(design.parent / named)
    except DesignError as error:
        raise DesignError(
            [
                Fault(path=place, found=f"{named}: {f.found}", expected=wanted, hint=f.hint)
                for f in error.faults
            ]
        ) from None


def there(faults: Iterable[Fault], file: str, text: str) -> tuple[Fault, ...]:
    """The faults placed in the file of that name, each with the line it stands in."""
    lines = lines_of(text.removeprefix("\ufeff"))

    def placed(fault: Fault) -> Fault:
        line = fault.line or 0
        shown = lines[line - 1] if 0 < line <= len(lines) else ""
        return dataclasses.replace(fault, file=file, source_line=shown)

    return tuple(placed(fault) for fault in faults)
