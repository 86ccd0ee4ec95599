"""From panels to what the saw or router needs: cut list, nested sheets, saw sequence.

What belongs here: which panels are the same part (`cut_list`), how a panel is laid on the
drawing board (`frame`), where the parts lie on sheets (`nest`), in which order a saw takes
them apart (`sequence`), and the independent judge of a plan (`verify`, with `distance`),
which shares no code with the engines. Nesting asks the simple rules first (`guillotine`,
`free`, with the `rooms` that notches give); then it searches (`search`) with engines that
fill one sheet (`staged` for a saw, `skyline` for a router, both on `beam`), combines what
they find (`cover`), and ends where a proof says there is no less (`bounds`). `task` is what
they are asked: blanks, and sheets of several sizes and prices or on hand. A router's sheets
are filled once more by true shapes (`shapes`, `shapes_fill`, `shapes_nest`; `strips` asks an
optional library), and bounded so (`shapes_bound`). What a round bit leaves of an inside
corner is relieved (`corners`); `tabs` and `holding` say what holds parts and sheet meanwhile;
`routable` what can't be cut.

What there is to cut from is `stocks`; where it has several sizes `stocked` asks the search.
`bars` cuts lengths, `yard` says what the timber yard cuts first, `purchases` what is bought
and left over, `coupon` makes the test piece for grooves and adapts them to what it measured.

What does not: files (see `fitout.documents`), the shape of any part (`fitout.modules`),
prices beyond the share of a sheet. Everything is pure: records in, records out.

To add an engine: write a function that fills one sheet, as `staged.fill` is, and one that
lays it out; name it where `nest` calls `search`, and let `verify` and `tests/support/filled`
judge it in the tests.
"""
