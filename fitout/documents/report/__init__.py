"""The report: one HTML file with the design to turn about in 3D and all that is known of it.

It opens from disk without a network. Everything is HTML first (`page`, and a file for each
section), so that it reads, prints and is searched without scripting; the script of our own
(`viewer/*.js`) then brings the picture to life from a block of data (`scene`). Names that a
builder gave go through `markup`, which escapes whatever is not markup already, and a policy
in the page lets no script or style run but the two that were written into it.

To add a section: one file with a function `xyz_section(dossier) -> Markup`, a line in
`page.SECTIONS`, its words in `words/report.yaml`.
"""

from fitout.documents.report.page import report_html

__all__ = ["report_html"]
