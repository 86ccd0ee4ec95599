"""The assembly guide: numbered steps with a picture each, from bench to vehicle.

What belongs here: pictures in which what a step adds stands out without colour (`picture`),
what they show of each step (`staging`), a step's words (`step_blocks`), and the pages (`book`).
What does not: the order of the steps, who carries what and which fasteners go in (the checks'
assembly plan), and drawings with dimensions (`drawings`).

To add a page: a function of a dossier that returns pages, called in `book.assembly_pdf`; its
words in `words/guide.yaml`.
"""
