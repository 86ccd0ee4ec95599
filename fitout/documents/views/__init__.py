"""Bodies as lines on a drawing: what is seen from a direction, and what a plane cuts.

What belongs here: solids as they are looked at (`forms`), their visible lines (`hidden_lines`),
cut faces and hatches (`section`), all as 2-D lines in true mm, so that PDF and DXF carry
vectors. What does not: scales, sheets, dimensions and names (`drawings`, `guide`), and anything
that asks whether bodies fit (`clearance`).

To add a kind of view: a function of forms and an eye that returns polylines by the bodies'
ids; hold it against another kernel in a test.
"""
