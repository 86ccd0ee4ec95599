"""Every broken design prints exactly what its `.expected` file holds."""

from pathlib import Path

import pytest

from fitout.design_file import cautions, read_file, show_faults
from fitout.model.fault import DesignError

BROKEN = Path(__file__).parent.parent / "golden" / "broken"
CASES = sorted(path.stem for path in BROKEN.glob("*.yaml"))


def printed(path, specs, catalogue_names):
    """What a builder sees: the faults, or the cautions of a design that could be read."""
    name = path.name
    text = path.read_text(encoding="utf-8", errors="replace") if path.is_file() else ""
    try:
        design = read_file(name, specs, catalogue_names)
    except DesignError as error:
        return show_faults(error, text, name)
    return show_faults(cautions(design), text, name)


@pytest.mark.parametrize("name", CASES)
def test_message_is_as_expected(name, specs, catalogue_names, same_as, monkeypatch):
    monkeypatch.chdir(BROKEN)
    shown = printed(Path(f"{name}.yaml"), specs, catalogue_names)
    assert shown, "a broken design must have something to say"
    same_as(BROKEN / f"{name}.expected", shown)


def test_every_expected_text_has_its_design():
    assert sorted(path.stem for path in BROKEN.glob("*.expected")) == CASES
    assert len(CASES) >= 25


def test_folder(tmp_path, specs, catalogue_names, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "van").mkdir()
    (tmp_path / "van" / "weekday.yaml").touch()
    assert printed(Path("van"), specs, catalogue_names) == (
        "van: found a folder; expected a design file, at most 1 MB of text. Known: weekday.yaml."
    )


def test_missing_file_names_the_nearest(tmp_path, specs, catalogue_names, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "weekday.yaml").touch()
    assert printed(Path("weekdya.yaml"), specs, catalogue_names) == (
        "weekdya.yaml: found no such file; expected a design file, at most 1 MB of text. "
        "Did you mean weekday.yaml?"
    )


def test_too_large(tmp_path, specs, catalogue_names, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "large.yaml").write_text("#" * 1_000_001, encoding="utf-8")
    assert printed(Path("large.yaml"), specs, catalogue_names) == (
        "large.yaml: found a file of 1000001 bytes; "
        "expected a design file, at most 1 MB of text. Is large.yaml a design?"
    )
