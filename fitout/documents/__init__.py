"""Writers: one file kind each, records in, bytes out. The only room that makes files.

What belongs here: DXF (`dxf`), tables (`tables`), findings as JSON (`findings`), pictures
(`pictures`, `sheet_pictures`, made of `view`, `svg` and `lettering`), solids (`solids`,
`step`), the survey as text and data (`survey_table`), the sheet to measure with as PDF
(`measuring_sheet`), and the one place that touches the disk (`export`). What does not: any
arithmetic about the fit-out itself.

A writer that needs a heavy library imports it at the top of its own file; the workflow
imports that writer only when it is wanted, so reading and checking stay quick. The same
records give the same bytes: no clock, no random names, nothing that follows hash order.

To add a writer: one file, one function `kind(records) -> bytes`, a test that reads the
bytes back with something other than the writer.
"""
