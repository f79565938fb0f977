"""Work that lasts, and tells which process does it."""

from __future__ import annotations

import os
import time
from pathlib import Path
from typing import Any


def lasting(told: str, watch: Any) -> None:
    """Write down which process this is, and do nothing for long."""
    del watch
    Path(told).write_text(str(os.getpid()), encoding="ascii")
    time.sleep(60)
