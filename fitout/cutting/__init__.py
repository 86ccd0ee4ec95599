"""From panels to what the saw or router needs: cut list, nested sheets, saw sequence.

What belongs here: which panels are the same part (`cut_list`), how a panel is laid on the
drawing board (`frame`), where the parts lie on sheets (`nest`, with the engines
`guillotine` and `free` and the `rooms` that notches give), in which order a saw takes them
apart (`sequence`), and the independent judge of a plan (`verify`, with `distance`), which
shares no code with the engines.

What does not: files (see `fitout.documents`), the shape of any part (`fitout.modules`),
prices beyond the share of a sheet. Everything is pure: records in, records out.

To add a placing engine: write a function from blanks and sheet size to layouts, as
`guillotine.fill` is, name its rules in `nest`, and let `verify` judge it in the tests.
"""
