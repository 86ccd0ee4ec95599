"""How a step calls its parts, and lists, lengths and sentences in the builder's language."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from fitout.documents.wording import Wording
from fitout.model.assembly import Step


class Names:
    """What parts are called in one step: by number, and by name where that leaves doubt."""

    def __init__(self, wording: Wording, step: Step, numbers: Mapping[str, str]) -> None:
        self.wording = wording
        self.numbers = numbers
        self.say = wording.say
        self._module = step.parts[0].partition("/")[0] if step.parts else ""
        told = Counter(numbers.get(id_, "") for id_ in step.parts)
        # What stands beside under a number of its own needs no name.
        self._clear = {id_ for id_ in step.parts if told[numbers.get(id_, "")] == 1}

    def listed(self, ids: Iterable[str]) -> str:
        """`P03 and P04 left side`."""
        return self.joined([self.one(id_) for id_ in dict.fromkeys(ids)])

    def short(self, ids: Iterable[str]) -> str:
        """By number alone, for what is bought in equal pairs."""
        return self.joined(list(dict.fromkeys(self.numbers.get(i) or self.whole(i) for i in ids)))

    def one(self, id_: str) -> str:
        """Number and name of a part; the number alone where the step's parts list names it."""
        short = self.numbers.get(id_) if id_ in self._clear else None
        return short or self.whole(id_)

    def whole(self, id_: str) -> str:
        """Number and name of a part; the module's too where it is another one."""
        owner, _, name = id_.partition("/")
        if not name:
            return id_
        told = f"{self.numbers.get(id_, '')} {name}".strip()
        return told if owner == self._module else f"{told} ({owner})"

    def joined(self, some: Sequence[str]) -> str:
        """`a`, `a and b`, `a, b and c` in the builder's language."""
        if len(some) < 2:
            return "".join(some)
        return self.say("listed", some=", ".join(some[:-1]), last=some[-1])

    def far(self, mm: float, decimals: int = 0) -> str:
        """A length with its unit, without its sign."""
        return f"{self.wording.length(abs(mm), decimals)} {self.wording.unit}"
