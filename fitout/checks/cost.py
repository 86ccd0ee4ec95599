"""What the fit-out costs, as far as prices are known."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fitout.checks.subject import Subject
from fitout.checks.verdict import fact, remark
from fitout.model.finding import Finding, Severity
from fitout.model.module import Module
from fitout.model.panel import Bar, Panel

SOURCE = "prices as entered; a part bears its blank's share of the sheet"


@dataclass(frozen=True, slots=True)
class Cost:
    """A sum of known prices, in the currency they were entered in, and what has no price."""

    known: float
    without_price: frozenset[str]

    def __add__(self, other: Cost) -> Cost:
        return Cost(self.known + other.known, self.without_price | other.without_price)


def cost_of(subject: Subject, module: Module) -> Cost:
    """Boards by share of the sheet, bars by length, items, slides and hardware by piece."""
    catalogue = subject.setting.catalogue
    priced: list[tuple[str, float | None, float]] = []
    for part in module.parts():
        if isinstance(part, Panel):
            length, width = part.outline.size
            share = length * width / (part.board.length * part.board.width)
            priced.append((part.board.key, part.board.price, share))
        elif isinstance(part, Bar):
            section = part.section
            priced.append((section.key, section.price, part.length / section.stock_length))
        elif not part.article and (part.price is not None or module.kind != "seat tray"):
            # The tools of a tray are the builder's already.
            priced.append((part.name, part.price, 1.0))
    goods = catalogue.goods
    for line in module.hardware:
        price = goods[line.article].price
        priced.append((line.article, price, float(line.quantity)))
    priced += [(duty.slide.key, duty.slide.price, 1.0) for duty in module.slides]
    known = sum(price * count for _, price, count in priced if price is not None)
    return Cost(known, frozenset(name for name, price, _ in priced if price is None))


def check_cost(subject: Subject) -> Iterator[Finding]:
    """The sum of what has a price, and what has none; nothing where no price was entered."""
    total = Cost(0.0, frozenset())
    for module in subject.fitout.modules:
        cost = cost_of(subject, module)
        total = total + cost
        if cost.known:
            sentence = f"The priced parts of {module.name} cost {cost.known:.2f}."
            yield fact("module cost", module.name, cost.known, "", sentence, SOURCE)
    name = subject.fitout.name
    if not total.known:
        sentence = (
            "The cost was not reckoned: no price is known. Enter `price` with boards and items, or "
            "in your own rows under `catalogue:`."
        )
        yield remark("cost", name, Severity.UNCHECKED, sentence)
        return
    missing = sorted(total.without_price)
    rest = f" Without a price: {', '.join(missing)}." if missing else ""
    sentence = f"What has a price costs {total.known:.2f}, boards by share of the sheet.{rest}"
    yield fact("cost", name, total.known, "", sentence, SOURCE)
