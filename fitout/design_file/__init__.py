"""From the YAML a builder writes to a typed `Design`, every fault found at once.

What belongs here: the form of the file (`nodes`, `syntax`), numbers with units
(`quantities`), reading by declaration (`shapes`, `layout`, `reader`), files that lie beside
a design (`own_catalogue`, `offcuts`), what can't be true
together (`rules`, `bay_rules`) and what looks like a slip (`cautions`), how faults are
printed (`messages`), the JSON Schema (`schema`), the page of every entry (`reference`) and
the starter design (`starter`). What does not: geometry, mass or anything that needs a
module built.

A new entry is declared in `fitout.model.design` or in its module's spec; reader, schema and
page follow from there. A new rule goes into RULES of `rules` or `bay_rules`, with a broken
design of its own under `tests/golden/broken`. After a change of entries run
`python -m fitout.design_file` to write schema and page anew.
"""

from fitout.design_file.cautions import cautions
from fitout.design_file.files import file_text
from fitout.design_file.messages import located, show_faults, suggestion
from fitout.design_file.offcuts import with_offcuts
from fitout.design_file.own_catalogue import read_file, rows_of
from fitout.design_file.reader import read_text
from fitout.design_file.rules import validate
from fitout.design_file.schema import schema
from fitout.design_file.starter import new_design, starter

__all__ = [
    "cautions",
    "file_text",
    "located",
    "new_design",
    "read_file",
    "read_text",
    "rows_of",
    "schema",
    "show_faults",
    "starter",
    "suggestion",
    "validate",
    "with_offcuts",
]
