"""A sheet of paper as data: marks in mm, written to PDF or DXF, and what draughting needs.

What belongs here: the marks (`marks`), text widths (`fonts`), the writers (`pdf`), and what all
sheets share, such as frames, tables and dimensions. What does not: anything that knows a
panel or a module; those rooms above make pages of marks.

Coordinates are mm from the sheet's lower left corner, x rightward, y upward; marks are painted
in their order, so a filled one hides what came before it.
"""
