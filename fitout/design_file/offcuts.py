"""The file of offcuts that a design names, read as part of the design."""

from __future__ import annotations

import dataclasses
from collections.abc import Collection, Mapping
from pathlib import Path

from fitout.design_file.beside import read_beside, there
from fitout.design_file.messages import located
from fitout.design_file.reader import read_record
from fitout.model.cutting import OffcutsFile
from fitout.model.design import Design
from fitout.model.fault import DesignError

PLACE = ("stock", "offcuts")
WANTED = "the name of a file of offcuts beside the design"


def with_offcuts(design: Design, catalogue_names: Mapping[str, Collection[str]]) -> Design:
    """The design with the offcuts of the file it names, which lies beside it.

    Raises:
        DesignError: with one fault where the design names the file if that can't be read, or
            with every fault in it, placed there.
    """
    named = design.stock.offcuts
    if not isinstance(named, str):
        return design
    try:
        text = read_beside(Path(design.file), named, PLACE, WANTED)
    except DesignError as error:
        raise DesignError([located(fault, design.sources) for fault in error.faults]) from None
    sheets = (*catalogue_names.get("sheets", ()), *design.catalogue.get("sheets", {}))
    read, faults = read_record(text, OffcutsFile, {"sheets": sheets})
    if faults:
        raise DesignError(there(faults, named, text))
    stock = dataclasses.replace(design.stock, offcuts=read.offcuts)
    return dataclasses.replace(design, stock=stock, beside=(*design.beside, named))
