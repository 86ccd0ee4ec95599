"""The demos evaluated, and as the documents see them: once for all tests of a process."""

from __future__ import annotations

import dataclasses
from functools import cache
from pathlib import Path

from fitout import workflow
from fitout.documents.dossier import Dossier
from fitout.model.design import Design
from fitout.workflow import Evaluation

DESIGNS = Path(__file__).parents[2] / "designs"
NAMES = tuple(sorted(path.stem for path in DESIGNS.glob("*.yaml")))


@cache
def evaluated(name: str) -> Evaluation:
    """A demo with everything worked out from it."""
    return workflow.evaluate(workflow.load(DESIGNS / f"{name}.yaml"))


@cache
def dossier(name: str) -> Dossier:
    """All of a demo's documents are made from this."""
    return _dossier(evaluated(name))


def dossier_of(design: Design) -> Dossier:
    """The dossier of any design that has room for its modules."""
    return _dossier(workflow.evaluate(design))


def _dossier(evaluation: Evaluation) -> Dossier:
    return workflow.dossier(evaluation, workflow.plan(evaluation))


def told_in(made: Dossier, **entries: object) -> Dossier:
    """The dossier with other entries under `documents`: `told_in(made, language="de")`."""
    documents = dataclasses.replace(made.design.documents, **entries)  # type: ignore[arg-type]
    return dataclasses.replace(made, design=dataclasses.replace(made.design, documents=documents))
