"""The demos' books of drawings, each drawn once, and a dossier of hostile names."""

from __future__ import annotations

from functools import cache

import pytest
from dossiers import NAMES, dossier, dossier_of, told_in
from hostile import DESIGN, turned_hostile

from fitout import workflow
from fitout.documents.dossier import Dossier
from fitout.documents.drawings.book import drawings_pages
from fitout.documents.paper.marks import Page


@cache
def _book(name: str) -> tuple[Page, ...]:
    return drawings_pages(dossier(name))


@pytest.fixture(params=NAMES)
def demo(request: pytest.FixtureRequest) -> Dossier:
    return dossier(request.param)


@pytest.fixture(params=NAMES)
def book(request: pytest.FixtureRequest) -> tuple[Page, ...]:
    return _book(request.param)


@pytest.fixture
def wagon() -> Dossier:
    return dossier("touring-wagon")


@pytest.fixture
def sawn() -> Dossier:
    return dossier("canopy-tub")


@pytest.fixture
def small() -> Dossier:
    return dossier("small-hatch")


@pytest.fixture
def foreign(small: Dossier) -> Dossier:
    """In German and inches, first angle, with somebody's name."""
    return told_in(
        small, language="de", lengths="in", projection="first angle", drawn_by="J. Müller"
    )


@pytest.fixture(scope="session")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Dossier:
    path = tmp_path_factory.mktemp("hostile") / "design.yaml"
    path.write_text(DESIGN, encoding="utf-8", newline="\n")
    return turned_hostile(dossier_of(workflow.load(path)))
