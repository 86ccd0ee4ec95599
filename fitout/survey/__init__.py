"""From what the tape said to the bay as a solid.

`parameters` lists every measured number of a bay as one vector (value, tolerance); `bay`
makes the solid from the entries, a pure function of that vector; `room` answers how much
space there is (how wide between these heights, where does the wall run, how high is the
roof). `walls` and `meshes` are the geometry both stand on.

`adjusted` makes one bay of the entries and the tape notes: `points` names the places notes
refer to, `measures` says what a note measures, `note_faults` why one can't be used,
`supersession` which earlier readings a later one takes the place of,
`observations` makes them observations that `adjustment` adjusts and `snooping` tests;
`candidates` and `remeasure` say what to measure next, `surfaces` how walls move with numbers.

What does not belong here: anything that knows a module, and distances between bodies
(`clearance`). A new feature of the bay gets its entry in `model.design.BaySpec`, its words in
`words`, an obstacle in `bay`, and, if modules must avoid it when they are sized, a question in
`room`. A new kind of note gets its entry in `model.notes` and its meaning in `measures`.
"""
