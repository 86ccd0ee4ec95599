"""The book of drawings: A3 sheets in a frame, each with a title block, as PDF and as DXF.

What belongs here: what is drawn and how large, one file for each kind of sheet. Each is a pure
function of a dossier that returns sketches (`sketch`); `book` puts them in frames, numbers
them and writes them. What does not: frames, tables, dimensions and files (`paper`), views of
solids (`views`), and any rule of carpentry or cutting: sheets tell what other rooms found.

To add a kind of sheet: write `xyz_sheets(dossier) -> tuple[Sketch, ...]` in a file of its own,
add it to `book.SHEETS` in the order of the pages, and its words to `words/drawings.yaml`.
"""
