"""All that the documents of one design are made from, gathered once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fitout.checks.subject import Subject
from fitout.cutting.plan import CutPlan
from fitout.documents.wording import Wording
from fitout.model.assembly import Step
from fitout.model.design import Design
from fitout.model.documents import DocumentSpec
from fitout.model.finding import Finding
from fitout.model.hardware import Article, HardwareLine, Slide
from fitout.model.module import Fitout


@dataclass(frozen=True, slots=True, kw_only=True)
class Dossier:
    """A checked and nested design; `articles` are the rows of the catalogue by key."""

    design: Design
    subject: Subject
    cuts: CutPlan
    findings: tuple[Finding, ...]
    totals: Mapping[str, object]
    steps: tuple[Step, ...]
    hardware: tuple[HardwareLine, ...]
    articles: Mapping[str, Article | Slide]

    @property
    def fitout(self) -> Fitout:
        """The fit-out as designed."""
        return self.subject.fitout

    @property
    def spec(self) -> DocumentSpec:
        """Language, unit and paper."""
        return self.design.documents

    @property
    def wording(self) -> Wording:
        """Says texts and lengths as the builder reads them."""
        return Wording(self.spec.language, self.spec.lengths)

    @property
    def numbers(self) -> Mapping[str, str]:
        """The part number of each panel and bar by its id, as in the cut list."""
        found = {p.id: line.number for line in self.cuts.cut_list.lines for p in line.panels}
        found.update({b.id: line.number for line in self.cuts.cut_list.bars for b in line.bars})
        return found
