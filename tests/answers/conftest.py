"""One evaluated design for all that is asked about it."""

from pathlib import Path

import pytest

from fitout import workflow
from fitout.checks import Memory

DESIGN = Path(__file__).parents[2] / "designs" / "small-hatch.yaml"


@pytest.fixture(scope="session")
def design():
    return workflow.load(DESIGN)


@pytest.fixture(scope="session")
def evaluation(design):
    return workflow.evaluate(design, Memory())
