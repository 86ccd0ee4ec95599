"""What earlier evaluations worked out, so that after a change only the rest is done again."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass, field
from typing import Any, TypeVar

from fitout.clearance.contact import PairCache
from fitout.modules.builds import Builds

Answer = TypeVar("Answer")


@dataclass(slots=True)
class Memory:
    """Modules, bodies, contacts and other answers of earlier evaluations; the caller keeps it.

    Everything is found again by the content of what it was worked out from, so a memory,
    whatever it holds, never changes a result. Holds at most `limit` answers, the oldest
    dropped first; `builds` and `pairs` have limits of their own.
    """

    limit: int = 5_000
    builds: Builds = field(default_factory=Builds)
    pairs: PairCache = field(default_factory=PairCache)
    answers: dict[Hashable, Any] = field(default_factory=dict)

    def recall(self, question: Hashable, work_out: Callable[[], Answer]) -> Answer:
        """The answer to a question, worked out if it was not asked before.

        The question must hold everything that the answer depends on.
        """
        if question not in self.answers:
            self.answers[question] = work_out()
            if len(self.answers) > self.limit:
                del self.answers[next(iter(self.answers))]
        answer: Answer = self.answers[question]
        return answer
