"""Kinds of module: one file each, from a berth to panels, items, joints, hardware, motions.

A kind is an entry record (what the builder may write), `needs` (how much room it asks for)
and `build` (what it is made of), joined in a `Kind` at the foot of its file and listed in
`registry.KINDS`. `joinery` holds what carpenters share: screw rows, grooves, hand holes.

To add a kind: one file here, one line in `registry`, a test file beside the others. Build
from the berth and the `Setting` alone; ask `survey.room` where the vehicle is. Every part
that meets another says so with a joint, every screw is counted, every size not given is
worked out. What does not belong here: whether it is good enough (`checks`), where the
berth lies (`arrange`).
"""
