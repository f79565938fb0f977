"""How many samples tests draw: few by default, all of them with ``--all``."""

from __future__ import annotations

import os

ALL = "MAILMERGE_TESTS_ALL"
"""Set in the environment of a run with ``--all``, for what is decided while tests are collected."""

LONG = "MAILMERGE_TESTS_LONG"
"""Set in the environment of a run with the tests that are marked as long."""


def drawn(usual: int, most: int) -> int:
    """Return how many samples to draw: by default, and with ``--all``."""
    return most if os.environ.get(ALL) else usual
