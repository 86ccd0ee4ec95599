"""Dossiers and pages that the report's tests share, and a browser where there is one."""

from collections.abc import Iterator
from pathlib import Path

import browser
import pytest
from dossiers import dossier, dossier_of
from hostile import DESIGN, Read, turned_hostile

from fitout import workflow
from fitout.documents.dossier import Dossier
from fitout.documents.report import report_html
from fitout.documents.report.scene import Scene, scene_of


@pytest.fixture(scope="session")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Dossier:
    path = tmp_path_factory.mktemp("hostile") / "design.yaml"
    path.write_text(DESIGN, encoding="utf-8", newline="\n")
    return turned_hostile(dossier_of(workflow.load(path)))


@pytest.fixture(scope="session")
def hostile_page(hostile: Dossier) -> bytes:
    return report_html(hostile)


@pytest.fixture(scope="session")
def hostile_read(hostile_page: bytes) -> Read:
    return Read(hostile_page)


@pytest.fixture(scope="session")
def hostile_scene(hostile: Dossier) -> Scene:
    return scene_of(hostile)


@pytest.fixture(scope="session")
def wagon() -> Dossier:
    return dossier("touring-wagon")


@pytest.fixture(scope="session")
def wagon_scene(wagon: Dossier) -> Scene:
    return scene_of(wagon)


@pytest.fixture(scope="session")
def wagon_file(wagon: Dossier, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("wagon") / "report.html"
    path.write_bytes(report_html(wagon))
    return path


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Iterator[browser.Page]:
    if browser.found() is None:
        pytest.skip("no Chromium here: apt-get install chromium")
    with browser.browser(tmp_path_factory.mktemp("profile")) as opened:
        yield opened
