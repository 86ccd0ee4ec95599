"""The program in a process of its own."""

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def run(*arguments: str, cwd: Path, **environment: str) -> subprocess.CompletedProcess[bytes]:
    """The program in a process of its own."""
    env = {**os.environ, "PYTHONPATH": str(ROOT), **environment}
    command = [sys.executable, "-m", "fitout", *arguments]
    return subprocess.run(command, cwd=cwd, env=env, capture_output=True, check=False)
