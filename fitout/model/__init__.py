"""The records every other room speaks: outlines, panels, items, joints, motions, findings.

Axes, as in ISO 8855, origin on the bay floor at the tailgate sill, on the centre line:

                 z up
                 |    x forward (towards the seats)
                 |   /
                 |  /
    y left ------+
                (origin: floor, sill, centre line)

Lengths are mm and carry no suffix; every other quantity names its unit (`mass_kg`,
`load_n`, `stress_mpa`, `angle_deg`). Records are frozen; nothing here reads a file,
prints, knows the time or keeps state. Nothing that can be computed is stored.

What belongs here: records that two or more rooms share, and the arithmetic of a single
record (the area of an outline, the mass of a panel). What does not: rules, formulas with
a source (`mechanics`), anything about a particular kind of module (`modules`).
"""
