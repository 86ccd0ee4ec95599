"""What is imported when: a check must start fast, so heavy libraries wait for the writers."""

import json
import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest

HEAVY = ("cadquery", "OCP", "ezdxf", "scipy", "shapely", "numba", "vtk", "matplotlib", "reportlab",
         "shtab")  # fmt: skip

DESIGN = """fitout: 1
name: Small
bay:
  sections: [{at: 0, widths: {0: 1200}, roof: 900}]
  front_wall: 1000
modules:
  drawers: {kind: drawers, width: 800}
"""

LOADED = """
import json, sys
heavy = {heavy!r}
loaded = sorted({{name.partition(".")[0] for name in sys.modules}} & set(heavy))
print(json.dumps(loaded), file=sys.stderr)
"""


def loaded_by(code: str, folder: Path, heavy: Sequence[str] = HEAVY) -> list[str]:
    """Which heavy libraries a fresh interpreter has loaded after running the code."""
    root = Path(__file__).parent.parent
    paths = [str(root), *filter(None, [os.environ.get("PYTHONPATH")])]
    done = subprocess.run(
        [sys.executable, "-c", code + LOADED.format(heavy=heavy)],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(paths), "PYTHONIOENCODING": "utf-8"},
        capture_output=True,
        encoding="utf-8",
        check=True,
    )
    found: list[str] = json.loads(done.stderr.splitlines()[-1])
    return found


def test_what_is_typed_is_understood_before_any_room_is_loaded(tmp_path: Path) -> None:
    """Help, completion and a wrong command need no arithmetic."""
    assert loaded_by("from fitout import cli\ncli.parser()", tmp_path, ("numpy", "yaml")) == []


def test_importing_the_package_loads_nothing_heavy(tmp_path: Path) -> None:
    assert loaded_by("import fitout", tmp_path) == []


@pytest.mark.parametrize("extra", ["", ", '--json'"])
def test_a_check_loads_nothing_heavy(tmp_path: Path, extra: str) -> None:
    (tmp_path / "small.yaml").write_text(DESIGN, encoding="utf-8", newline="\n")
    code = f"from fitout.cli import main\nassert main(['check', 'small.yaml'{extra}]) in (0, 1)\n"
    assert loaded_by(code, tmp_path) == []


def test_a_new_design_loads_nothing_heavy(tmp_path: Path) -> None:
    code = "from fitout.cli import main\nassert main(['new', 'van']) == 0\n"
    assert loaded_by(code, tmp_path) == []
    assert (tmp_path / "van.yaml").is_file()


def test_the_measure_sees_a_heavy_library(tmp_path: Path) -> None:
    assert loaded_by("import ezdxf", tmp_path) == ["ezdxf"]
