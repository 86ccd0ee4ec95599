"""The one check command: format, lint, types, import rules, tests.

python tests/check.py             everything
python tests/check.py --no-tests  everything but the tests
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
STEPS = {
    "format": ["ruff", "format", "--check", "."],
    "lint": ["ruff", "check", "."],
    "types": ["mypy"],
    "import rules": ["lint-imports"],
}
TESTS = {"tests": ["pytest", "-n", "auto", "-q"]}


def main() -> int:
    """Run every step, even after one fails; returns how many failed."""
    steps = STEPS if "--no-tests" in sys.argv[1:] else {**STEPS, **TESTS}
    scripts = Path(sys.executable).parent
    failed = []
    for name, (tool, *arguments) in steps.items():
        print(f"== {name}", flush=True)
        beside = (scripts / script for script in (tool, f"{tool}.exe"))
        found = next((path for path in beside if path.exists()), Path(tool))
        if subprocess.run([str(found), *arguments], cwd=ROOT, check=False).returncode:
            failed.append(name)
    print(f"failed: {', '.join(failed)}" if failed else "all checks pass")
    return len(failed)


if __name__ == "__main__":
    sys.exit(main())
