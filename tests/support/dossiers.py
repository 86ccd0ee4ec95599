"""The demos as the documents see them, each worked out once for all tests of a process."""

from __future__ import annotations

import dataclasses
from functools import cache
from pathlib import Path

from fitout import workflow
from fitout.checks.order import steps
from fitout.documents.dossier import Dossier
from fitout.model.design import Design

DESIGNS = Path(__file__).parents[2] / "designs"
NAMES = tuple(sorted(path.stem for path in DESIGNS.glob("*.yaml")))


@cache
def dossier(name: str) -> Dossier:
    """All of a demo's documents are made from this."""
    return dossier_of(workflow.load(DESIGNS / f"{name}.yaml"))


def dossier_of(design: Design) -> Dossier:
    """The dossier of any design that has room for its modules."""
    evaluation = workflow.evaluate(design)
    catalogue = evaluation.setting.catalogue
    return Dossier(
        design=design,
        subject=evaluation.subject,
        cuts=workflow.plan(evaluation),
        findings=evaluation.findings,
        totals=evaluation.totals,
        steps=tuple(steps(evaluation.subject)),
        hardware=tuple(workflow.hardware(evaluation.fitout)),
        articles={**catalogue.goods, **catalogue.slides},
    )


def told_in(made: Dossier, **entries: object) -> Dossier:
    """The dossier with other entries under `documents`: `told_in(made, language="de")`."""
    documents = dataclasses.replace(made.design.documents, **entries)  # type: ignore[arg-type]
    return dataclasses.replace(made, design=dataclasses.replace(made.design, documents=documents))
