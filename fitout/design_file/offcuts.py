"""The file of offcuts that a design names, read as part of the design."""

from __future__ import annotations

import dataclasses
from collections.abc import Collection, Mapping
from pathlib import Path

from fitout.design_file.files import file_text
from fitout.design_file.messages import located
from fitout.design_file.reader import read_record
from fitout.design_file.syntax import lines_of
from fitout.model.cutting import OffcutsFile
from fitout.model.design import Design
from fitout.model.fault import DesignError, Fault

PLACE = ("stock", "offcuts")


def with_offcuts(design: Design, catalogue_names: Mapping[str, Collection[str]]) -> Design:
    """The design with the offcuts of the file it names, which lies beside it.

    Raises:
        DesignError: with one fault where the design names the file if that can't be read, or
            with every fault in it, placed there.
    """
    named = design.stock.offcuts
    if not isinstance(named, str):
        return design
    path = Path(design.file).parent / named
    try:
        text = file_text(path)
    except DesignError as error:
        raise DesignError([_unread(design, named, fault) for fault in error.faults]) from None
    sheets = (*catalogue_names.get("sheets", ()), *design.catalogue.get("sheets", {}))
    read, faults = read_record(text, OffcutsFile, {"sheets": sheets})
    if faults:
        lines = lines_of(text)
        raise DesignError([_there(fault, named, lines) for fault in faults])
    stock = dataclasses.replace(design.stock, offcuts=read.offcuts)
    return dataclasses.replace(design, stock=stock)


def _unread(design: Design, named: str, fault: Fault) -> Fault:
    """The file is missing, or no text: that is a fault of the entry that names it."""
    found = f"{named}: {fault.found}"
    wanted = "the name of a file of offcuts beside the design"
    return located(Fault(path=PLACE, found=found, expected=wanted, hint=fault.hint), design.sources)


def _there(fault: Fault, file: str, lines: list[str]) -> Fault:
    line = fault.line or 0
    text = lines[line - 1] if 0 < line <= len(lines) else ""
    return dataclasses.replace(fault, file=file, source_line=text)
