"""Templates 1:1 for marking by hand: holes to drill, contours to saw or scribe.

What belongs here: what of a part is worth a template (`content`), which cuttings of it show all
of that (`cuttings`), one cutting as it is printed (`tile`), pages with rulers (`sheet`), tiles
on pages and the map of them (`book`). What does not: dimensioned drawings (`drawings`).

All is seen on face A, x along the grain, from the datum: the lower left corner of the part's
bounding rectangle, as on its drawing and in its cut file.
"""
