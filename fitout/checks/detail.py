"""A strength finding with what a summary needs of it: in few words what it is about, the cure."""

from __future__ import annotations

from dataclasses import dataclass

from fitout.model.finding import Finding


@dataclass(frozen=True, slots=True)
class Detail:
    """A finding, what it is about ("sag of top under a knee"), and what would cure it, if broken.

    The share of what is allowed is the finding's value over its limit.
    """

    finding: Finding
    what: str
    cure: str = ""

    @property
    def share(self) -> float | None:
        """How much of what is allowed is used; None where nothing was compared."""
        value, limit = self.finding.value, self.finding.limit
        return None if value is None or not limit else value / limit
