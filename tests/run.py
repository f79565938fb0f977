"""The tests: ``python3 tests/run.py``, all with ``--long``; more arguments go to pytest.

Standard library only: the first start makes ``.venv`` and installs what the tests need.
"""

from __future__ import annotations

import os
import runpy
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]


def main() -> int:
    """Run pytest in the checkout's environment, on all cores."""
    demo = runpy.run_path(str(ROOT / "demo" / "run.py"))
    python = demo["ready"]("test")
    cores = str(os.cpu_count() or 1)
    call = [str(python), "-m", "pytest", "-q", "-n", cores, "--dist", "worksteal", *sys.argv[1:]]
    # Else every process that a test starts would compile the whole program anew.
    keeping = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    return subprocess.run(call, cwd=ROOT, env=keeping).returncode


if __name__ == "__main__":
    sys.exit(main())
