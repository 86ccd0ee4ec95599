"""Formulas of mechanics, each with its source: plywood, plates, beams, slides, lids, water.

What belongs here: pure functions of numbers, in mm, N, N/mm² (MPa), kg and degrees Celsius,
whose docstring gives units, valid range, what they raise and the published source. What does
not: deciding whether a result is good enough (`checks`), rows of bought goods (`catalogue`),
which panel carries what (`modules`).

To add one, write the formula with its source, a test in tests/mechanics, and, where a
published worked value exists, one in tests/validation that names the publication.
"""
