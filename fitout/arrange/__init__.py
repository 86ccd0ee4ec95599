"""From wishes to berths: a space in the bay for each module, by relation, not coordinate.

`wishes` is a one-direction puzzle of labelled inequalities and how it is solved (the
Cassowary method, through kiwisolver); `heights`, `depths` and `widths` pose it for the
three directions, in that order, since the seat leans with height and the walls curve with
both; `berths` runs them. Where wishes contradict each other the solution gives the least
total violation, and a `Conflict` names the wishes in it, the mm, and which could give.

What does not belong here: how a module is built in its berth (`modules`), and whether
the result has enough clearance (`checks`). A new relation is read in one of the three
directions' files.
"""

from fitout.arrange.berths import Arrangement, arrange, expanded
from fitout.arrange.wishes import Conflict

__all__ = ["Arrangement", "Conflict", "arrange", "expanded"]
