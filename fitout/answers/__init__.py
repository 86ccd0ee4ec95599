"""What a builder asks about a design: why is it so, what would change it, what has changed.

What belongs here: every number of a design with its place in the file (`numbers`), what a
finding or a part hangs on and by how much (`why`), two designs side by side (`compare`), and
how all of it is told (`telling`). What does not: checks and formulas; they are run again, as
they are, with one number a little larger.

To answer a new question: one file, a function from evaluations to a record, and its words in
`telling`.
"""
