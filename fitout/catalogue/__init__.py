"""Bought goods as data: sheets, slides, articles, sections and latches, a source a row.

What belongs here: the YAML tables, and reading them into records of `fitout.model`. What
does not: choosing among rows (`modules`, `arrange`), formulas (`mechanics`).

To add a row, write it into the table's file with a `source`: a published document, or
"common practice" where that is the truth. `like: other row` copies a row, and the fields
beside it change the copy. Leave out what no source gives (no price, no rating invented):
a check that misses a value says `unchecked`. A design adds or replaces rows the same way
under `catalogue:`.
"""

from fitout.catalogue.tables import DEFAULT_BOARDS, Catalogue, load, names

__all__ = ["DEFAULT_BOARDS", "Catalogue", "load", "names"]
